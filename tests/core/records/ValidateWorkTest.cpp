#include "tests/core/records/BadRecords.h"

namespace kitround {
namespace {

using test::expectAllowed;
using test::expectEachNamed;
using enum ProblemCode;

const Date kDay = Date::of(2026, 3, 1); // a Sunday
const LocalTime kNine{kDay, Minutes::of(540)};
const LocalTime kEight{kDay, Minutes::of(480)};

TEST(ValidateTest, AgencySettings) {
    expectEachNamed<AgencySettings>(
        AgencySettings(),
        {
            {"no zone", [](AgencySettings &s) { s.timeZone.clear(); }, Missing, "time_zone"},
            {"weeks from Tuesday", [](AgencySettings &s) { s.weekStart = Weekday::Tuesday; }, UnknownChoice,
             "week_start"},
            {"no currency", [](AgencySettings &s) { s.currency = "usd"; }, UnknownChoice, "currency"},
            {"no visiting days", [](AgencySettings &s) { s.visitingDays = {}; }, Missing, "visiting_days"},
            {"a holiday twice",
             [](AgencySettings &s) {
                 s.ownHolidays = {kDay, kDay};
             },
             Duplicate, "own_holidays", 2},
            {"day ends first", [](AgencySettings &s) { s.set(SettingKey::DayEnd, 480); }, EndBeforeStart,
             "day_end"},
            {"amber above red", [](AgencySettings &s) { s.set(SettingKey::AmberLoadPercent, 101); }, Conflict,
             "load_red_percent"},
            {"expiry bands out of order",
             [](AgencySettings &s) { s.set(SettingKey::ExpiryListDaysSecond, 91); }, Conflict,
             "expiry_list_days_3"},
        });
    for (const SettingInfo &info : settingTable()) {
        AgencySettings below, above;
        below.set(info.key, info.least - 1);
        above.set(info.key, info.most + 1);
        for (const AgencySettings &settings : {below, above}) {
            const Problems found = validate(settings);
            ASSERT_FALSE(found.empty()) << info.name;
            EXPECT_EQ(found[0].code, OutOfRange) << info.name;
            EXPECT_EQ(found[0].field, info.name);
        }
    }
}

TEST(ValidateTest, Nurse) {
    Nurse good;
    good.code = "N1";
    good.familyName = "Example";
    good.skills = {{Skill::Teach, std::nullopt}};
    expectEachNamed<Nurse>(
        good, {
                  {"no code", [](Nurse &n) { n.code.clear(); }, Missing, "code"},
                  {"no name", [](Nurse &n) { n.familyName.clear(); }, Missing, "family_name"},
                  {"a skill twice",
                   [](Nurse &n) {
                       n.skills.push_back({Skill::Teach, kDay});
                   },
                   Duplicate, "skills", 2},
                  {"no visits", [](Nurse &n) { n.mostVisitsADay = 0; }, OutOfRange, "most_visits_a_day"},
                  {"negative hours", [](Nurse &n) { n.contractPerWeek = Minutes::of(-1); }, Negative,
                   "contract_min"},
                  {"more than a week", [](Nurse &n) { n.contractPerWeek = Minutes::of(10081); }, OutOfRange,
                   "contract_min"},
                  {"negative car", [](Nurse &n) { n.carSpaceMl = -1; }, Negative, "car_space_ml"},
                  {"off the map",
                   [](Nurse &n) {
                       n.base.point = GeoPoint{-91, 0};
                   },
                   OutOfRange, "latitude"},
              });
}

TEST(ValidateTest, ShiftsAndTimeOff) {
    ShiftPattern pattern;
    pattern.nurse = NurseId(1);
    pattern.from = Minutes::of(480);
    pattern.to = Minutes::of(960);
    pattern.breakLength = Minutes::of(30);
    pattern.breakFrom = Minutes::of(700);
    pattern.breakTo = Minutes::of(800);
    pattern.validFrom = kDay;
    expectEachNamed<ShiftPattern>(
        pattern, {
                     {"of nobody", [](ShiftPattern &p) { p.nurse = {}; }, Missing, "nurse_id"},
                     {"no length",
                      [](ShiftPattern &p) {
                          p.breakLength = {};
                          p.to = p.from;
                      },
                      EndBeforeStart, "to"},
                     {"negative break", [](ShiftPattern &p) { p.breakLength = Minutes::of(-1); }, Negative,
                      "break_min"},
                     {"break longer than its window",
                      [](ShiftPattern &p) { p.breakLength = Minutes::of(101); }, Conflict, "break_min"},
                     {"break of no hours", [](ShiftPattern &p) { p.breakFrom = p.breakTo = Minutes(); },
                      Conflict, "break_from"},
                     {"break after work", [](ShiftPattern &p) { p.breakTo = Minutes::of(961); }, Conflict,
                      "break_from"},
                     {"valid backwards", [](ShiftPattern &p) { p.validTo = kDay.plusDays(-1); },
                      EndBeforeStart, "valid_to"},
                 });
    ExtraShift extra;
    extra.nurse = NurseId(1);
    extra.on = kDay;
    extra.from = Minutes::of(480);
    extra.to = Minutes::of(960);
    expectEachNamed<ExtraShift>(
        extra, {{"overnight", [](ExtraShift &e) { e.from = Minutes::of(1200); }, EndBeforeStart, "to"}});
    TimeOff off;
    off.nurse = NurseId(1);
    off.from = kDay;
    off.to = kDay.plusDays(1);
    expectEachNamed<TimeOff>(off, {{"empty", [](TimeOff &t) { t.to = t.from; }, EndBeforeStart, "to"}});
}

TEST(ValidateTest, VisitOrder) {
    VisitOrder good;
    good.patient = PatientId(1);
    good.start = kDay;
    good.segments = {{2, 2, 4, false, {}}, {0, 2, 0, true, "leak"}};
    expectEachNamed<VisitOrder>(
        good,
        {
            {"nothing ordered", [](VisitOrder &o) { o.segments.clear(); }, Missing, "segments"},
            {"21 segments",
             [](VisitOrder &o) {
                 o.segments.assign(21, {1, 1, 1, false, {}});
             },
             OutOfRange, "segments"},
            {"none a week", [](VisitOrder &o) { o.segments[0].leastPerWeek = 0; }, OutOfRange,
             "least_per_week", 1},
            {"15 a week", [](VisitOrder &o) { o.segments[0].mostPerWeek = 15; }, OutOfRange, "most_per_week",
             1},
            {"range backwards", [](VisitOrder &o) { o.segments[0].mostPerWeek = 1; }, OutOfRange,
             "most_per_week", 1},
            {"27 weeks", [](VisitOrder &o) { o.segments[0].weeks = 27; }, OutOfRange, "weeks", 1},
            {"as needed for weeks", [](VisitOrder &o) { o.segments[1].weeks = 1; }, OutOfRange, "weeks", 2},
            {"as needed without end", [](VisitOrder &o) { o.segments[1].mostPerWeek = 21; }, OutOfRange,
             "as_needed_visits", 2},
            {"brackets in the reason", [](VisitOrder &o) { o.segments[1].reason = "leak (left)"; },
             NotAllowed, "reason", 2},
            {"reason on weeks", [](VisitOrder &o) { o.segments[0].reason = "leak"; }, Conflict, "reason", 1},
            {"two visits on one day of the week", [](VisitOrder &o) { o.allowedDays = {Weekday::Monday}; },
             Conflict, "allowed_days", 1},
            {"end before start", [](VisitOrder &o) { o.end = kDay.plusDays(-1); }, EndBeforeStart, "end"},
            {"too short", [](VisitOrder &o) { o.length = Minutes::of(4); }, OutOfRange, "length_min"},
            {"gaps crossed",
             [](VisitOrder &o) {
                 o.leastGap = Days::of(4);
                 o.mostGap = Days::of(3);
             },
             Conflict, "most_gap_days"},
        });
}

TEST(ValidateTest, Visit) {
    Visit good;
    good.patient = PatientId(1);
    good.dueFrom = kDay;
    good.dueTo = kDay.plusDays(7);
    good.length = Minutes::of(45);
    good.status = VisitStatus::Published;
    good.on = kDay;
    good.startAt = Minutes::of(540);
    good.nurse = NurseId(1);
    expectEachNamed<Visit>(
        good,
        {
            {"due never", [](Visit &v) { v.dueTo = v.dueFrom; }, EndBeforeStart, "due_to"},
            {"no length", [](Visit &v) { v.length = {}; }, OutOfRange, "length_min"},
            {"published on no day", [](Visit &v) { v.on.reset(); }, Missing, "on"},
            {"published for nobody", [](Visit &v) { v.nurse.reset(); }, Missing, "nurse_id"},
            {"published at no time", [](Visit &v) { v.startAt.reset(); }, Missing, "start_min"},
            {"the same nurse twice", [](Visit &v) { v.secondNurse = v.nurse; }, Conflict, "second_nurse_id"},
            {"ended before it began",
             [](Visit &v) {
                 v.startedAt = kNine;
                 v.endedAt = kEight;
             },
             EndBeforeStart, "ended_at"},
            {"driven backwards", [](Visit &v) { v.driven = Metres::of(-1); }, Negative, "driven_m"},
            {"a reason for no miss", [](Visit &v) { v.missReason = MissReason::Refused; }, Conflict,
             "miss_reason"},
        });
    expectAllowed<Visit>(good, "due and not placed", [](Visit &v) {
        v.status = VisitStatus::Due;
        v.on.reset();
        v.startAt.reset();
        v.nurse.reset();
    });
}

TEST(ValidateTest, Plan) {
    Plan good;
    good.weekStart = kDay;
    good.visits = {{VisitId(1), kDay, Minutes::of(540), NurseId(1), {}, {}, {}},
                   {VisitId(2), kDay.plusDays(6), Minutes::of(540), NurseId(1), {}, {}, {}}};
    expectEachNamed<Plan>(
        good,
        {
            {"version 0", [](Plan &p) { p.version = 0; }, OutOfRange, "version"},
            {"published never", [](Plan &p) { p.status = PlanStatus::Published; }, Missing, "published_at"},
            {"next week", [](Plan &p) { p.visits[1].on = kDay.plusDays(7); }, OutOfRange, "on", 2},
            {"a visit twice", [](Plan &p) { p.visits[1].visit = VisitId(1); }, Duplicate, "visit_id"},
            {"nobody goes", [](Plan &p) { p.visits[0].nurse = {}; }, Missing, "nurse_id", 1},
            {"negative travel", [](Plan &p) { p.visits[0].travelBefore = Minutes::of(-1); }, Negative,
             "travel_min", 1},
            {"cost below nothing", [](Plan &p) { p.cost = -1; }, OutOfRange, "cost"},
        });
}

TEST(ValidateTest, CallsAndIncidents) {
    CallItem item;
    item.patient = PatientId(1);
    item.subject = "entry:1:over-max";
    item.raisedAt = kNine;
    expectEachNamed<CallItem>(
        item,
        {
            {"about nobody", [](CallItem &i) { i.patient = {}; }, Missing, "patient_id"},
            {"about nothing", [](CallItem &i) { i.subject.clear(); }, Missing, "subject"},
            {"closed without a word",
             [](CallItem &i) {
                 i.status = CallItemStatus::Closed;
                 i.closedAt = kNine;
             },
             Missing, "outcome"},
            {"closed at no time",
             [](CallItem &i) {
                 i.status = CallItemStatus::Closed;
                 i.outcome = "Told the prescriber.";
             },
             Missing, "closed_at"},
            {"closed before raised", [](CallItem &i) { i.closedAt = kEight; }, EndBeforeStart, "closed_at"},
        });
    PhoneCall call;
    call.at = kNine;
    expectEachNamed<PhoneCall>(
        call,
        {{"long", [](PhoneCall &c) { c.words.assign(4001, 'x'); }, TooLong, "words"},
         {"closed before it rang", [](PhoneCall &c) { c.closedAt = kEight; }, EndBeforeStart, "closed_at"}});
    Incident incident;
    incident.at = kNine;
    incident.learnedOn = kDay;
    incident.facts = "The bottle had no vacuum.";
    expectEachNamed<Incident>(
        incident,
        {{"no facts", [](Incident &i) { i.facts = "  "; }, Missing, "facts"},
         {"known before", [](Incident &i) { i.learnedOn = kDay.plusDays(-1); }, EndBeforeStart, "learned_on"},
         {"reported before", [](Incident &i) { i.reportedOn = kDay.plusDays(-1); }, EndBeforeStart,
          "reported_on"},
         {"a report that is nobody's", [](Incident &i) { i.reportDueOn = kDay.plusDays(9); }, Missing,
          "owner"},
         {"closed without a word", [](Incident &i) { i.closedOn = kDay; }, Missing, "outcome"},
         {"closed before the report",
          [](Incident &i) {
              i.owner = "Ada";
              i.reportDueOn = kDay.plusDays(9);
              i.closedOn = kDay;
              i.outcome = "Replaced.";
          },
          Missing, "reported_on"}});
    incident.closedOn = kDay;
    incident.outcome = "Replaced.";
    EXPECT_TRUE(validate(incident).empty());
    User user;
    user.name = "Desk";
    expectEachNamed<User>(user, {{"no name", [](User &u) { u.name.clear(); }, Missing, "name"}});
}

TEST(ValidateTest, ADecisionHasItsWordsAndIsClosedWithWhatCameOfIt) {
    DecisionNote note;
    note.weekStart = kDay;
    note.text = "Two per-diem days.";
    note.by = UserId(1);
    note.at = kNine;
    expectEachNamed<DecisionNote>(
        note, {{"says nothing", [](DecisionNote &n) { n.text = " "; }, Missing, "text"},
               {"of nobody", [](DecisionNote &n) { n.by = {}; }, Missing, "noted_by_id"},
               {"closed without a word", [](DecisionNote &n) { n.closedOn = kDay; }, Missing, "outcome"},
               {"closed before it was noted",
                [](DecisionNote &n) {
                    n.closedOn = kDay.plusDays(-1);
                    n.outcome = "Done.";
                },
                EndBeforeStart, "closed_on"}});
    note.closedOn = kDay;
    note.outcome = "Both came.";
    EXPECT_TRUE(validate(note).empty());
}

TEST(ValidateTest, WhatAVisitComesAfter) {
    VisitOrder order;
    order.id = VisitOrderId(2);
    order.patient = PatientId(1);
    order.start = kDay;
    order.segments = {{1, 1, 4, false, ""}};
    order.after = {VisitOrderId(1), {}, GapUnit::Day, 1, 3, true};
    expectEachNamed<VisitOrder>(
        order,
        {
            {"at most before at least", [](VisitOrder &o) { o.after.most = 0; }, OutOfRange, "after_most"},
            {"below zero", [](VisitOrder &o) { o.after.least = -1; }, OutOfRange, "after_least"},
            {"beyond the week", [](VisitOrder &o) { o.after.least = o.after.most = 7; }, OutOfRange,
             "after_least"},
            {"after itself", [](VisitOrder &o) { o.after.order = o.id; }, Conflict, "after_order_id"},
            {"a gap after nothing", [](VisitOrder &o) { o.after.order.reset(); }, Missing, "after_order_id"},
        });
    Visit visit;
    visit.id = VisitId(5);
    visit.patient = PatientId(1);
    visit.dueFrom = kDay;
    visit.dueTo = kDay.plusDays(1);
    visit.length = Minutes::of(45);
    visit.after = {{}, VisitId(4), GapUnit::Minute, 0, 60, false};
    expectEachNamed<Visit>(
        visit,
        {
            {"after two things", [](Visit &v) { v.after.order = VisitOrderId(1); }, Conflict,
             "after_visit_id"},
            {"after itself", [](Visit &v) { v.after.visit = v.id; }, Conflict, "after_visit_id"},
            {"of an order", [](Visit &v) { v.order = VisitOrderId(1); }, NotAllowed, "after_order_id"},
            {"more than a day's minutes", [](Visit &v) { v.after.most = 721; }, OutOfRange, "after_most"},
            {"dropped, but due", [](Visit &v) { v.isDropped = true; }, Conflict, "is_dropped"},
        });
}

TEST(ValidateTest, ToldOfAChangedRound) {
    PlanTold good;
    good.nurse = NurseId(1);
    good.on = kDay;
    good.at = kNine;
    good.by = "Ada";
    good.visits = {{VisitId(1), Minutes::of(540)}};
    expectEachNamed<PlanTold>(
        good, {
                  {"nobody told her", [](PlanTold &t) { t.by.clear(); }, Missing, "told_by"},
                  {"no nurse", [](PlanTold &t) { t.nurse = {}; }, Missing, "nurse_id"},
                  {"no visit", [](PlanTold &t) { t.visits[0].visit = {}; }, Missing, "visit_id", 1},
                  {"taken back by somebody, at no time", [](PlanTold &t) { t.takenBackBy = UserId(1); },
                   Missing, "taken_back_at"},
              });
    PlanTold back = good;
    back.takenBackAt = kNine;
    back.takenBackBy = UserId(1);
    back.takenBackWhy = "wrong row";
    expectEachNamed<PlanTold>(
        back, {
                  {"by nobody", [](PlanTold &t) { t.takenBackBy.reset(); }, Missing, "taken_back_by_id"},
                  {"without a reason", [](PlanTold &t) { t.takenBackWhy = " "; }, Missing, "taken_back_why"},
              });
}

TEST(ValidateTest, AHomeThatWasPhoned) {
    PatientTold good;
    good.patient = PatientId(1);
    good.at = kNine;
    good.by = UserId(1);
    good.visits = {{VisitId(1), {kDay, Minutes::of(540), NurseId(1), {}}}, {VisitId(2), {}}};
    expectEachNamed<PatientTold>(
        good,
        {
            {"nobody's home", [](PatientTold &t) { t.patient = {}; }, Missing, "patient_id"},
            {"by nobody", [](PatientTold &t) { t.by = {}; }, Missing, "told_by_id"},
            {"about nothing", [](PatientTold &t) { t.visits.clear(); }, Missing, "visits"},
            {"no visit", [](PatientTold &t) { t.visits[1].visit = {}; }, Missing, "visit_id", 2},
            {"no day", [](PatientTold &t) { t.visits[0].place.on.reset(); }, Missing, "told_on", 1},
            {"no start", [](PatientTold &t) { t.visits[0].place.startAt.reset(); }, Missing, "start_min", 1},
            {"no nurse", [](PatientTold &t) { t.visits[0].place.nurse.reset(); }, Missing, "nurse_id", 1},
            {"one nurse twice", [](PatientTold &t) { t.visits[0].place.secondNurse = NurseId(1); }, Conflict,
             "second_nurse_id", 1},
            {"taken back by somebody, at no time", [](PatientTold &t) { t.takenBackBy = UserId(1); }, Missing,
             "taken_back_at"},
        });
    PatientTold back = good;
    back.takenBackAt = kNine;
    back.takenBackBy = UserId(1);
    back.takenBackWhy = "wrong row";
    expectEachNamed<PatientTold>(
        back,
        {
            {"by nobody", [](PatientTold &t) { t.takenBackBy.reset(); }, Missing, "taken_back_by_id"},
            {"without a reason", [](PatientTold &t) { t.takenBackWhy = " "; }, Missing, "taken_back_why"},
        });
}

} // namespace
} // namespace kitround
