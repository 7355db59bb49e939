#include "core/desk/words/OrderQuestionWords.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

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

} // namespace

QString questionText(const safety::OrderQuestion &question, const SnapshotIndex &agency) {
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
        }
        return QString();
    }();
    return Text::tr(
               "The order of %1 (%2) %3: confirm with the prescriber whether it still holds. Write down who "
               "answered and that it was read back, or enter the new order. This tool changes no order.")
        .arg(dayText(question.orderFrom, today), catheter ? catheterText(*catheter) : QString(), older);
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
