#pragma once
// Drain orders and the log, visit orders, visits and plans, what is to be called about.
#include "core/store/mapping/Mapping.h"

namespace kitround::store {

template <>
struct Mapping<DrainOrder> {
    static constexpr const char *table = "drain_order";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("catheter_id", r.catheter);
        v("pattern", r.pattern.kind);
        v("every_days", r.pattern.everyDays);
        v("anchor_on", r.pattern.anchor);
        v("times_a_week", r.pattern.timesAWeek);
        v("weekdays", r.pattern.weekdays);
        v("most_per_day", r.pattern.mostPerDay);
        v("most_per_week", r.pattern.mostPerWeek);
        v("start_on", r.start);
        v("end_on", r.end);
        v("most_per_session_ml", r.mostPerSession);
        v("kit_id", r.kit);
        v("extra_bottle_item_id", r.extraBottle);
        v("allows_substitute", r.allowsSubstitute);
        v("prescriber", r.prescriber);
        v("is_verbal", r.isVerbal);
        v("signed_on", r.signedOn);
        v("call_parameters", r.callParameters);
        v("replaces_id", r.replaces);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<DrainEntry> {
    static constexpr const char *table = "drain_entry";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("catheter_id", r.catheter);
        v("at", r.at);
        v("time_is_known", r.timeIsKnown);
        v("outcome", r.outcome);
        v("volume_ml", r.volume);
        v("source", r.source);
        v("visit_id", r.visit);
        v("note", r.note);
        v("corrects_id", r.corrects);
        v("is_void", r.isVoid);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("drain_supply", r.supplies, [](auto &c, auto &use) {
            c("item_id", use.item);
            c("used", use.used);
            c("lost", use.lost);
            c("lot_id", use.lot);
        });
        v.list("drain_symptom", r.symptoms, [](auto &c, auto &symptom) { c("symptom", symptom); });
    }
};

// How far after; what it comes after differs.
template <class V, class A>
void gapColumns(V &v, A &after) {
    v("after_unit", after.unit);
    v("after_least", after.least);
    v("after_most", after.most);
    v("after_by_another", after.byAnother);
}

template <>
struct Mapping<VisitOrder> {
    static constexpr const char *table = "visit_order";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("patient_id", r.patient);
        v("kind", r.kind);
        v("start_on", r.start);
        v("end_on", r.end);
        v("allowed_days", r.allowedDays);
        v("length_min", r.length);
        v("needs_skills", r.needs);
        v("least_gap_days", r.leastGap);
        v("most_gap_days", r.mostGap);
        v("two_nurses", r.twoNurses);
        v("prescriber", r.prescriber);
        v("after_order_id", r.after.order);
        gapColumns(v, r.after);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("visit_order_segment", r.segments, [](auto &c, auto &segment) {
            c("least_per_week", segment.leastPerWeek);
            c("most_per_week", segment.mostPerWeek);
            c("weeks", segment.weeks);
            c("is_as_needed", segment.isAsNeeded);
            c("reason", segment.reason);
        });
    }
};

template <>
struct Mapping<Visit> {
    static constexpr const char *table = "visit";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("patient_id", r.patient);
        v("visit_order_id", r.order);
        v("kind", r.kind);
        v("status", r.status);
        v("due_from_on", r.dueFrom);
        v("due_to_on", r.dueTo);
        v("length_min", r.length);
        v("needs_skills", r.needs);
        v("two_nurses", r.twoNurses);
        v("planned_on", r.on);
        v("start_min", r.startAt);
        v("nurse_id", r.nurse);
        v("second_nurse_id", r.secondNurse);
        v("day_is_locked", r.dayIsLocked);
        v("nurse_is_locked", r.nurseIsLocked);
        v("time_is_locked", r.timeIsLocked);
        v("started_at", r.startedAt);
        v("ended_at", r.endedAt);
        v("driven_m", r.driven);
        v("driven_is_estimated", r.drivenIsEstimated);
        v("miss_reason", r.missReason);
        v("prescriber_told_at", r.prescriberToldAt);
        v("note", r.note);
        v("after_order_id", r.after.order);
        v("after_visit_id", r.after.visit);
        gapColumns(v, r.after);
        v("is_dropped", r.isDropped);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<Plan> {
    static constexpr const char *table = "plan";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("week_start_on", r.weekStart);
        v("version", r.version);
        v("status", r.status);
        v("published_at", r.publishedAt);
        v("published_by_user_id", r.publishedBy);
        v("seed", r.seed);
        v("cost", r.cost);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("planned_visit", r.visits, [](auto &c, auto &planned) {
            c("visit_id", planned.visit);
            c("planned_on", planned.on);
            c("start_min", planned.startAt);
            c("nurse_id", planned.nurse);
            c("second_nurse_id", planned.secondNurse);
            c("travel_min", planned.travelBefore);
            c("carries_delivery_id", planned.carries);
        });
    }
};

