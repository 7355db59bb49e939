// What the team writes down for one another: decisions, hand-overs, the watch list, answers to questioned
// orders.
#include "core/records/Checks.h"
#include "core/records/Validate.h"

namespace kitround {

Problems validate(const DecisionNote &note) {
    Checks checks;
    checks.requiredText("text", note.text, kLongestNotes);
    checks.known("noted_by_id", note.by);
    checks.moment("at", note.at);
    checks.endNotBefore("closed_on", note.at.date, note.closedOn);
    if (note.closedOn)
        checks.requiredText("outcome", note.outcome, kLongestNotes);
    else
        checks.text("outcome", note.outcome, kLongestNotes);
    return checks.take();
}

Problems validate(const HandOver &handOver) {
    Checks checks;
    checks.known("handed_by_id", handOver.handedBy);
    checks.text("note", handOver.note, kLongestNotes);
    checks.notEmpty("items", handOver.items.empty());
    std::vector<std::string> subjects;
    checks.each(handOver.items, [&](const HandOverItem &item) {
        subjects.push_back(item.subject);
        checks.requiredText("subject", item.subject, kLongestLine);
        checks.requiredText("what", item.what, kLongestNotes);
        if (item.acceptedBy.has_value() != item.acceptedAt.has_value())
            checks.add(ProblemCode::Conflict, "accepted_by_id", {"accepted_at"});
        if (item.acceptedBy == handOver.handedBy)
            checks.add(ProblemCode::NotAllowed, "accepted_by_id", {"own_hand_over"});
    });
    checks.noTwice("subject", subjects);
    return checks.take();
}

Problems validate(const WatchEntry &entry) {
    Checks checks;
    checks.known("patient_id", entry.patient);
    checks.moment("since", entry.since);
    if (entry.ownerUser.has_value() == entry.ownerNurse.has_value())
        checks.add(ProblemCode::Missing, "owner");
    const bool isClosed = entry.closedAt.has_value();
    if (isClosed)
        checks.requiredText("outcome", entry.outcome, kLongestNotes);
    else {
        checks.requiredText("next_step", entry.nextStep, kLongestLine);
        checks.notEmpty("next_on", !entry.nextOn);
    }
    checks.text("next_step", entry.nextStep, kLongestLine);
    checks.moment("closed_at", entry.closedAt);
    checks.endNotBefore("closed_at", entry.since, entry.closedAt);
    if (entry.snoozedTo)
        checks.requiredText("snooze_reason", entry.snoozeReason, kLongestLine);
    else
        checks.text("snooze_reason", entry.snoozeReason, kLongestLine);
    return checks.take();
}

Problems validate(const OrderAnswer &answer) {
    Checks checks;
    checks.known("drain_order_id", answer.order);
    checks.known("taken_by_id", answer.takenBy);
    checks.moment("at", answer.at);
    checks.requiredText("answered_by", answer.answeredBy, kLongestLine);
    checks.requiredText("words", answer.words, kLongestNotes);
    if (!answer.wasReadBack)
        checks.add(ProblemCode::NotAllowed, "was_read_back", {"not_read_back"});
    return checks.take();
}

} // namespace kitround
