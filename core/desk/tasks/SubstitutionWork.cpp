// One size for another at a home: who said so, that it was taught, and until when.
#include "core/desk/tasks/Deliveries.h"
#include "core/desk/tasks/Movements.h"
#include "core/supply/Substitutes.h"

#include <algorithm>

namespace kitround::desk {
namespace {

std::string codeOf(const SnapshotIndex &index, ItemId id) {
    const Item *item = index.item(id);
    return item ? item->code : std::string();
}

bool overlap(const Substitution &a, const Substitution &b) {
    return a.from < b.revertedOn.value_or(b.revertOn) && b.from < a.revertedOn.value_or(a.revertOn);
}

Result<void> checkNew(const SnapshotIndex &index, const Substitution &s) {
    const Catheter *catheter = index.catheter(s.catheter);
    const Item *item = index.item(s.item);
    if (!catheter)
        return unknown("catheter", "catheter_id", s.catheter);
    if (!item)
        return unknown("item", "item_id", s.item);
    if (!index.isInService(*catheter))
        return problem(ProblemCode::NotAllowed, "catheter_id", {"catheter_removed"});
    const DrainOrder *order = index.orderInForce(s.catheter, s.from);
    if (!order || !order->uses(s.item))
        return problem(ProblemCode::Conflict, "item_id", {"not_ordered", item->code});
    if (!order->allowsSubstitute)
        return problem(ProblemCode::NotAllowed, "item_id", {"order_forbids_substitute", item->code});
    if (std::ranges::find(item->substitutes, s.standIn, &Substitute::item) == item->substitutes.end())
        return problem(ProblemCode::Conflict, "stand_in_item_id",
                       {"no_stand_in", item->code, codeOf(index, s.standIn)});
    if (const Patient *patient = index.patient(catheter->patient))
        if (Problems bars = barred(index, *patient, *catheter, s.standIn); !bars.empty()) {
            for (Problem &bar : bars)
                bar.field = "stand_in_item_id";
            return joined(std::move(bars));
        }
    return {};
}

} // namespace

Result<void> checkSubstitution(const SnapshotIndex &index, CatheterId catheter, ItemId item, Date on) {
    using enum supply::SubstitutionState;
    const supply::StandsIn found = supply::standsInFor(index, catheter, item, on);
    switch (found.state) {
    case NotOne:
    case Recorded:
        return {};
    case OrderForbids:
        return problem(ProblemCode::NotAllowed, "item_id",
                       {"order_forbids_substitute", codeOf(index, found.ordered)});
    case NotRecorded:
        return problem(ProblemCode::NotAllowed, "item_id",
                       {"no_substitution", codeOf(index, item), codeOf(index, found.ordered)});
    }
    return {};
}

Result<Substitution> Desk::save(const Substitution &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Substitution> {
        const SnapshotIndex &index = agency.index();
        const Date today = inner_->now().date;
        const auto &all = agency.snapshot().substitutions;
        const auto before = std::ranges::find(all, record.id, &Substitution::id);
        if (before != all.end() && before->revertedOn)
            return problem(ProblemCode::NotAllowed, "reverted_on", {"closed"});
        // Closing only says what goes from now on; the order may long have changed.
        if (!record.revertedOn)
            if (Result<void> ok = checkNew(index, record); !ok)
                return ok.error();
        for (const auto &[field, day] :
             {std::pair("approved_on", record.approvedOn), std::pair("taught_on", record.taughtOn)})
            if (day > today)
                return problem(ProblemCode::OutOfRange, field, {day.toIso(), "", today.toIso()});
        // One that has not begun is taken back on its first day.
        const Date lastBack = std::max(today, record.from);
        if (record.revertedOn && *record.revertedOn > lastBack)
            return problem(ProblemCode::OutOfRange, "reverted_on",
                           {record.revertedOn->toIso(), "", lastBack.toIso()});
        for (const Substitution &other : all)
            if (other.id != record.id && other.catheter == record.catheter && other.item == record.item &&
                !record.revertedOn && overlap(other, record))
                return problem(ProblemCode::Conflict, "from_on", {"substitution_open", other.from.toIso()});
        return unit.save(record);
    });
}

} // namespace kitround::desk
