// What is done about a shortage, by whom, and how it ended.
#include "core/desk/tasks/DeskInner.h"

#include <algorithm>

namespace kitround::desk {

Result<ShortageAction> Desk::save(const ShortageAction &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<ShortageAction> {
        const auto &all = agency.snapshot().shortageActions;
        const auto before = std::ranges::find(all, record.id, &ShortageAction::id);
        if (before != all.end() && before->closedAt)
            return problem(ProblemCode::NotAllowed, "outcome", {"closed"});
        const LocalTime now = inner_->now();
        if (record.openedAt > now)
            return problem(ProblemCode::NotAllowed, "opened_at",
                           {"not_yet", toIso(record.openedAt), toIso(now)});
        if (record.closedAt && *record.closedAt > now)
            return problem(ProblemCode::NotAllowed, "closed_at",
                           {"not_yet", toIso(*record.closedAt), toIso(now)});
        for (const ShortageAction &other : all)
            if (other.id != record.id && !other.closedAt && other.item == record.item &&
                other.catheter == record.catheter)
                return problem(ProblemCode::Conflict, "action", {"action_open", other.owner});
        return unit.save(record);
    });
}

} // namespace kitround::desk
