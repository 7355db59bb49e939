#pragma once
// What is done about one home that a shortage reaches, by whom, and how it ended.
#include "core/desk/views/SupplyBoards.h"

class QWidget;

namespace kitround::ui {

class Session;

// A new action, or the open one with its outcome. True when something was stored.
bool recordShortageAction(QWidget *window, Session &session, const desk::ShortageRow &row);

} // namespace kitround::ui
