// Nurses and their hours, visits, plans, calls.
#include "core/records/Checks.h"
#include "core/records/Validate.h"

#include <algorithm>
#include <limits>

namespace kitround {
namespace {

// A night on call ends in the morning: its end may stand before its start.
void checkHours(Checks &checks, Minutes from, Minutes to, bool isOnCall) {
    if (isOnCall && to.count() > 0 && to <= from)
        checks.minuteOfDay("from", from);
    else
        checks.stretch("from", from, "to", to);
}

void checkBreak(Checks &checks, const ShiftPattern &pattern) {
    checks.countTo("break_min", pattern.breakLength.count(), 480);
    if (pattern.breakLength <= Minutes::of(0))
        return;
    if (pattern.breakFrom == Minutes() && pattern.breakTo == Minutes()) { // left empty, both
        checks.add(ProblemCode::Conflict, "break_from", {"break_hours"});
        return;
    }
    checks.stretch("break_from", pattern.breakFrom, "break_to", pattern.breakTo);
    if (pattern.breakFrom < pattern.from || pattern.breakTo > pattern.to)
        checks.add(ProblemCode::Conflict, "break_from", {"from", "to"});
    else if (pattern.breakTo - pattern.breakFrom < pattern.breakLength)
        checks.add(ProblemCode::Conflict, "break_min", {"break_from", "break_to"});
}

void checkReason(Checks &checks, const VisitSegment &segment) {
    checks.text("reason", segment.reason, kLongestLine);
    // The notation writes a reason in brackets after PRN and could not read anything else back.
    const bool isPlain = std::ranges::none_of(segment.reason, [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return c == '(' || c == ')' || byte < 0x20U || byte == 0x7fU;
    });
    const bool isTrimmed =
        segment.reason.empty() || (segment.reason.front() != ' ' && segment.reason.back() != ' ');
    if (!isPlain || !isTrimmed)
        checks.add(ProblemCode::NotAllowed, "reason", {segment.reason});
    if (!segment.isAsNeeded && !segment.reason.empty())
        checks.add(ProblemCode::Conflict, "reason", {"as_needed"});
}

void checkSegment(Checks &checks, const VisitSegment &segment) {
    checkReason(checks, segment);
    if (segment.isAsNeeded) {
        checks.range("as_needed_visits", segment.mostPerWeek, 1, kMostAsNeededVisits);
        checks.range("weeks", segment.weeks, 0, 0);
        return;
    }
    checks.range("least_per_week", segment.leastPerWeek, 1, kMostVisitsAWeek);
    checks.range("most_per_week", segment.mostPerWeek, std::clamp(segment.leastPerWeek, 1, kMostVisitsAWeek),
                 kMostVisitsAWeek);
    checks.range("weeks", segment.weeks, 1, kMostSegmentWeeks);
}

void checkGaps(Checks &checks, const VisitOrder &order) {
    if (order.leastGap)
        checks.range("least_gap_days", order.leastGap->count(), 0, 180);
    if (order.mostGap)
        checks.range("most_gap_days", order.mostGap->count(), 0, 180);
    if (order.leastGap && order.mostGap && *order.mostGap < *order.leastGap)
        checks.add(ProblemCode::Conflict, "most_gap_days", {"least_gap_days"});
}

// How far after; which visit it comes after is looked at where that is known.
void checkAfter(Checks &checks, const ComesAfter &after) {
    if (!after.isSet()) {
        if (after.least != 0 || after.most != 0)
            checks.add(ProblemCode::Missing, "after_order_id");
        return;
    }
    if (after.order && after.visit)
        checks.add(ProblemCode::Conflict, "after_visit_id", {"after_order_id"});
    const int most = after.unit == GapUnit::Day ? 28 : 720;
    checks.range("after_least", after.least, 0, most);
    checks.range("after_most", after.most, std::clamp(after.least, 0, most), most);
}

void checkPlanned(Checks &checks, const Visit &visit) {
    const bool needsPlace = visit.status == VisitStatus::Drafted || visit.status == VisitStatus::Published;
    if (needsPlace) {
        checks.notEmpty("start_min", !visit.startAt);
        checks.notEmpty("nurse_id", !visit.nurse);
    }
    if (needsPlace || visit.status == VisitStatus::Done)
        checks.notEmpty("on", !visit.on);
    if (visit.startAt)
        checks.minuteOfDay("start_min", *visit.startAt);
    if (visit.secondNurse && visit.secondNurse == visit.nurse)
        checks.add(ProblemCode::Conflict, "second_nurse_id", {"nurse_id"});
}

// What call items and phone calls share.
void checkClosing(Checks &checks, LocalTime from, const std::optional<LocalTime> &closedAt,
                  const std::string &owner, const std::string &outcome) {
    checks.moment("closed_at", closedAt);
    checks.endNotBefore("closed_at", from, closedAt);
    checks.text("owner", owner, kLongestLine);
    checks.text("outcome", outcome, kLongestNotes);
}

} // namespace

Problems validate(const Nurse &nurse) {
    Checks checks;
    checks.requiredText("code", nurse.code, kLongestCode);
    checks.requiredText("family_name", nurse.familyName, kLongestLine);
    checks.text("given_name", nurse.givenName, kLongestLine);
    checks.text("phone", nurse.phone, kLongestCode);
    checks.languages(nurse.languages);
    std::vector<Skill> skills;
    for (const SkillGrant &grant : nurse.skills)
        skills.push_back(grant.skill);
    checks.noTwice("skills", skills);
    checks.address(nurse.base);
    checks.countTo("contract_min", nurse.contractPerWeek.count(), 7 * 1440);
    checks.range("most_visits_a_day", nurse.mostVisitsADay, 1, 40);
    checks.countTo("car_space_ml", nurse.carSpaceMl, 100'000'000);
    return checks.take();
}

Problems validate(const ShiftPattern &pattern) {
    Checks checks;
    checks.known("nurse_id", pattern.nurse);
    checkHours(checks, pattern.from, pattern.to, pattern.isOnCall);
    checkBreak(checks, pattern);
    checks.endNotBefore("valid_to", pattern.validFrom, pattern.validTo);
    return checks.take();
}

Problems validate(const ExtraShift &shift) {
    Checks checks;
    checks.known("nurse_id", shift.nurse);
    checkHours(checks, shift.from, shift.to, shift.isOnCall);
    return checks.take();
}

Problems validate(const TimeOff &off) {
    Checks checks;
    checks.known("nurse_id", off.nurse);
    checks.endAfter("to", off.from, off.to);
    checks.text("note", off.note, kLongestNotes);
    checks.text("decision_note", off.decisionNote, kLongestNotes);
    if (off.status == LeaveStatus::Requested && (off.decidedBy || off.decidedAt))
        checks.add(ProblemCode::Conflict, "decided_by_id", {"status"});
    return checks.take();
}

Problems validate(const KeptWhatIf &kept) {
    Checks checks;
    checks.requiredText("name", kept.name, kLongestLine);
    checks.text("said_then", kept.saidThen, kLongestNotes);
    checks.countTo("referrals", kept.referrals, 1000);
    if (kept.from && kept.to)
        checks.stretch("from", *kept.from, "to", *kept.to);
    if (kept.awayFrom && kept.awayTo)
        checks.endAfter("away_to", *kept.awayFrom, *kept.awayTo);
    if (kept.kind == WhatIfKind::Setting && !settingNamed(kept.setting))
        checks.add(ProblemCode::UnknownChoice, "setting", {kept.setting, "a setting's name"});
    return checks.take();
}

Problems validate(const IntakeClosure &closure) {
    Checks checks;
    checks.endNotBefore("to", closure.from, closure.to);
    checks.requiredText("reason", closure.reason, kLongestLine);
    return checks.take();
}

Problems validate(const VisitOrder &order) {
    Checks checks;
    checks.known("patient_id", order.patient);
    checks.endNotBefore("end", order.start, order.end);
    checks.notEmpty("segments", order.segments.empty());
    if (order.segments.size() > kMostSegments)
        checks.range("segments", static_cast<std::int64_t>(order.segments.size()), 1, kMostSegments);
    checks.each(order.segments, [&](const VisitSegment &segment) {
        checkSegment(checks, segment);
        // Two visits on one day only where more than 7 a week are ordered.
        const int days = order.allowedDays.isEmpty() ? 7 : order.allowedDays.size();
        if (!segment.isAsNeeded && std::min(segment.leastPerWeek, 7) > days)
            checks.add(ProblemCode::Conflict, "allowed_days", {"least_per_week"});
    });
    if (order.length)
        checks.range("length_min", order.length->count(), 5, 480);
    checkGaps(checks, order);
    checkAfter(checks, order.after);
    // Visits of one week follow one another.
    if (order.after.isSet() && order.after.unit == GapUnit::Day && order.after.least > 6)
        checks.range("after_least", order.after.least, 0, 6);
    if (order.after.visit)
        checks.add(ProblemCode::NotAllowed, "after_visit_id", {"after_an_order_only"});
    if (order.after.order && order.after.order == order.id)
        checks.add(ProblemCode::Conflict, "after_order_id", {"after_itself"});
    checks.text("prescriber", order.prescriber, kLongestLine);
    return checks.take();
}

Problems validate(const Visit &visit) {
    Checks checks;
    checks.known("patient_id", visit.patient);
    checks.endAfter("due_to", visit.dueFrom, visit.dueTo);
    checks.range("length_min", visit.length.count(), 1, 1440);
    checkPlanned(checks, visit);
    checks.moment("started_at", visit.startedAt);
    checks.moment("ended_at", visit.endedAt);
    if (visit.startedAt)
        checks.endNotBefore("ended_at", *visit.startedAt, visit.endedAt);
    if (visit.driven)
        checks.countTo("driven_m", visit.driven->count(), 2'000'000);
    if (visit.missReason != MissReason::None && visit.status != VisitStatus::Missed &&
        visit.status != VisitStatus::Cancelled)
        checks.add(ProblemCode::Conflict, "miss_reason", {"status"});
    checks.moment("prescriber_told_at", visit.prescriberToldAt);
    checks.text("note", visit.note, kLongestNotes);
    checkAfter(checks, visit.after);
    if (visit.order && visit.after.isSet())
        checks.add(ProblemCode::NotAllowed, "after_order_id", {"its_order_says"});
    if (visit.after.visit && visit.after.visit == visit.id)
        checks.add(ProblemCode::Conflict, "after_visit_id", {"after_itself"});
    if (visit.isDropped && (visit.status != VisitStatus::Cancelled || !visit.order))
        checks.add(ProblemCode::Conflict, "is_dropped", {"status"});
    return checks.take();
}

namespace {

// When, by whom and why are known together or not at all.
template <class Told>
void checkTakenBack(Checks &checks, const Told &told) {
    checks.moment("taken_back_at", told.takenBackAt);
    if (told.isTakenBack()) {
        checks.notEmpty("taken_back_by_id", !told.takenBackBy);
        checks.requiredText("taken_back_why", told.takenBackWhy, kLongestLine);
    } else {
        checks.notEmpty("taken_back_at", told.takenBackBy || !told.takenBackWhy.empty());
    }
}

} // namespace

Problems validate(const PlanTold &told) {
    Checks checks;
    checks.known("nurse_id", told.nurse);
    checks.moment("at", told.at);
    checks.requiredText("told_by", told.by, kLongestLine);
    checks.text("note", told.note, kLongestNotes);
    checkTakenBack(checks, told);
    checks.each(told.visits, [&](const ToldVisit &visit) {
        checks.known("visit_id", visit.visit);
        checks.minuteOfDay("start_min", visit.startAt);
    });
    return checks.take();
}

Problems validate(const PatientTold &told) {
    Checks checks;
    checks.known("patient_id", told.patient);
    checks.moment("at", told.at);
    checks.known("told_by_id", told.by);
    checks.text("note", told.note, kLongestNotes);
    checkTakenBack(checks, told);
    checks.notEmpty("visits", told.visits.empty());
    checks.each(told.visits, [&](const ToldPlace &visit) {
        const VisitPlace &place = visit.place;
        checks.known("visit_id", visit.visit);
        const bool isNowhere = !place.on && !place.startAt && !place.nurse && !place.secondNurse;
        if (isNowhere)
            return;
        checks.notEmpty("told_on", !place.on);
        checks.notEmpty("start_min", !place.startAt);
        checks.notEmpty("nurse_id", !place.nurse);
        if (place.startAt)
            checks.minuteOfDay("start_min", *place.startAt);
        if (place.nurse && place.secondNurse == place.nurse)
            checks.add(ProblemCode::Conflict, "second_nurse_id", {"nurse_id"});
    });
    return checks.take();
}

Problems validate(const Plan &plan) {
    Checks checks;
    checks.range("version", plan.version, 1, std::numeric_limits<int>::max());
    checks.real("cost", plan.cost, 0, std::numeric_limits<double>::max());
    if (plan.status == PlanStatus::Published)
        checks.notEmpty("published_at", !plan.publishedAt);
    const DateRange week{plan.weekStart, plan.weekStart.plusDays(7)};
    std::vector<VisitId> visits;
    checks.each(plan.visits, [&](const PlannedVisit &visit) {
        visits.push_back(visit.visit);
        checks.known("visit_id", visit.visit);
        checks.known("nurse_id", visit.nurse);
        if (!week.contains(visit.on))
            checks.add(ProblemCode::OutOfRange, "on",
                       {visit.on.toIso(), week.from.toIso(), week.to.plusDays(-1).toIso()});
        checks.minuteOfDay("start_min", visit.startAt);
        checks.countTo("travel_min", visit.travelBefore.count(), 1440);
        if (visit.secondNurse == visit.nurse)
            checks.add(ProblemCode::Conflict, "second_nurse_id", {"nurse_id"});
    });
    std::ranges::sort(visits);
    if (std::ranges::adjacent_find(visits) != visits.end())
        checks.add(ProblemCode::Duplicate, "visit_id");
    return checks.take();
}

Problems validate(const CallItem &item) {
    Checks checks;
    checks.known("patient_id", item.patient);
    checks.requiredText("subject", item.subject, kLongestLine);
    checks.moment("raised_at", item.raisedAt);
    if (item.status == CallItemStatus::Closed) {
        checks.notEmpty("closed_at", !item.closedAt);
        checks.requiredText("outcome", item.outcome, item.outcome.size());
    }
    checkClosing(checks, item.raisedAt, item.closedAt, item.owner, item.outcome);
    return checks.take();
}

Problems validate(const PhoneCall &call) {
    Checks checks;
    checks.moment("at", call.at);
    checks.text("caller", call.caller, kLongestLine);
    checks.text("words", call.words, kLongestNotes);
    checkClosing(checks, call.at, call.closedAt, call.owner, call.outcome);
    return checks.take();
}

Problems validate(const Incident &incident) {
    Checks checks;
    checks.moment("at", incident.at);
    checks.requiredText("facts", incident.facts, kLongestNotes);
    checks.text("device", incident.device, kLongestLine);
    checks.text("kept_place", incident.keptPlace, kLongestLine);
    checks.text("told", incident.told, kLongestNotes);
    const auto since = [&](std::string_view field, const std::optional<Date> &day) {
        checks.endNotBefore(field, incident.at.date, day);
    };
    since("learned_on", incident.learnedOn);
    since("prescriber_told_on", incident.prescriberToldOn);
    since("supplier_told_on", incident.supplierToldOn);
    since("report_due_on", incident.reportDueOn);
    since("reported_on", incident.reportedOn);
    since("closed_on", incident.closedOn);
    checks.text("outcome", incident.outcome, kLongestNotes);
    checks.text("owner", incident.owner, kLongestLine);
    if (incident.reportDueOn && !incident.reportedOn) // a report that is nobody's is made by nobody
        checks.requiredText("owner", incident.owner, incident.owner.size());
    if (incident.closedOn) {
        checks.requiredText("outcome", incident.outcome, incident.outcome.size());
        if (incident.reportDueOn && !incident.reportedOn)
            checks.add(ProblemCode::Missing, "reported_on", {incident.reportDueOn->toIso()});
    }
    return checks.take();
}

} // namespace kitround
