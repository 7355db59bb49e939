#include "core/desk/words/OrderQuestionWords.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/safety/Limits.h"

#include <string_view>

namespace kitround::desk {
namespace {

QString lackText(std::string_view field) {
    if (field == "most_per_session_ml")
        return Text::tr("no maximum for one session");
    if (field == "most_per_day")
        return Text::tr("no maximum for a day or a week");
    if (field == "prescriber")
        return Text::tr("no prescriber");
    if (field == "signed_on")
        return Text::tr("no signature");
    return Text::tr("no entry under “%1”").arg(fieldName(std::string(field)));
}

// "allows at most 2,500 mL in one session, above the common limit ..."; empty where it does not.
QString aboveCommonText(const safety::OrderQuestion &question, const SnapshotIndex &agency) {
    const Catheter *catheter = agency.catheter(question.catheter);
    if (!catheter)
        return {};
    for (const DrainOrder *order : agency.ordersOf(catheter->id))
        if (order->id == question.order && safety::isAboveCommon(*order, *catheter))
            return Text::tr("allows at most %1 mL in one session, %2")
                .arg(numberText(order->mostPerSession->count()),
                     commonLimitText(safety::commonMaximum(catheter->site), catheter->site));
    return {};
}

QString maximumQuestion(const safety::OrderQuestion &question, const SnapshotIndex &agency) {
    const Catheter *catheter = agency.catheter(question.catheter);
    return Text::tr(
               "The order of %1 (%2) %3. Compare it with the written order, call the prescriber and have "
               "it read back. Write down who answered, or enter the new order. It stays as prescribed; "
               "this tool changes no order.")
        .arg(dayText(question.orderFrom, agency.snapshot().asOf),
             catheter ? catheterText(*catheter) : QString(), aboveCommonText(question, agency));
}

} // namespace

QString questionText(const safety::OrderQuestion &question, const SnapshotIndex &agency) {
    if (question.why == safety::OrderDoubt::AboveCommon)
        return maximumQuestion(question, agency);
    const Date today = agency.snapshot().asOf;
    const Catheter *catheter = agency.catheter(question.catheter);
    const QString on = dayText(question.on, today);
    const QString older = [&] {
        switch (question.why) {
        case safety::OrderDoubt::CatheterChanged:
            return Text::tr("is older than the catheter change of %1").arg(on);
        case safety::OrderDoubt::OtherRemoved:
            return Text::tr("is older than the removal of another catheter on %1").arg(on);
        case safety::OrderDoubt::CameHome:
            return Text::tr("is older than the stay that ended with the return of %1").arg(on);
        case safety::OrderDoubt::AboveCommon:
            break; // told above
        }
        return QString();
    }();
    const QString text =
        Text::tr(
            "The order of %1 (%2) %3: confirm with the prescriber whether it still holds. Write down who "
            "answered and that it was read back, or enter the new order. This tool changes no order.")
            .arg(dayText(question.orderFrom, today), catheter ? catheterText(*catheter) : QString(), older);
    const QString most = aboveCommonText(question, agency); // one answer settles both
    return most.isEmpty() ? text : text + u' ' + Text::tr("It %1: have that read back too.").arg(most);
}

QString answerText(DrainOrderId order, const SnapshotIndex &agency) {
    const OrderAnswer *last = nullptr;
    for (const OrderAnswer &answer : agency.snapshot().orderAnswers)
        if (answer.order == order && (!last || last->at <= answer.at))
            last = &answer;
    if (!last)
        return {};
    QString taken;
    for (const User &user : agency.snapshot().users)
        if (user.id == last->takenBy)
            taken = fromStd(user.name);
    return Text::tr("Confirmed %1 by %2, read back, taken by %3: %4")
        .arg(momentText(last->at), fromStd(last->answeredBy), taken, fromStd(last->words));
}

QString unsaidText(const DrainOrder &order) {
    QStringList lacks;
    for (const std::string_view field : safety::unsaidBy(order))
        lacks << lackText(field);
    if (lacks.isEmpty())
        return {};
    return Text::tr("Not complete: the order has %1. Ask the prescriber; nothing is filled in until then.")
        .arg(lacks.join(QStringLiteral(", ")));
}

} // namespace kitround::desk
