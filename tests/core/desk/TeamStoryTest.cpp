// What the coordinator and the manager decide, written through the desk: who is named for a patient, leave,
// kept what-ifs, areas closed to referrals.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/DecisionNotes.h"
#include "core/desk/views/IntakeCapacity.h"
#include "core/desk/views/KeptWhatIfs.h"
#include "core/desk/words/Words.h"
#include "core/rounds/due/VisitsDue.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

const TimeOff &storedLeave(const Story &s, TimeOffId id) {
    return *std::ranges::find(s.snapshot().timeOff, id, &TimeOff::id);
}
TimeOff request(const Story &s, Date from, Date to) {
    TimeOff off;
    off.nurse = s.nurse;
    off.from = from;
    off.to = to;
    off.status = LeaveStatus::Requested;
    return off;
}
bool worksOn(const Story &s, NurseId nurse, Date on) {
    const Snapshot &a = s.snapshot();
    return std::ranges::any_of(
        shiftsIn({on, on.plusDays(1)}, a.nurses, a.shiftPatterns, a.extraShifts, a.timeOff),
        [&](const Shift &shift) { return shift.nurse == nurse; });
}

TEST(LeaveStory, OnlyApprovedLeaveTakesANurseOutAndTheDecisionSaysByWhom) {
    Story s;
    const Date off = kMonday.plusDays(8);
    ASSERT_TRUE(worksOn(s, s.nurse, off));
    const TimeOff asked = must(s.desk().save(request(s, off, off.plusDays(2))));
    EXPECT_EQ(asked.askedOn, kMonday);
    EXPECT_TRUE(worksOn(s, s.nurse, off)) << "a request is not leave yet";
    const TimeOff approved = must(s.desk().decideLeave(asked.id, true, "N2 covers"));
    EXPECT_EQ(approved.status, LeaveStatus::Approved);
    EXPECT_EQ(approved.decidedBy, s.desk().user());
    EXPECT_TRUE(approved.decidedAt.has_value());
    EXPECT_FALSE(worksOn(s, s.nurse, off));
    EXPECT_EQ(storedLeave(s, asked.id).decisionNote, "N2 covers");
    EXPECT_EQ(firstArg(refused(s.desk().decideLeave(asked.id, false, ""))), "closed") << "decided once";
    TimeOff longer = storedLeave(s, asked.id);
    longer.to = longer.to.plusDays(5);
    EXPECT_EQ(firstArg(refused(s.desk().save(longer))), "leave_decided");

    const TimeOff other = must(s.desk().save(request(s, off.plusDays(7), off.plusDays(8))));
    must(s.desk().decideLeave(other.id, false, "no cover"));
    EXPECT_TRUE(worksOn(s, s.nurse, off.plusDays(7)));
    TimeOff sneaked = storedLeave(s, other.id);
    sneaked.status = LeaveStatus::Approved;
    EXPECT_EQ(firstArg(refused(s.desk().save(sneaked))), "use_decision");
    EXPECT_FALSE(s.desk().decideLeave(TimeOffId(999), true, ""));
}

TEST(LeaveStory, OnlyANurseManagerAgreesToLeaveAndEverybodyElseIsToldSo) {
    Story s;
    User coordinator;
    coordinator.name = "Casey";
    coordinator.role = UserRole::Coordinator;
    coordinator = must(s.desk().save(coordinator));
    const UserId manager = s.desk().user();
    s.desk().setUser(coordinator.id);
    const Date off = kMonday.plusDays(8);
    const TimeOff asked = must(s.desk().save(request(s, off, off.plusDays(2))));
    for (const bool approve : {true, false}) {
        const Problem no = refused(s.desk().decideLeave(asked.id, approve, "fine"));
        EXPECT_EQ(firstArg(no), "manager_only");
        EXPECT_TRUE(desk::words(no).contains(QStringLiteral("Casey"))) << desk::words(no).toStdString();
    }
    EXPECT_EQ(storedLeave(s, asked.id).status, LeaveStatus::Requested);
    TimeOff agreed = request(s, off.plusDays(7), off.plusDays(8));
    agreed.status = LeaveStatus::Approved; // round the request
    EXPECT_EQ(firstArg(refused(s.desk().save(agreed))), "manager_only");
    agreed.kind = TimeOffKind::Sick;
    agreed.status = LeaveStatus::Requested;
    EXPECT_EQ(firstArg(refused(s.desk().save(agreed))), "asks_nobody")
        << "as a request nobody would cover it";
    agreed.status = LeaveStatus::Approved;
    EXPECT_TRUE(s.desk().save(agreed)) << "who is ill asks nobody";
    s.desk().setUser(manager);
    EXPECT_EQ(must(s.desk().decideLeave(asked.id, true, "N2 covers")).decidedBy, manager);
}

