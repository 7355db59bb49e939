#pragma once
// One drain as the home told it. What is over a limit is stored and called about, never refused.
#include "core/desk/Desk.h"

#include <optional>
#include <vector>

class QWidget;

namespace kitround::ui {

class Session;

// What the entry raised (also where that is nothing), or no value where the form was left. With `old` set the
// entry is a correction of it.
std::optional<std::vector<CallItem>> logDrain(QWidget *window, Session &session, PatientId patient,
                                              CatheterId preset, const DrainEntry *old);

} // namespace kitround::ui
