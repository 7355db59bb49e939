#pragma once
// One try to reach a home of a lot, and what was said there. By value: the list may be filled anew meanwhile.
#include "core/desk/views/RecallView.h"

class QWidget;

namespace kitround::ui {

class Session;

// Stores an answer; where the home says what the record does not have, the reason is asked for and kept with
// it.
std::optional<Problem> storeRecall(QWidget *window, Session &session, const QString &what,
                                   const RecallOutcome &outcome);
bool recordRecallCall(QWidget *window, Session &session, desk::RecallView view, desk::RecallHomeRow home);
// A home that is not on the list: which one, and the call.
bool addRecalledHome(QWidget *window, Session &session, const desk::RecallView &view);

} // namespace kitround::ui
