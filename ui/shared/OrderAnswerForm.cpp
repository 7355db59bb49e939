#include "ui/shared/OrderAnswerForm.h"

#include "core/desk/words/OrderQuestionWords.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Session.h"

#include <algorithm>

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
    const bool isMaximum = question.why == safety::OrderDoubt::AboveCommon;
    RecordForm form(isMaximum ? QObject::tr("Is the maximum as prescribed?")
                              : QObject::tr("Does the order still hold?"),
                    window);
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

bool recordSignature(QWidget *window, Session &session, DrainOrderId id) {
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    const auto &orders = agency->snapshot().drainOrders;
    const auto stored = std::ranges::find(orders, id, &DrainOrder::id);
    if (stored == orders.end() || stored->signedOn)
        return false;
    const Date today = agency->today();
    RecordForm form(
        QObject::tr("Signed order: %1").arg(desk::nameWithCode(agency->index(), stored->catheter)), window);
    form.addNote(
        QObject::tr("The order since %1: %2. Only who signed and when is entered here; where what was "
                    "signed says something else, enter a new drain order.")
            .arg(desk::dayText(stored->start, today), desk::words(stored->pattern, today)));
    form.addText("prescriber", QObject::tr("Prescriber"), stored->prescriber);
    form.addDate("signed_on", QObject::tr("Signed on"), std::nullopt, today);
    form.setSaveText(QObject::tr("Keep the signature"));
    form.require({"signed_on"});
    form.onSave(
        [&] {
            DrainOrder order = *stored;
            order.prescriber = form.textOf("prescriber");
            order.signedOn = form.neededDateOf("signed_on");
            return order;
        },
        [&](const DrainOrder &order) -> std::optional<Problem> {
            const auto preview = session.desk().previewOrder(order);
            if (!preview)
                return preview.error();
            return session.write(QObject::tr("Entered the signature of an order"),
                                 [&](desk::Desk &d) { return d.acceptOrder(*preview); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
