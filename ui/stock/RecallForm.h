#pragma once
// One try to reach a home of a lot, and what was said there.
#include "core/desk/views/RecallView.h"

class QWidget;

namespace kitround::ui {

class Session;

bool recordRecallCall(QWidget *window, Session &session, const desk::RecallView &view,
                      const desk::RecallHomeRow &home);

} // namespace kitround::ui