TEST(LeaveStory, AWaitingRequestIsTheManagersMatterOnTheStartPage) {
    Story s;
    User coordinator;
    coordinator.name = "Casey";
    coordinator = must(s.desk().save(coordinator));
    const UserId managers = s.desk().user();
    const auto isShown = [&](UserId user) {
        const auto items = attentionFor(user, attention(*s.agency(), nullptr, nullptr), *s.agency());
        return std::ranges::find(items, AttentionKind::LeaveWaiting, &AttentionItem::kind) != items.end();
    };
    EXPECT_FALSE(isShown(managers));
    const TimeOff asked = must(s.desk().save(request(s, kMonday.plusDays(8), kMonday.plusDays(9))));
    EXPECT_TRUE(isShown(managers));
    EXPECT_FALSE(isShown(coordinator.id));
    User manager = must(s.desk().users()).front();
    ASSERT_EQ(manager.role, UserRole::NurseManager);
    manager.role = UserRole::SupplyClerk;
    must(s.desk().save(manager));
    EXPECT_TRUE(isShown(coordinator.id)) << "where no manager works with the file it is everybody's";
    manager = must(s.desk().users()).front();
    manager.role = UserRole::NurseManager;
    must(s.desk().save(manager));
    must(s.desk().decideLeave(asked.id, false, "no cover"));
    EXPECT_FALSE(isShown(managers));
}

TEST(UserStory, NobodyMarksHimselfOrTheLastManagerAsGone) {
    Story s;
    User other;
    other.name = "Casey";
    other.role = UserRole::Coordinator;
    other = must(s.desk().save(other));
    const auto refusal = [&](User user) {
        user.isActive = false;
        const auto saved = s.desk().save(user);
        EXPECT_FALSE(saved) << user.name;
        return saved ? QString() : words(saved.error());
    };
    const User manager = must(s.desk().users()).front();
    ASSERT_EQ(manager.role, UserRole::NurseManager);
    EXPECT_TRUE(refusal(manager).contains(QStringLiteral("works at this desk")));
    s.desk().setUser(other.id);
    EXPECT_TRUE(refusal(manager).contains(QStringLiteral("last nurse manager")));
    User second;
    second.name = "Robin";
    second.role = UserRole::NurseManager;
    must(s.desk().save(second));
    User gone = manager;
    gone.isActive = false;
    gone = must(s.desk().save(gone));
    EXPECT_FALSE(gone.isActive) << "another manager is there";
    gone.name += " (gone)";
    EXPECT_TRUE(s.desk().save(gone)) << "who is gone already may be corrected";
}

TEST(LeaveStory, TheDecisionStandsInTheAudit) {
    Story s;
    const TimeOff asked = must(s.desk().save(request(s, kMonday.plusDays(8), kMonday.plusDays(9))));
    must(s.desk().decideLeave(asked.id, false, "no cover"));
    const auto entries = must(s.desk().audit(5, "time_off", asked.id.value()));
    ASSERT_EQ(entries.size(), 2U);
    EXPECT_NE(entries.front().before.find("\"requested\""), std::string::npos);
    EXPECT_NE(entries.front().after.find("\"declined\""), std::string::npos);
}

TEST(KeptWhatIfStory, AQuestionIsKeptUnderAnOwnNameReopenedAndThrownAway) {
    Story s;
    KeptWhatIf kept;
    kept.name = "Summer leave";
    kept.weekStart = kMonday.plusDays(6);
    kept.kind = WhatIfKind::NurseAway;
    kept.nurse = s.nurse;
    kept.awayFrom = kMonday.plusDays(8);
    kept.awayTo = kMonday.plusDays(10);
    kept.keptOn = kMonday;
    kept.saidThen = "Not placed 0 to 2";
    kept = must(s.desk().save(kept));
    KeptWhatIf twice = kept;
    twice.id = {};
    const Problem taken = refused(s.desk().save(twice));
    EXPECT_EQ(taken.code, ProblemCode::Duplicate);
    EXPECT_EQ(taken.field, "name");
    const auto now = must(reopened(kept, *s.agency()));
    EXPECT_FALSE(now.isMoved);
    EXPECT_EQ(now.week, kept.weekStart);
    ASSERT_TRUE(now.question.away);
    EXPECT_EQ(now.question.away->from, *kept.awayFrom);

    s.now(at(kMonday.plusDays(20), 8)); // that week is over: asked of next week, day for day
    ASSERT_EQ(s.snapshot().keptWhatIfs.size(), 1U);
    const auto later = must(reopened(s.snapshot().keptWhatIfs.front(), *s.agency()));
    EXPECT_TRUE(later.isMoved);
    EXPECT_EQ(later.week, nextWeek(*s.agency()));
    EXPECT_EQ(later.question.away->from.weekday(), kept.awayFrom->weekday());
    EXPECT_EQ(later.question.away->length(), Days::of(2));
    must(s.desk().remove(s.snapshot().keptWhatIfs.front()));
    EXPECT_TRUE(s.snapshot().keptWhatIfs.empty());
}