template <>
struct Mapping<PlanTold> {
    static constexpr const char *table = "plan_told";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("nurse_id", r.nurse);
        v("told_for_on", r.on);
        v("at", r.at);
        v("told_by", r.by);
        v("note", r.note);
        v("taken_back_at", r.takenBackAt);
        v("taken_back_by_id", r.takenBackBy);
        v("taken_back_why", r.takenBackWhy);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("plan_told_visit", r.visits, [](auto &c, auto &told) {
            c("visit_id", told.visit);
            c("start_min", told.startAt);
        });
    }
};

template <>
struct Mapping<PatientTold> {
    static constexpr const char *table = "patient_told";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("patient_id", r.patient);
        v("at", r.at);
        v("reached", r.reached);
        v("told_by_id", r.by);
        v("note", r.note);
        v("taken_back_at", r.takenBackAt);
        v("taken_back_by_id", r.takenBackBy);
        v("taken_back_why", r.takenBackWhy);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("patient_told_visit", r.visits, [](auto &c, auto &told) {
            c("visit_id", told.visit);
            c("told_on", told.place.on);
            c("start_min", told.place.startAt);
            c("nurse_id", told.place.nurse);
            c("second_nurse_id", told.place.secondNurse);
        });
    }
};

template <>
struct Mapping<OrderAnswer> {
    static constexpr const char *table = "order_answer";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("drain_order_id", r.order);
        v("at", r.at);
        v("answered_by", r.answeredBy);
        v("words", r.words);
        v("was_read_back", r.wasReadBack);
        v("taken_by_id", r.takenBy);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<CallItem> {
    static constexpr const char *table = "call_item";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("patient_id", r.patient);
        v("catheter_id", r.catheter);
        v("kind", r.kind);
        v("urgency", r.urgency);
        v("subject", r.subject);
        v("raised_at", r.raisedAt);
        v("status", r.status);
        v("owner", r.owner);
        v("closed_at", r.closedAt);
        v("outcome", r.outcome);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("call_item_evidence", r.evidence, [](auto &c, auto &number) { c("evidence", number); });
    }
};

template <>
struct Mapping<PhoneCall> {
    static constexpr const char *table = "phone_call";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("patient_id", r.patient);
        v("at", r.at);
        v("caller", r.caller);
        v("topic", r.topic);
        v("words", r.words);
        v("owner", r.owner);
        v("closed_at", r.closedAt);
        v("outcome", r.outcome);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<Incident> {
    static constexpr const char *table = "incident";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("kind", r.kind);
        v("harm", r.harm);
        v("patient_id", r.patient);
        v("lot_id", r.lot);
        v("device", r.device);
        v("at", r.at);
        v("learned_on", r.learnedOn);
        v("facts", r.facts);
        v("kept_place", r.keptPlace);
        v("prescriber_told_on", r.prescriberToldOn);
        v("supplier_told_on", r.supplierToldOn);
        v("told", r.told);
        v("owner", r.owner);
        v("report_due_on", r.reportDueOn);
        v("reported_on", r.reportedOn);
        v("closed_on", r.closedOn);
        v("outcome", r.outcome);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

} // namespace kitround::store
