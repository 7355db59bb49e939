// What the clerk keeps beside the ledger.
#include "core/records/Checks.h"
#include "core/records/Validate.h"

namespace kitround {

Problems validate(const RecallOutcome &outcome) {
    Checks checks;
    checks.known("lot_id", outcome.lot);
    checks.known("catheter_id", outcome.catheter);
    checks.moment("at", outcome.at);
    checks.requiredText("told_by", outcome.toldBy, kLongestLine);
    if (isReached(outcome.answer))
        checks.requiredText("spoke_with", outcome.spokeWith, kLongestLine);
    else
        checks.text("spoke_with", outcome.spokeWith, kLongestLine);
    checks.countTo("set_aside", outcome.setAside.count(), 10'000);
    if (outcome.answer != RecallAnswer::SetAside && outcome.setAside.count() > 0)
        checks.add(ProblemCode::Conflict, "set_aside", {"answer"});
    checks.countTo("replaced", outcome.replaced.count(), 10'000);
    checks.text("note", outcome.note, kLongestNotes);
    return checks.take();
}

Problems validate(const Substitution &s) {
    Checks checks;
    checks.known("catheter_id", s.catheter);
    checks.known("item_id", s.item);
    checks.known("stand_in_item_id", s.standIn);
    if (s.item.isSet() && s.item == s.standIn)
        checks.add(ProblemCode::Conflict, "stand_in_item_id", {"item_id"});
    checks.requiredText("approved_by", s.approvedBy, kLongestLine);
    checks.requiredText("taught_by", s.taughtBy, kLongestLine);
    checks.endNotBefore("from_on", s.approvedOn, s.from); // nothing goes before somebody said yes
    checks.endAfter("revert_on", s.from, s.revertOn);
    checks.endNotBefore("reverted_on", s.from, s.revertedOn);
    checks.text("note", s.note, kLongestNotes);
    return checks.take();
}

Problems validate(const ShortageAction &action) {
    Checks checks;
    checks.known("item_id", action.item);
    checks.requiredText("action", action.action, kLongestNotes);
    checks.requiredText("owner", action.owner, kLongestLine);
    checks.moment("opened_at", action.openedAt);
    checks.moment("closed_at", action.closedAt);
    checks.endNotBefore("closed_at", action.openedAt, action.closedAt);
    if (action.closedAt)
        checks.requiredText("outcome", action.outcome, kLongestNotes);
    else
        checks.text("outcome", action.outcome, kLongestNotes);
    return checks.take();
}

Problems validate(const HomeReturn &r) {
    Checks checks;
    checks.known("catheter_id", r.catheter);
    checks.known("item_id", r.item);
    checks.moment("at", r.at);
    checks.range("quantity", r.quantity.count(), 1, 10'000);
    if (r.sealed.isNegative())
        checks.add(ProblemCode::Negative, "sealed", {std::to_string(r.sealed.count())});
    else if (r.sealed > r.quantity)
        checks.range("sealed", r.sealed.count(), 0, r.quantity.count());
    checks.countTo("write_off_minor", r.writeOff.count(), 1'000'000'000);
    checks.requiredText("decided_by", r.decidedBy, kLongestLine);
    checks.text("note", r.note, kLongestNotes);
    return checks.take();
}

Problems validate(const CarPar &par) {
    Checks checks;
    checks.known("nurse_id", par.nurse);
    checks.known("item_id", par.item);
    checks.countTo("par", par.par.count(), 1000);
    return checks.take();
}

} // namespace kitround
