#pragma once
// One try to reach a home of a lot, and what was said there. By value: the list may be filled anew meanwhile.
#include "core/desk/views/RecallView.h"

class QWidget;

namespace kitround::ui {

class Session;

bool recordRecallCall(QWidget *window, Session &session, desk::RecallView view, desk::RecallHomeRow home);

} // namespace kitround::ui
