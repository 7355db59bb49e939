#pragma once
// A new version of a drain order: entered as the prescriber wrote it, shown with what it changes, saved from
// its date.
#include "core/records/Drains.h"

class QWidget;

namespace kitround::ui {

class Session;

// `before` is the order in force, or nullptr. True when stored.
bool newDrainOrder(QWidget *window, Session &session, CatheterId catheter, const DrainOrder *before);

} // namespace kitround::ui