TEST(AssignmentStory, WhoseSkillHasRunOutIsNotNamedAndTheReasonIsKept) {
    Story s;
    const auto home = s.addHome("A");
    Nurse other = *s.index().nurse(s.otherNurse);
    other.skills = {{Skill::DrainChest, kMonday}}; // no longer valid today
    must(s.desk().save(other));
    Patient patient = *s.index().patient(home.patient);
    patient.primaryNurse = s.otherNurse;
    const Problem expired = refused(s.desk().save(patient));
    EXPECT_EQ(expired.field, "primary_nurse_id");
    EXPECT_EQ(firstArg(expired), "skill_expired");
    EXPECT_TRUE(desk::words(expired).contains(desk::words(Skill::DrainChest)))
        << desk::words(expired).toStdString();
    patient.primaryNurse = s.nurse;
    patient.backupNurse = s.otherNurse;
    EXPECT_EQ(refused(s.desk().save(patient)).field, "backup_nurse_id");
    patient.backupNurse.reset();
    patient.assignmentReason = "Number 1 of 2 by added cost";
    must(s.desk().save(patient));
    EXPECT_EQ(s.index().patient(home.patient)->assignmentReason, "Number 1 of 2 by added cost");

    // A skill that runs out afterwards does not lock the record.
    Nurse nurse = *s.index().nurse(s.nurse);
    nurse.skills = {{Skill::DrainChest, kMonday}};
    must(s.desk().save(nurse));
    patient = *s.index().patient(home.patient);
    patient.notes = "a new phone";
    EXPECT_TRUE(s.desk().save(patient));
}

TEST(IntakeStory, AnAreaIsClosedWithAReasonOnceAndOpenedAgain) {
    Story s;
    IntakeClosure closure;
    closure.area = AreaKind::Rural;
    closure.from = kMonday;
    EXPECT_EQ(refused(s.desk().save(closure)).field, "reason");
    closure.reason = "N7 on leave";
    closure = must(s.desk().save(closure));
    ASSERT_NE(closureOf(*s.agency(), AreaKind::Rural, kMonday), nullptr);
    EXPECT_EQ(closureOf(*s.agency(), AreaKind::Urban, kMonday), nullptr);
    IntakeClosure twice = closure;
    twice.id = {};
    twice.from = kMonday.plusDays(30);
    EXPECT_EQ(firstArg(refused(s.desk().save(twice))), "area_closed");
    closure.to = kMonday; // open again from today on
    must(s.desk().save(closure));
    EXPECT_EQ(closureOf(*s.agency(), AreaKind::Rural, kMonday), nullptr);
}

TEST(DecisionStory, ADecisionIsNotedWithItsWeekStaysOpenAndIsClosedWithItsOutcome) {
    Story s;
    DecisionNote note;
    note.weekStart = kMonday.plusDays(9); // any day of next week
    note.kind = DecisionKind::PerDiem;
    EXPECT_EQ(refused(s.desk().save(note)).field, "text");
    note.text = "Two per-diem days";
    note = must(s.desk().save(note));
    EXPECT_EQ(note.weekStart, nextWeek(*s.agency()));
    EXPECT_EQ(note.by, s.desk().user());
    EXPECT_EQ(note.at.date, kMonday);
    EXPECT_EQ(openDecisions(*s.agency()), 1);

    s.now(at(kMonday.plusDays(15), 8));
    User other;
    other.name = "Casey";
    other = must(s.desk().save(other));
    s.desk().setUser(other.id);
    const DateRange later{kMonday.plusDays(20), kMonday.plusDays(27)};
    ASSERT_EQ(decisionsFor(*s.agency(), later).size(), 1U) << "of a former week, and open";
    EXPECT_EQ(stateText(decisionsFor(*s.agency(), later)[0]), QStringLiteral("open for 2 weeks"));
    note.closedOn = kMonday.plusDays(16);
    note.outcome = "Both came.";
    EXPECT_EQ(firstArg(refused(s.desk().save(note))), "day_to_come");
    note.closedOn = kMonday.plusDays(15);
    note.outcome.clear();
    EXPECT_EQ(refused(s.desk().save(note)).field, "outcome");
    note.outcome = "Both came.";
    note.by = other.id; // whoever closes it did not decide it
    const DecisionNote closed = must(s.desk().save(note));
    EXPECT_NE(closed.by, other.id);
    EXPECT_EQ(openDecisions(*s.agency()), 0);
    EXPECT_TRUE(decisionsFor(*s.agency(), later).empty());
    EXPECT_EQ(decisionsFor(*s.agency(), {note.weekStart, note.weekStart.plusDays(7)}).size(), 1U);
    EXPECT_EQ(allDecisions(*s.agency()).size(), 1U) << "it is never thrown away";
    const auto entries = must(s.desk().audit(5, "decision_note", note.id.value()));
    ASSERT_EQ(entries.size(), 2U);
    EXPECT_NE(entries.front().after.find("Both came."), std::string::npos);
}

