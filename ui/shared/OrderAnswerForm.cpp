#include "ui/shared/OrderAnswerForm.h"

#include "core/desk/words/OrderQuestionWords.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Session.h"

namespace kitround::ui {

void addAnswerFields(RecordForm &form, const std::string &suffix) {
    form.addText("answered_by" + suffix, QObject::tr("Who answered for the prescriber"), {});
    form.addLongText("words" + suffix, QObject::tr("What was said"), {});
    form.addCheck("was_read_back" + suffix, QObject::tr("The answer was read back and agreed to"), false);
}

std::optional<OrderAnswer> answerOf(const RecordForm &form, DrainOrderId order, LocalTime at,
                                    const std::string &suffix) {
    OrderAnswer answer;
    answer.order = order;
    answer.at = at;
    answer.answeredBy = form.textOf("answered_by" + suffix);
    answer.words = form.textOf("words" + suffix);
    answer.wasReadBack = form.checkOf("was_read_back" + suffix);
    if (answer.answeredBy.empty() && answer.words.empty())
        return std::nullopt;
    return answer;
}

bool recordOrderAnswer(QWidget *window, Session &session, safety::OrderQuestion question) {
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    RecordForm form(QObject::tr("Does the order still hold?"), window);
    form.addNote(desk::questionText(question, agency->index()));
    addAnswerFields(form);
    form.addNote(
        QObject::tr("Only where the order holds as it is. Where the prescriber changed it, enter the "
                    "new order under Catheters and orders; that answers the question too."));
    form.setSaveText(QObject::tr("Keep the answer"));
    form.require({"answered_by", "words"});
    form.onSave(
        [&] {
            OrderAnswer empty;
            empty.order = question.order;
            empty.at = session.now();
            return answerOf(form, question.order, session.now()).value_or(empty);
        },
        [&](const OrderAnswer &answer) {
            return session.write(QObject::tr("Kept the prescriber's answer"),
                                 [&](desk::Desk &d) { return d.recordOrderAnswer(answer); });
        });
    return form.exec() == QDialog::Accepted;
}

bool recordOrderAnswer(QWidget *window, Session &session, DrainOrderId order) {
    for (const safety::OrderQuestion &question : safety::orderQuestions(session.agency()->index()))
        if (question.order == order)
            return recordOrderAnswer(window, session, question);
    return false;
}

} // namespace kitround::ui
