// What the homes of a lot said.
#include "core/desk/tasks/DeskInner.h"
#include "core/supply/Recall.h"

#include <algorithm>

namespace kitround::desk {

Result<RecallOutcome> Desk::recordRecall(const RecallOutcome &outcome) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<RecallOutcome> {
        if (!agency.index().lot(outcome.lot))
            return unknown("lot", "lot_id", outcome.lot);
        if (!agency.index().catheter(outcome.catheter))
            return unknown("catheter", "catheter_id", outcome.catheter);
        if (outcome.at > inner_->now())
            return problem(ProblemCode::OutOfRange, "at", {toIso(outcome.at), "", toIso(inner_->now())});
        // None of it set aside is another answer: a home is not reached by a number that nobody heard.
        if (outcome.answer == RecallAnswer::SetAside && outcome.setAside.isZero())
            return problem(ProblemCode::Missing, "set_aside");
        // On hold and long discharged alike: whoever had the lot can be told.
        const auto movements = inner_->file->movementsOfLot(outcome.lot);
        if (!movements)
            return movements.error();
        const supply::LotTrace trace = supply::traceLot(agency.index(), outcome.lot, *movements);
        const auto home = std::ranges::find(trace.homes, outcome.catheter, &supply::RecallHome::catheter);
        if (home == trace.homes.end())
            return problem(ProblemCode::Conflict, "catheter_id", {"lot_never_there"});
        // A log may name a lot that no movement brought; then only the person on the phone knows.
        const Eaches sent = home->received + home->onTheWay;
        if (sent.count() > 0 && outcome.setAside > sent)
            return problem(ProblemCode::OutOfRange, "set_aside",
                           {std::to_string(outcome.setAside.count()), "0", std::to_string(sent.count())});
        return unit.save(outcome);
    });
}

} // namespace kitround::desk
