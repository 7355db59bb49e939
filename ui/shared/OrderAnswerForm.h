#pragma once
// What the prescriber said to a questioned order, with who spoke and that it was read back; and the day on
// which an order was signed.
#include "core/desk/words/OrderQuestionWords.h"
#include "ui/shared/RecordForm.h"

namespace kitround::ui {

class Session;

// The fields of one answer; their names end in `suffix` where a form asks about several orders.
void addAnswerFields(RecordForm &form, const std::string &suffix = {});
// Nothing where neither who nor what is filled in.
std::optional<OrderAnswer> answerOf(const RecordForm &form, DrainOrderId order, LocalTime at,
                                    const std::string &suffix = {});
// True when stored.
bool recordOrderAnswer(QWidget *window, Session &session, safety::OrderQuestion question);
bool recordOrderAnswer(QWidget *window, Session &session, DrainOrderId order);
// Of an order that is entered without one; the order stays as it is otherwise. True when stored.
bool recordSignature(QWidget *window, Session &session, DrainOrderId order);

} // namespace kitround::ui