TEST(AddedVisitStory, AnAsNeededVisitCountsDownAndNeverGoesBeyondTheOrder) {
    Story s;
    const auto home = s.addHome("A");
    Visit wanted;
    wanted.patient = home.patient;
    wanted.kind = VisitKind::AsNeeded;
    wanted.dueFrom = kMonday;
    wanted.dueTo = kMonday.plusDays(1);
    EXPECT_EQ(firstArg(refused(s.desk().addVisit(wanted))), "no_as_needed_order");
    VisitOrder order;
    order.patient = home.patient;
    order.start = kMonday.plusDays(-7);
    VisitSegment weekly, asNeeded;
    weekly.leastPerWeek = weekly.mostPerWeek = 2;
    weekly.weeks = 4;
    asNeeded.isAsNeeded = true;
    asNeeded.mostPerWeek = 1;
    asNeeded.weeks = 0;
    asNeeded.reason = "no flow";
    order.segments = {weekly, asNeeded};
    must(s.desk().save(order));
    const auto owedOf = [&] {
        return rounds::visitsDue(s.index(), {kMonday.plusDays(-1), kMonday.plusDays(6)});
    };
    const auto before = owedOf().size();
    must(s.desk().addVisit(wanted));
    const auto after = owedOf();
    EXPECT_EQ(after.size(), before + 1) << "the ordered visits stay owed beside it";
    EXPECT_TRUE(std::ranges::any_of(
        after, [](const rounds::DueVisit &d) { return d.visit.kind == VisitKind::AsNeeded; }));
    const Problem used = refused(s.desk().addVisit(wanted));
    EXPECT_EQ(firstArg(used), "as_needed_used");
    wanted.kind = VisitKind::SymptomFollowUp; // trouble is seen to all the same
    must(s.desk().addVisit(wanted));
    wanted.dueFrom = kMonday.plusDays(-1);
    EXPECT_EQ(refused(s.desk().addVisit(wanted)).field, "due_from");
}

TEST(AddedVisitStory, ANewOrderBesideOneInForceWouldOweTwice) {
    Story s;
    const auto home = s.addHome("A");
    VisitOrder old = s.visits(home, 2, 8, kMonday);
    VisitOrder renewed = old;
    renewed.id = {};
    renewed.start = kMonday.plusDays(16);
    EXPECT_EQ(firstArg(refused(s.desk().save(renewed))), "visit_order_in_force");
    old.end = renewed.start;
    must(s.desk().save(old));
    EXPECT_TRUE(s.desk().save(renewed));
}

TEST(HandOverStory, AnOpenCallHasAnOwnerAndStandsOnTheList) {
    Story s;
    const auto home = s.addHome("A");
    PhoneCall call;
    call.patient = home.patient;
    call.at = at(kMonday, 7, 50);
    call.caller = "a daughter";
    call.topic = CallTopic::Schedule;
    EXPECT_EQ(refused(s.desk().save(call)).field, "owner");
    call.owner = "Robin";
    must(s.desk().save(call));
    const auto paper = handOverPaper(attention(*s.agency(), nullptr, nullptr), *s.agency());
    ASSERT_TRUE(paper.sections.front().table);
    const auto &rows = paper.sections.front().table->rows;
    EXPECT_TRUE(std::ranges::any_of(rows, [](const auto &row) {
        return row.at(1).find("with Robin") != std::string::npos && row.back().empty();
    })) << "with whom it is, and room for who takes it";
}

} // namespace
} // namespace kitround::desk
