// What the homes of a lot said.
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/words/SupplyWords.h"
#include "core/supply/Recall.h"

#include <algorithm>

namespace kitround::desk {

namespace {

// What the person on the phone says against the record: a log may name a lot that no movement brought, a lot
// may have been written down wrongly when it was handed over.
std::optional<Problem> beyondRecord(const supply::LotTrace &trace, const RecallOutcome &outcome) {
    const auto home = std::ranges::find(trace.homes, outcome.catheter, &supply::RecallHome::catheter);
    if (home == trace.homes.end())
        return problem(ProblemCode::Conflict, "catheter_id", {"lot_never_there"});
    const Eaches sent = home->received + home->onTheWay;
    if (sent.count() > 0 && outcome.setAside > sent)
        return problem(
            ProblemCode::Conflict, "set_aside",
            {"more_aside_than_sent", std::to_string(outcome.setAside.count()), std::to_string(sent.count())});
    return std::nullopt;
}

} // namespace

Result<RecallOutcome> Desk::recordRecall(const RecallOutcome &outcome, const std::string &whyBeyond) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<RecallOutcome> {
        if (!agency.index().lot(outcome.lot))
            return unknown("lot", "lot_id", outcome.lot);
        if (!agency.index().catheter(outcome.catheter))
            return unknown("catheter", "catheter_id", outcome.catheter);
        if (outcome.at > inner_->now())
            return problem(ProblemCode::NotAllowed, "at",
                           {"not_yet", toIso(outcome.at), toIso(inner_->now())});
        // None of it set aside is another answer: a home is not reached by a number that nobody heard.
        if (outcome.answer == RecallAnswer::SetAside && outcome.setAside.isZero())
            return problem(ProblemCode::Missing, "set_aside");
        // On hold and long discharged alike: whoever had the lot can be told.
        const auto movements = inner_->file->movementsOfLot(outcome.lot);
        if (!movements)
            return movements.error();
        const supply::LotTrace trace = supply::traceLot(agency.index(), outcome.lot, *movements);
        RecallOutcome kept = outcome;
        if (const auto beyond = beyondRecord(trace, outcome)) {
            if (whyBeyond.empty())
                return *beyond;
            kept.note += (kept.note.empty() ? "" : "\n") + beyondTheRecord(whyBeyond);
        }
        return unit.save(kept);
    });
}

} // namespace kitround::desk
