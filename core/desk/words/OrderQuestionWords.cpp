#include "core/desk/words/OrderQuestionWords.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {

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
    QStringList names;
    for (const std::string_view field : safety::unsaidBy(order))
        names << fieldName(std::string(field));
    if (names.isEmpty())
        return {};
    return Text::tr("Not complete: the order does not say “%1”. Ask the prescriber; nothing is filled in "
                    "until then.")
        .arg(names.join(Text::tr("”, “")));
}

} // namespace kitround::desk
