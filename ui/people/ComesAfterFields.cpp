#include "ui/people/ComesAfterFields.h"

#include "core/desk/tasks/ComesAfterRules.h"
#include "core/desk/words/VisitWords.h"

#include <QObject>

namespace kitround::ui {
namespace {

bool isSameTarget(const ComesAfter &a, const ComesAfter &b) {
    return a.order == b.order && a.visit == b.visit;
}

} // namespace

ComesAfterFields::ComesAfterFields(RecordForm &form, const desk::Agency &agency, PatientId patient, For what,
                                   const ComesAfter &after, std::optional<VisitOrderId> self)
    : form_(form) {
    std::vector<Choice> choices{{QObject::tr("Nothing: it stands on its own"), 0}};
    targets_.push_back({});
    const auto offer = [&](const QString &text, const ComesAfter &target) {
        choices.push_back({text, static_cast<qint64>(targets_.size())});
        targets_.push_back(target);
    };
    const desk::MayBeFollowed offered = desk::mayBeFollowed(agency, patient, self, after);
    for (const VisitOrder *order : offered.orders) {
        ComesAfter target;
        target.order = order->id;
        offer(desk::visitOrderName(*order), target);
    }
    if (what == For::AddedVisit)
        for (const Visit *visit : offered.visits) {
            ComesAfter target;
            target.visit = visit->id;
            offer(desk::addedVisitName(*visit), target);
        }
    qint64 chosen = 0;
    for (std::size_t i = 1; i < targets_.size(); ++i)
        if (isSameTarget(targets_[i], after))
            chosen = static_cast<qint64>(i);
    QComboBox *target = form_.addChoice("after_order_id", QObject::tr("Comes after"), choices, chosen);
    form_.addChoice(
        "after_unit", QObject::tr("Counted in"),
        {{QObject::tr("days, from day to day"), qint64(GapUnit::Day)},
         {QObject::tr("minutes on one day, from the end of the one before"), qint64(GapUnit::Minute)}},
        qint64(after.unit));
    const auto number = [&](int value) {
        return after.isSet() ? std::optional<std::int64_t>(value) : std::nullopt;
    };
    form_.addNumber("after_least", QObject::tr("At least"), number(after.least), QObject::tr("after it"));
    form_.addNumber("after_most", QObject::tr("At most"), number(after.most), QObject::tr("after it"));
    form_.addCheck("after_by_another", QObject::tr("By another nurse than that one"), after.byAnother);
    form_.require({"after_least", "after_most"});
    QObject::connect(target, &QComboBox::currentIndexChanged, &form_, [this] { showFields(); });
    showFields();
}

void ComesAfterFields::showFields() {
    const bool isSet = form_.choiceOf("after_order_id") > 0;
    for (const char *field : {"after_unit", "after_least", "after_most", "after_by_another"})
        form_.setFieldShown(field, isSet);
}

ComesAfter ComesAfterFields::read() {
    ComesAfter after = targets_[static_cast<std::size_t>(form_.choiceOf("after_order_id"))];
    if (!after.isSet())
        return after;
    after.unit = static_cast<GapUnit>(form_.choiceOf("after_unit"));
    after.least = static_cast<int>(form_.neededNumberOf("after_least"));
    after.most = static_cast<int>(form_.neededNumberOf("after_most"));
    after.byAnother = form_.checkOf("after_by_another");
    return after;
}

} // namespace kitround::ui
