#pragma once
// People, their catheters, who pays, nurses and their hours, users, the agency's settings.
#include "core/store/mapping/Mapping.h"

namespace kitround::store {

template <>
struct Mapping<User> {
    static constexpr const char *table = "user";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("name", r.name);
        v("role", r.role);
        v("password_hash", r.passwordHash);
        v("is_active", r.isActive);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<SettingsRow> {
    static constexpr const char *table = "agency_settings";
    template <class V, class R>
    static void columns(V &v, R &r) {
        auto &s = r.settings;
        v("agency_name", s.agencyName);
        v("phone", s.phone);
        v("order_contact", s.orderContact);
        v("time_zone", s.timeZone);
        v("week_start", s.weekStart);
        v("currency", s.currency);
        v("distance_unit", s.distanceUnit);
        v("holidays_are_worked", s.holidaysAreWorked);
        v("visiting_days", s.visitingDays);
        addressColumns(v, s.storeroom);
        v("used_bottle_rules", s.usedBottleRules);
        v("is_invented", s.isInvented);
        v("demo_today_on", s.demoToday);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("agency_holiday", r.settings.ownHolidays, [](auto &c, auto &day) { c("holiday_on", day); });
        v.list("setting", r.numbers, [](auto &c, auto &number) {
            c("name", number.name);
            c("value", number.value);
        });
    }
};

template <>
struct Mapping<Payer> {
    static constexpr const char *table = "payer";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("name", r.name);
        v("refill_rule_applies", r.refillRuleApplies);
        v("contact_at_most_before_days", r.contactAtMostBefore);
        v("deliver_at_most_before_days", r.deliverAtMostBefore);
        v("most_days_held", r.mostDaysHeld);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<Patient> {
    static constexpr const char *table = "patient";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("code", r.code);
        v("family_name", r.familyName);
        v("given_name", r.givenName);
        v("born_on", r.bornOn);
        v("gender", r.gender);
        v("phone", r.phone);
        addressColumns(v, r.address);
        v("nurse_gender_wish", r.nurseGenderWish);
        v("payer_id", r.payer);
        v("status", r.status);
        v("referred_at", r.referredAt);
        v("home_from_at", r.homeFrom);
        v("start_of_care_on", r.startOfCare);
        v("exited_at", r.exitedAt);
        v("exit_reason", r.exitReason);
        v("primary_nurse_id", r.primaryNurse);
        v("backup_nurse_id", r.backupNurse);
        v("assignment_reason", r.assignmentReason);
        v("patient_competence", r.patientCompetence);
        v("caregiver_competence", r.caregiverCompetence);
        v("competence_on", r.competenceOn);
        v("no_allergies_on", r.noAllergiesOn);
        v("acuity", r.acuity);
        v("emergency_priority", r.emergencyPriority);
        v("needs_two_nurses", r.needsTwoNurses);
        v("allows_courier", r.allowsCourier);
        v("notes", r.notes);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("patient_language", r.languages, [](auto &c, auto &language) { c("language", language); });
        v.list("patient_barred_nurse", r.barredNurses, [](auto &c, auto &nurse) { c("nurse_id", nurse); });
        v.list("patient_allergy", r.allergies, [](auto &c, auto &material) { c("material", material); });
        v.list("patient_window", r.windows, [](auto &c, auto &window) {
            c("weekday", window.weekday);
            c("from_min", window.from);
            c("to_min", window.to);
            c("is_hard", window.isHard);
        });
    }
};

template <>
struct Mapping<Catheter> {
    static constexpr const char *table = "catheter";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("patient_id", r.patient);
        v("site", r.site);
        v("side", r.side);
        v("connector", r.connector);
        v("inserted_on", r.insertedOn);
        v("removed_at", r.removedAt);
        v("removal_reason", r.removalReason);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<Authorisation> {
    static constexpr const char *table = "authorisation";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("patient_id", r.patient);
        v("reference", r.reference);
        v("from_on", r.from);
        v("to_on", r.to);
        v("visits_allowed", r.visitsAllowed);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<Hold> {
    static constexpr const char *table = "hold";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("patient_id", r.patient);
        v("kind", r.kind);
        v("from_on", r.from);
        v("expected_return_on", r.expectedReturn);
        v("to_on", r.to);
        v("still_draining", r.stillDraining);
        v("reason", r.reason);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<Nurse> {
    static constexpr const char *table = "nurse";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("code", r.code);
        v("family_name", r.familyName);
        v("given_name", r.givenName);
        v("phone", r.phone);
        v("credential", r.credential);
        v("gender", r.gender);
        addressColumns(v, r.base);
        v("starts_at_storeroom", r.startsAtStoreroom);
        v("contract_min", r.contractPerWeek);
        v("most_visits_a_day", r.mostVisitsADay);
        v("car_space_ml", r.carSpaceMl);
        v("overtime_exempt", r.overtimeExempt);
        v("is_active", r.isActive);
        v("user_id", r.user);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("nurse_language", r.languages, [](auto &c, auto &language) { c("language", language); });
        v.list("nurse_skill", r.skills, [](auto &c, auto &grant) {
            c("skill", grant.skill);
            c("expires_on", grant.expiresOn);
        });
    }
};

template <>
struct Mapping<ShiftPattern> {
    static constexpr const char *table = "shift_pattern";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("nurse_id", r.nurse);
        v("weekday", r.weekday);
        v("from_min", r.from);
        v("to_min", r.to);
        v("break_min", r.breakLength);
        v("break_from_min", r.breakFrom);
        v("break_to_min", r.breakTo);
        v("is_on_call", r.isOnCall);
        v("valid_from_on", r.validFrom);
        v("valid_to_on", r.validTo);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<ExtraShift> {
    static constexpr const char *table = "extra_shift";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("nurse_id", r.nurse);
        v("shift_on", r.on);
        v("from_min", r.from);
        v("to_min", r.to);
        v("replaces_pattern", r.replacesPattern);
        v("is_on_call", r.isOnCall);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<TimeOff> {
    static constexpr const char *table = "time_off";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("nurse_id", r.nurse);
        v("kind", r.kind);
        v("from_on", r.from);
        v("to_on", r.to);
        v("note", r.note);
        v("status", r.status);
        v("asked_on", r.askedOn);
        v("decided_by_id", r.decidedBy);
        v("decided_at", r.decidedAt);
        v("decision_note", r.decisionNote);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<KeptWhatIf> {
    static constexpr const char *table = "kept_what_if";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("name", r.name);
        v("week_start_on", r.weekStart);
        v("kind", r.kind);
        v("nurse_id", r.nurse);
        v("away_from_on", r.awayFrom);
        v("away_to_on", r.awayTo);
        v("referrals", r.referrals);
        v("seed", r.seed);
        v("shift_on", r.on);
        v("from_min", r.from);
        v("to_min", r.to);
        v("setting", r.setting);
        v("value", r.value);
        v("kept_on", r.keptOn);
        v("said_then", r.saidThen);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<IntakeClosure> {
    static constexpr const char *table = "intake_closure";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("area", r.area);
        v("from_on", r.from);
        v("to_on", r.to);
        v("reason", r.reason);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<DecisionNote> {
    static constexpr const char *table = "decision_note";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("week_start_on", r.weekStart);
        v("kind", r.kind);
        v("text", r.text);
        v("noted_by_id", r.by);
        v("at", r.at);
        v("closed_on", r.closedOn);
        v("outcome", r.outcome);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<HandOver> {
    static constexpr const char *table = "hand_over";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("handed_by_id", r.handedBy);
        v("handed_at", r.handedAt);
        v("note", r.note);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("hand_over_item", r.items, [](auto &c, auto &item) {
            c("topic", item.topic);
            c("subject", item.subject);
            c("patient_id", item.patient);
            c("what", item.what);
            c("accepted_by_id", item.acceptedBy);
            c("accepted_at", item.acceptedAt);
        });
    }
};

template <>
struct Mapping<WatchEntry> {
    static constexpr const char *table = "watch_entry";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("patient_id", r.patient);
        v("since_at", r.since);
        v("owner_user_id", r.ownerUser);
        v("owner_nurse_id", r.ownerNurse);
        v("next_step", r.nextStep);
        v("next_on", r.nextOn);
        v("snoozed_to_on", r.snoozedTo);
        v("snooze_reason", r.snoozeReason);
        v("closed_at", r.closedAt);
        v("outcome", r.outcome);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("watch_entry_known", r.known, [](auto &c, auto &subject) { c("subject", subject); });
    }
};

} // namespace kitround::store
