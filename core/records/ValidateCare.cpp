// People, catheters, orders and the drain log.
#include "core/records/Checks.h"
#include "core/records/Validate.h"

#include <algorithm>

namespace kitround {
namespace {

void checkNurseWishes(Checks &checks, const Patient &patient) {
    const auto isBarred = [&](const std::optional<NurseId> &nurse) {
        return nurse && std::ranges::find(patient.barredNurses, *nurse) != patient.barredNurses.end();
    };
    if (isBarred(patient.primaryNurse))
        checks.add(ProblemCode::Conflict, "primary_nurse_id", {"barred_nurses"});
    if (isBarred(patient.backupNurse))
        checks.add(ProblemCode::Conflict, "backup_nurse_id", {"barred_nurses"});
    if (patient.primaryNurse && patient.primaryNurse == patient.backupNurse)
        checks.add(ProblemCode::Conflict, "backup_nurse_id", {"primary_nurse_id"});
    checks.noTwice("barred_nurses", patient.barredNurses);
}

void checkExit(Checks &checks, const Patient &patient) {
    if (isExit(patient.status) && !patient.exitedAt)
        checks.add(ProblemCode::Missing, "exited_at");
    if (!isExit(patient.status) && patient.exitedAt)
        checks.add(ProblemCode::Conflict, "exited_at", {"status"});
    if (patient.exitedAt && patient.referredAt && *patient.exitedAt < *patient.referredAt)
        checks.add(ProblemCode::EndBeforeStart, "exited_at",
                   {patient.referredAt->toIso(), patient.exitedAt->toIso()});
    checks.text("exit_reason", patient.exitReason, kLongestLine);
}

void checkAsNeeded(Checks &checks, const DrainPattern &pattern) {
    if (pattern.mostPerDay)
        checks.range("most_per_day", *pattern.mostPerDay, 1, 10);
    if (pattern.mostPerWeek)
        checks.range("most_per_week", *pattern.mostPerWeek, 1, 70);
    if (pattern.mostPerDay && pattern.mostPerWeek && *pattern.mostPerWeek < *pattern.mostPerDay)
        checks.add(ProblemCode::Conflict, "most_per_week", {"most_per_day"});
}

void checkPattern(Checks &checks, const DrainPattern &pattern) {
    switch (pattern.kind) {
    case DrainPatternKind::EveryNDays:
        checks.range("every_days", pattern.everyDays, 1, 60);
        checks.notEmpty("anchor", pattern.anchor == Date()); // a day nobody chose counts from 1970
        break;
    case DrainPatternKind::TimesAWeek:
        checks.range("times_a_week", pattern.timesAWeek, 1, 7);
        if (!pattern.weekdays.isEmpty() && pattern.weekdays.size() != pattern.timesAWeek)
            checks.add(ProblemCode::Conflict, "weekdays", {"times_a_week"});
        break;
    case DrainPatternKind::AsNeeded:
        checkAsNeeded(checks, pattern);
        break;
    }
}

void checkVolume(Checks &checks, const DrainEntry &entry) {
    if (!entry.volume)
        return;
    checks.countTo("volume_ml", entry.volume->count(), kLargestBelievableVolume.count());
    if (entry.outcome != DrainOutcome::Drained && *entry.volume > Millilitres::of(0))
        checks.add(ProblemCode::Conflict, "volume_ml", {"outcome"});
}

void checkSupplies(Checks &checks, const DrainEntry &entry) {
    checks.each(entry.supplies, [&](const BottleUse &use) {
        checks.known("item_id", use.item);
        checks.countTo("used", use.used.count(), 50);
        checks.countTo("lost", use.lost.count(), 50);
        if (entry.outcome == DrainOutcome::NotDone &&
            use.used > Eaches::of(0)) // lost may be: opened, then not done
            checks.add(ProblemCode::Conflict, "used", {"outcome"});
        const auto same = [&](const BottleUse &other) {
            return other.item == use.item && other.lot == use.lot;
        };
        if (&*std::ranges::find_if(entry.supplies, same) != &use)
            checks.add(ProblemCode::Duplicate, "item_id");
    });
}

} // namespace

Problems validate(const Patient &patient) {
    Checks checks;
    checks.requiredText("code", patient.code, kLongestCode);
    checks.requiredText("family_name", patient.familyName, kLongestLine);
    checks.text("given_name", patient.givenName, kLongestLine);
    checks.text("phone", patient.phone, kLongestCode);
    checks.address(patient.address);
    checks.languages(patient.languages);
    if (patient.bornOn)
        checks.endNotBefore("start_of_care", *patient.bornOn, patient.startOfCare);
    checkExit(checks, patient);
    checkNurseWishes(checks, patient);
    checks.noTwice("allergies", patient.allergies);
    if (patient.noAllergiesOn && !patient.allergies.empty())
        checks.add(ProblemCode::Conflict, "no_allergies_on", {"allergies"});
    checks.each(patient.windows, [&](const VisitWindow &w) { checks.stretch("from", w.from, "to", w.to); });
    checks.text("assignment_reason", patient.assignmentReason, kLongestNotes);
    checks.text("notes", patient.notes, kLongestNotes);
    return checks.take();
}

Problems validate(const Catheter &catheter) {
    Checks checks;
    checks.known("patient_id", catheter.patient);
    checks.text("connector", catheter.connector, kLongestCode);
    checks.text("removal_reason", catheter.removalReason, kLongestLine);
    if (catheter.insertedOn && catheter.removedAt) {
        // Removal is an instant and its zone is not known here, so the local date may be one later than
        // UTC's.
        const Date latestLocal = Date::fromDayNumber(catheter.removedAt->unixSeconds() / 86400).plusDays(1);
        if (latestLocal < *catheter.insertedOn)
            checks.add(ProblemCode::EndBeforeStart, "removed_at",
                       {catheter.insertedOn->toIso(), catheter.removedAt->toIso()});
    }
    return checks.take();
}

Problems validate(const Payer &payer) {
    Checks checks;
    checks.requiredText("name", payer.name, kLongestLine);
    checks.range("contact_at_most_before", payer.contactAtMostBefore.count(), 0, 365);
    checks.range("deliver_at_most_before", payer.deliverAtMostBefore.count(), 0, 365);
    checks.range("most_days_held", payer.mostDaysHeld.count(), 1, 365);
    // Nobody may ask before the need may be confirmed, so nothing could be delivered before that either.
    if (payer.refillRuleApplies && payer.deliverAtMostBefore > payer.contactAtMostBefore)
        checks.add(ProblemCode::Conflict, "deliver_at_most_before",
                   {"payer_window", std::to_string(payer.deliverAtMostBefore.count()),
                    std::to_string(payer.contactAtMostBefore.count())});
    return checks.take();
}

Problems validate(const Authorisation &authorisation) {
    Checks checks;
    checks.known("patient_id", authorisation.patient);
    checks.text("reference", authorisation.reference, kLongestLine);
    checks.endAfter("to", authorisation.from, authorisation.to);
    checks.countTo("visits_allowed", authorisation.visitsAllowed, 10000);
    return checks.take();
}

Problems validate(const Hold &hold) {
    Checks checks;
    checks.known("patient_id", hold.patient);
    checks.endNotBefore("to", hold.from, hold.to);
    checks.endNotBefore("expected_return", hold.from, hold.expectedReturn);
    checks.text("reason", hold.reason, kLongestLine);
    return checks.take();
}

Problems validate(const DrainOrder &order) {
    Checks checks;
    checks.known("catheter_id", order.catheter);
    checkPattern(checks, order.pattern);
    // An order replaced on its first day was never in force, so the two may be equal.
    checks.endNotBefore("end", order.start, order.end);
    if (order.mostPerSession)
        checks.range("most_per_session_ml", order.mostPerSession->count(), 1,
                     kLargestBelievableVolume.count());
    checks.known("kit_id", order.kit);
    checks.text("prescriber", order.prescriber, kLongestLine);
    checks.text("call_parameters", order.callParameters, kLongestNotes);
    if (order.id.isSet() && order.replaces == order.id)
        checks.add(ProblemCode::Conflict, "replaces", {"id"});
    return checks.take();
}

Problems validate(const DrainEntry &entry) {
    Checks checks;
    checks.known("catheter_id", entry.catheter);
    checks.moment("at", entry.at);
    checkVolume(checks, entry);
    checkSupplies(checks, entry);
    checks.noTwice("symptoms", entry.symptoms);
    checks.text("note", entry.note, kLongestNotes);
    if (entry.id.isSet() && entry.corrects == entry.id)
        checks.add(ProblemCode::Conflict, "corrects", {"id"});
    return checks.take();
}

} // namespace kitround
