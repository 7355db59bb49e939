// A published plan changed: which homes are phoned about it, and when a home is off the list again.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/HandOverView.h"
#include "core/desk/views/PatientCalls.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

constexpr Date kWeek = Date::of(2026, 3, 1); // a Sunday; the story opens on its Monday
constexpr Date kTuesday = kMonday.plusDays(1);
constexpr Date kThursday = kMonday.plusDays(3);

class PatientCallStory : public ::testing::Test {
protected:
    PatientCallStory() : home(s.addHome("A")), visit(s.publishVisit(home, kTuesday, 9).id) {}

    static Date weekOf(Date on) { return on < kWeek.plusDays(7) ? kWeek : kWeek.plusDays(7); }
    // Published anew with the visit there; without a day it is out of the plan.
    void publish(VisitId id, std::optional<Date> on, Minutes start, NurseId nurse, bool isFinal = true) {
        Visit moved = s.visit(id);
        moved.on = on;
        moved.startAt = start;
        moved.nurse = nurse;
        const Date week = weekOf(on.value_or(moved.dueFrom));
        must(s.desk().acceptPlan(week, {moved}, 1, 0, isFinal));
    }
    void moveTo(int hour, int minute = 0) {
        publish(visit, kTuesday, Minutes::of(60 * hour + minute), s.nurse);
    }
    void takeOut() { publish(visit, std::nullopt, {}, s.nurse); }

    std::vector<PatientCall> calls() const { return patientCalls(*s.agency()); }
    PatientCall theCall() const {
        const auto all = calls();
        EXPECT_EQ(all.size(), 1U);
        return all.empty() ? PatientCall() : all.front();
    }
    VisitChange theChange() const {
        const PatientCall call = theCall();
        EXPECT_EQ(call.changes.size(), 1U);
        return call.changes.empty() ? VisitChange() : call.changes.front();
    }
    PatientTold phone(Reached reached) {
        PatientTold told = theCall().toTell;
        told.reached = reached;
        return must(s.desk().tellPatient(told));
    }
    std::vector<AttentionItem> lines(AttentionKind kind) const {
        std::vector<AttentionItem> items = attention(*s.agency(), nullptr, nullptr);
        std::erase_if(items, [&](const AttentionItem &i) { return i.kind != kind; });
        return items;
    }
    QString nameOf(NurseId nurse) const { return personName(*s.index().nurse(nurse)); }

    Story s;
    Story::Home home;
    VisitId visit;
};

TEST_F(PatientCallStory, NobodyIsPhonedAboutAPlanThatStandsOrAStartHalfAnHourOff) {
    EXPECT_TRUE(calls().empty());
    EXPECT_TRUE(lines(AttentionKind::PatientsToPhone).empty());
    moveTo(9, 30);
    EXPECT_TRUE(calls().empty()) << "as agreed";
    moveTo(9, 31);
    const PatientCall call = theCall();
    EXPECT_EQ(call.patient, home.patient);
    ASSERT_EQ(call.changes.size(), 1U);
    const VisitChange change = call.changes[0];
    EXPECT_EQ(change.was, QStringLiteral("Tue 3 Mar 09:00, ") + nameOf(s.nurse));
    EXPECT_EQ(change.now, QStringLiteral("Tue 3 Mar 09:31"));
    EXPECT_EQ(change.nurse, nameOf(s.nurse));
    EXPECT_TRUE(call.phone.isEmpty());
    EXPECT_EQ(phoneText(call), QStringLiteral("no phone on record"));
    EXPECT_TRUE(call.tried.isEmpty());
    EXPECT_TRUE(change.sentence.contains(QStringLiteral("instead of Tue 3 Mar 09:00")))
        << change.sentence.toStdString();
}

TEST_F(PatientCallStory, AnotherNurseAnotherDayAndNoVisitAreToldToo) {
    publish(visit, kTuesday, Minutes::of(540), s.otherNurse);
    EXPECT_EQ(theChange().nurse, nameOf(s.otherNurse));
    publish(visit, kThursday, Minutes::of(540), s.nurse);
    EXPECT_EQ(theChange().now, QStringLiteral("Thu 5 Mar 09:00"));
    takeOut();
    EXPECT_EQ(theChange().now, QStringLiteral("no visit"));
    EXPECT_TRUE(theChange().sentence.contains(QStringLiteral("does not take place")));
    moveTo(9);
    EXPECT_TRUE(calls().empty()) << "back where the home knows it, and nobody told it otherwise";
    s.publishVisit(home, kThursday, 9);
    EXPECT_EQ(theChange().was, QStringLiteral("not expected"));
}

TEST_F(PatientCallStory, WhoWasToldIsOffTheListUntilTheVisitMovesAgain) {
    s.now(at(kMonday, 9, 40));
    moveTo(11);
    const std::size_t audited = s.auditLength();
    const PatientTold told = phone(Reached::Relative);
    EXPECT_EQ(told.at, at(kMonday, 9, 40));
    EXPECT_EQ(told.by, s.desk().user());
    EXPECT_EQ(s.auditLength(), audited + 1);
    EXPECT_TRUE(calls().empty());
    s.closeFile();
    s.openFile();
    EXPECT_EQ(s.snapshot().patientTold, std::vector{told});
    EXPECT_TRUE(calls().empty());

    moveTo(14);
    EXPECT_TRUE(theChange().was.contains(QStringLiteral("11:00"))) << "what it was told, not the first plan";
    moveTo(11);
    EXPECT_TRUE(calls().empty());
    moveTo(9);
    EXPECT_TRUE(theChange().was.contains(QStringLiteral("11:00"))) << "told otherwise in between";
    phone(Reached::Patient);
    EXPECT_TRUE(calls().empty());
}

TEST_F(PatientCallStory, ACallThatReachedNobodyIsKeptAndTheHomeStaysOnTheList) {
    s.now(at(kMonday, 9, 40));
    moveTo(11);
    phone(Reached::Nobody);
    EXPECT_TRUE(theCall().tried.startsWith(QStringLiteral("tried 09:40, nobody answered (")))
        << theCall().tried.toStdString();
    EXPECT_TRUE(lines(AttentionKind::PatientsToPhone).at(0).detail.contains(QStringLiteral("1 was tried")));
    s.now(at(kMonday, 10, 5));
    phone(Reached::Message);
    EXPECT_TRUE(theCall().tried.startsWith(QStringLiteral("message left 10:05, not confirmed")));
    EXPECT_TRUE(theCall().tried.contains(QStringLiteral("2 calls so far")));
    moveTo(14);
    EXPECT_TRUE(theCall().tried.isEmpty()) << "nobody has tried to say this";
    moveTo(9);
    EXPECT_TRUE(theChange().was.contains(QStringLiteral("11:00"))) << "the message says otherwise";
    phone(Reached::Patient);
    EXPECT_TRUE(calls().empty());
    EXPECT_EQ(s.snapshot().patientTold.size(), 3U);
}

TEST_F(PatientCallStory, TwoCoordinatorsDoNotTickOffTheSameHome) {
    moveTo(11);
    PatientTold first = theCall().toTell;
    first.reached = Reached::Patient;
    moveTo(14);
    EXPECT_EQ(firstArg(refused(s.desk().tellPatient(first))), "visits_moved_on");
    PatientTold second = theCall().toTell;
    second.reached = Reached::Relative;
    phone(Reached::Patient);
    EXPECT_EQ(firstArg(refused(s.desk().tellPatient(first))), "visits_moved_on");
    EXPECT_EQ(firstArg(refused(s.desk().tellPatient(second))), "not_to_phone");
    first.patient = PatientId(999);
    EXPECT_EQ(refused(s.desk().tellPatient(first)).field, "patient_id");
    EXPECT_EQ(s.snapshot().patientTold.size(), 1U);
}

TEST_F(PatientCallStory, ACallThatWasMadeIsKeptAlsoWhenTheVisitBeganOrWasMadeMeanwhile) {
    s.now(at(kTuesday, 8));
    moveTo(11);
    PatientTold told = theCall().toTell;
    told.reached = Reached::Nobody;
    s.now(at(kTuesday, 11, 5));
    must(s.desk().tellPatient(told));
    Visit made = s.visit(visit);
    made.status = VisitStatus::Done;
    made.startedAt = at(kTuesday, 11);
    made.endedAt = at(kTuesday, 11, 5);
    must(s.desk().closeVisit(made));
    told.reached = Reached::Patient;
    must(s.desk().tellPatient(told));
    EXPECT_EQ(s.snapshot().patientTold.size(), 2U);
    EXPECT_TRUE(calls().empty());
}

// The rule of the form: until a person has heard it the home stays on the list.
TEST_F(PatientCallStory, AMessageLeftAfterTheVisitsStartTellsNobody) {
    s.now(at(kTuesday, 8));
    moveTo(10, 5);
    s.now(at(kTuesday, 10, 7));
    EXPECT_EQ(theChange().now, QStringLiteral("Tue 3 Mar 10:05, the nurse may be there already: call"));
    EXPECT_TRUE(theChange().sentence.endsWith(QStringLiteral("The nurse may be there already.")))
        << theChange().sentence.toStdString();
    phone(Reached::Message);
    EXPECT_TRUE(theCall().tried.startsWith(QStringLiteral("message left 10:07, not confirmed")));
    EXPECT_EQ(lines(AttentionKind::PatientsToPhone).size(), 1U);
    phone(Reached::Nobody);
    s.now(at(kTuesday, 16));
    EXPECT_EQ(calls().size(), 1U) << "it is over by the clock and nobody was told";
    const PatientTold told = phone(Reached::Relative);
    EXPECT_TRUE(calls().empty()) << "a person has heard it";
    must(s.desk().takeBackCall(told.id, "another home"));
    ASSERT_EQ(calls().size(), 1U);
    s.now(at(kTuesday.plusDays(1), 8));
    EXPECT_TRUE(calls().empty()) << "the day is over: what happened is recorded elsewhere";
}

TEST_F(PatientCallStory, AMessageLeftBeforeTheStartIsATryAndAVisitThatWasMadeNeedsNoCall) {
    s.now(at(kTuesday, 8));
    moveTo(11);
    phone(Reached::Message);
    s.now(at(kTuesday, 11, 30));
    EXPECT_EQ(calls().size(), 1U);
    Visit made = s.visit(visit);
    made.status = VisitStatus::Done;
    made.startedAt = at(kTuesday, 11);
    made.endedAt = at(kTuesday, 11, 20);
    must(s.desk().closeVisit(made));
    EXPECT_TRUE(calls().empty());
}

TEST_F(PatientCallStory, HomesOfTodayAreToldByTheirHourBeforeCallsThatAreOpenForDays) {
    const auto other = s.addHome("B");
    PhoneCall open;
    open.at = at(kMonday, 7);
    open.topic = CallTopic::Clinical;
    open.caller = "Her son";
    open.words = "the dressing is loose";
    open.owner = "whoever is in";
    must(s.desk().save(open));
    s.now(at(kTuesday, 8));
    const VisitId theirs = s.publishVisit(other, kTuesday, 9).id;
    phone(Reached::Patient); // of the new one
    publish(theirs, kTuesday, Minutes::of(600), s.nurse);
    moveTo(14);
    const std::vector<AttentionItem> all = attention(*s.agency(), nullptr, nullptr);
    const auto phoning = std::ranges::find(all, AttentionKind::PatientsToPhone, &AttentionItem::kind);
    const auto calling = std::ranges::find(all, AttentionKind::CallAbout, &AttentionItem::kind);
    ASSERT_NE(phoning, all.end());
    ASSERT_NE(calling, all.end());
    EXPECT_LT(phoning - all.begin(), calling - all.begin());
    EXPECT_EQ(phoning->title,
              QStringLiteral("2 patients to phone about changed visits, the first about 09:00 today"));
    EXPECT_EQ(handOverSubject(*phoning, *s.agency()),
              handOverSubject(lines(AttentionKind::PatientsToPhone).at(0), *s.agency()));

    // Later that day: what is still to come before what has passed.
    moveTo(10);
    publish(theirs, kTuesday, Minutes::of(840), s.nurse);
    s.now(at(kTuesday, 11));
    ASSERT_EQ(calls().size(), 2U);
    EXPECT_EQ(calls()[0].patient, other.patient);
    EXPECT_EQ(calls()[0].first.minute, Minutes::of(840));
}

TEST_F(PatientCallStory, ACallIsKeptWhereAnotherVisitOfTheHomeMovedMeanwhile) {
    const VisitId second = s.publishVisit(home, kThursday, 9).id;
    phone(Reached::Patient); // of the second one
    moveTo(11);
    PatientTold told = theCall().toTell;
    told.reached = Reached::Patient;
    publish(second, kThursday, Minutes::of(840), s.nurse);
    must(s.desk().tellPatient(told));
    EXPECT_EQ(theChange().now, QStringLiteral("Thu 5 Mar 14:00")) << "that is left to tell";
}

TEST_F(PatientCallStory, OfTwoNursesEitherMayBeNamedFirst) {
    const auto publishPair = [&](NurseId first, NurseId second, int hour) {
        Visit moved = s.visit(visit);
        moved.on = kTuesday;
        moved.startAt = Minutes::of(60 * hour);
        moved.twoNurses = true;
        moved.nurse = first;
        moved.secondNurse = second;
        must(s.desk().acceptPlan(kWeek, {moved}, 1, 0, true));
    };
    publishPair(s.nurse, s.otherNurse, 11);
    phone(Reached::Patient);
    publishPair(s.otherNurse, s.nurse, 11);
    EXPECT_TRUE(calls().empty());
    publishPair(s.otherNurse, s.nurse, 12);
    EXPECT_EQ(theChange().now, QStringLiteral("Tue 3 Mar 12:00"));
}

TEST_F(PatientCallStory, WhoNeedsNoCallIsLeftOut) {
    const auto byPhone = s.addHome("P");
    const VisitId chat = s.publishVisit(byPhone, kTuesday, 10, VisitKind::Phone).id;
    publish(chat, kTuesday, Minutes::of(840), s.otherNurse);
    EXPECT_TRUE(calls().empty()) << "that call tells by itself";

    takeOut();
    EXPECT_EQ(calls().size(), 1U);
    Hold hold;
    hold.patient = home.patient;
    hold.kind = HoldKind::Hospital;
    hold.from = kMonday;
    hold = must(s.desk().save(hold));
    EXPECT_TRUE(calls().empty()) << "nobody waits at home";
    hold.to = kMonday;
    must(s.desk().save(hold));
    EXPECT_EQ(calls().size(), 1U) << "home again the same day";
}

TEST_F(PatientCallStory, WhoLeftServiceIsNotPhoned) {
    moveTo(11);
    ASSERT_EQ(calls().size(), 1U);
    must(s.desk().exitPatient({home.patient, CareStatus::Deceased, s.utc(at(kMonday, 7)), "died at home"}));
    EXPECT_TRUE(calls().empty());
}

TEST_F(PatientCallStory, ADraftIsNotInForceAndWhatHasBegunIsStillTold) {
    publish(visit, kTuesday, Minutes::of(840), s.nurse, false);
    EXPECT_TRUE(calls().empty());
    moveTo(11);
    EXPECT_EQ(calls().size(), 1U);
    publish(visit, kTuesday, Minutes::of(840), s.nurse, false);
    EXPECT_TRUE(theChange().now.contains(QStringLiteral("11:00"))) << "what was published has to be told";
    moveTo(11);
    s.now(at(kTuesday, 10, 59));
    EXPECT_EQ(calls().size(), 1U);
    s.now(at(kTuesday, 11, 1));
    EXPECT_TRUE(theChange().now.contains(QStringLiteral("the nurse may be there already")));
}

TEST_F(PatientCallStory, APlaceThatWasSetOnlyAfterItsHourIsTold) {
    s.now(at(kTuesday, 12));
    moveTo(11);
    EXPECT_TRUE(theChange().now.contains(QStringLiteral("11:00"))) << "nobody came: it was set at noon";
    phone(Reached::Patient);
    EXPECT_TRUE(calls().empty());
}

TEST_F(PatientCallStory, VisitsOfOneKindThatChangePlacesAreAsBeforeToTheHome) {
    const VisitId second = s.publishVisit(home, kThursday, 9).id;
    phone(Reached::Patient); // of the second one
    publish(visit, kThursday, Minutes::of(540), s.nurse);
    publish(second, kTuesday, Minutes::of(540), s.nurse);
    EXPECT_TRUE(calls().empty());
    publish(second, kTuesday.plusDays(1), Minutes::of(540), s.nurse);
    const PatientCall call = theCall();
    ASSERT_EQ(call.changes.size(), 1U) << sentencesOf(call).toStdString();
    EXPECT_EQ(call.changes[0].was, QStringLiteral("Tue 3 Mar 09:00, ") + nameOf(s.nurse));
    EXPECT_EQ(call.changes[0].now, QStringLiteral("Wed 4 Mar 09:00"));
    EXPECT_EQ(call.toTell.visits.size(), 2U) << "both are as told from then on";
    phone(Reached::Patient);
    EXPECT_TRUE(calls().empty());
}

TEST_F(PatientCallStory, NextWeeksChangesAreToldAsSoonAsTheyArePublished) {
    const Date far = kWeek.plusDays(9);
    const VisitId later = s.publishVisit(s.addHome("B"), far, 9).id;
    EXPECT_TRUE(calls().empty());
    publish(later, far, Minutes::of(840), s.nurse);
    EXPECT_TRUE(theChange().was.contains(QStringLiteral("09:00"))) << "a working week before it";
    EXPECT_EQ(lines(AttentionKind::PatientsToPhone).at(0).harm, Harm::Soon);
}

TEST_F(PatientCallStory, AVisitBroughtForwardFromALaterWeekIsNotNewToTheHome) {
    const Date later = kWeek.plusDays(9);
    const VisitId far = s.publishVisit(s.addHome("B"), later, 9).id;
    publish(far, kThursday, Minutes::of(600), s.nurse);
    const VisitChange change = theChange();
    EXPECT_EQ(change.was, QStringLiteral("Tue 10 Mar 09:00, ") + nameOf(s.nurse));
    EXPECT_EQ(change.now, QStringLiteral("Thu 5 Mar 10:00"));
    phone(Reached::Patient);
    EXPECT_TRUE(calls().empty());
}

TEST_F(PatientCallStory, ThePaperNamesWhomToAskForTheCopyHasInitialsAndBothHaveEveryHome) {
    const auto rowsOf = [&] {
        const Paper paper = patientCallPaper(calls(), *s.agency());
        const auto &table = paper.sections.front().table;
        return table ? table->rows : std::vector<std::vector<std::string>>();
    };
    EXPECT_TRUE(rowsOf().empty());
    moveTo(11);
    phone(Reached::Nobody);
    const auto rows = rowsOf();
    ASSERT_EQ(rows.size(), 1U);
    const PatientCall call = theCall();
    const std::string was = theChange().was.toStdString(), nurse = nameOf(s.nurse).toStdString();
    const std::string who = personName(*s.index().patient(home.patient)).toStdString();
    const std::string kind = words(s.visit(visit).kind).toStdString();
    EXPECT_EQ(rows[0], (std::vector<std::string>{who, "no phone on record", kind, was, "Tue 3 Mar 11:00",
                                                 nurse, call.tried.toStdString(), ""}));
    ASSERT_FALSE(call.tried.isEmpty());
    EXPECT_TRUE(patientCallPaper(calls(), *s.agency()).landscape);

    const Table copy = patientCallTable(calls(), *s.agency());
    EXPECT_EQ(copy.rows,
              (std::vector<std::vector<std::string>>{{"2026-03-03T09:00", "A", "G.F.", "", kind, was,
                                                      "Tue 3 Mar 11:00", nurse, call.tried.toStdString()}}));
    EXPECT_EQ(copy.rows[0].size(), copy.columns.size());
}

TEST_F(PatientCallStory, TwoChangedVisitsOfOneHomeAreTwoRowsAndTheHomeIsNamedOnce) {
    const VisitId second = s.publishVisit(home, kThursday, 9).id;
    phone(Reached::Patient); // of the second one
    moveTo(11);
    publish(second, kThursday, Minutes::of(840), s.otherNurse);
    const auto lines = callLines(calls());
    ASSERT_EQ(lines.size(), 2U);
    EXPECT_TRUE(lines[0].isFirst);
    EXPECT_FALSE(lines[1].isFirst);
    EXPECT_EQ(lines[0].change.now, QStringLiteral("Tue 3 Mar 11:00"));
    EXPECT_EQ(lines[1].change.now, QStringLiteral("Thu 5 Mar 14:00"));
    EXPECT_EQ(lines[1].change.nurse, nameOf(s.otherNurse));
    EXPECT_EQ(sentencesOf(theCall()).count(u'\n'), 1);

    const Paper paper = patientCallPaper(calls(), *s.agency());
    const auto &table = paper.sections.front().table;
    ASSERT_TRUE(table);
    ASSERT_EQ(table->rows.size(), 2U);
    EXPECT_FALSE(table->rows[0][0].empty());
    EXPECT_TRUE(table->rows[1][0].empty());
    EXPECT_EQ(table->rows[1][4], "Thu 5 Mar 14:00");
    EXPECT_EQ(table->columns.size(), 7U) << "nobody was tried: no empty column takes the room to write";
    EXPECT_EQ(table->rows[0].size(), table->columns.size());

    const Table copy = patientCallTable(calls(), *s.agency());
    ASSERT_EQ(copy.rows.size(), 2U);
    EXPECT_EQ(copy.rows[1][1], "A") << "a copy names the home in every row";
}

TEST_F(PatientCallStory, ACallWrittenDownWronglyIsTakenBackAndStaysOnRecord) {
    s.now(at(kMonday, 9, 40));
    moveTo(11);
    const PatientTold told = phone(Reached::Patient);
    ASSERT_TRUE(calls().empty());
    EXPECT_EQ(refused(s.desk().takeBackCall(told.id, " ")).field, "taken_back_why");
    EXPECT_EQ(refused(s.desk().takeBackCall(PatientToldId(999), "wrong row")).code,
              ProblemCode::UnknownRecord);
    ASSERT_TRUE(calls().empty());

    s.now(at(kMonday, 9, 45));
    const std::size_t audited = s.auditLength();
    const PatientTold back = must(s.desk().takeBackCall(told.id, "wrong row"));
    EXPECT_EQ(s.auditLength(), audited + 1);
    EXPECT_EQ(back.takenBackAt, at(kMonday, 9, 45));
    EXPECT_EQ(back.takenBackBy, s.desk().user());
    EXPECT_EQ(back.visits, told.visits) << "what was said then is kept";
    EXPECT_EQ(firstArg(refused(s.desk().takeBackCall(told.id, "again"))), "already");

    EXPECT_TRUE(theChange().was.contains(QStringLiteral("09:00"))) << "it never heard of eleven";
    EXPECT_EQ(lines(AttentionKind::PatientsToPhone).size(), 1U);
    s.closeFile();
    s.openFile();
    EXPECT_EQ(s.snapshot().patientTold, std::vector{back});
    phone(Reached::Relative);
    EXPECT_TRUE(calls().empty());
}

TEST_F(PatientCallStory, ACallOnRecordIsNotWrittenOverAndNoneIsMadeTakenBack) {
    s.now(at(kMonday, 9, 40));
    moveTo(11);
    PatientTold wanted = theCall().toTell;
    wanted.reached = Reached::Patient;
    wanted.takenBackAt = at(kMonday, 9);
    wanted.takenBackBy = s.desk().user();
    wanted.takenBackWhy = "of another call";
    const PatientTold told = must(s.desk().tellPatient(wanted));
    EXPECT_FALSE(told.isTakenBack());
    EXPECT_TRUE(told.takenBackWhy.empty());
    EXPECT_TRUE(calls().empty());
    moveTo(13);
    PatientTold over = theCall().toTell;
    over.reached = Reached::Patient;
    over.id = told.id;
    over.rowVersion = told.rowVersion;
    const Problem stored = refused(s.desk().tellPatient(over));
    EXPECT_EQ(stored.field, "id");
    EXPECT_EQ(firstArg(stored), "stored");
    EXPECT_EQ(s.snapshot().patientTold, std::vector{told});
}

TEST_F(PatientCallStory, ATryThatWasTakenBackIsNotCounted) {
    s.now(at(kMonday, 9, 40));
    moveTo(11);
    const PatientTold wrong = phone(Reached::Message);
    must(s.desk().takeBackCall(wrong.id, "the neighbour's number"));
    EXPECT_TRUE(theCall().tried.isEmpty());
    moveTo(9);
    EXPECT_TRUE(calls().empty()) << "no message says otherwise";
}

TEST_F(PatientCallStory, CallsSinceYesterdayAreListedTheNewestFirst) {
    s.now(at(kMonday, 9, 40));
    moveTo(11);
    const PatientTold tried = phone(Reached::Nobody);
    s.now(at(kMonday, 10, 5));
    phone(Reached::Patient);
    must(s.desk().takeBackCall(tried.id, "wrong row"));
    const auto recorded = recordedCalls(*s.agency());
    ASSERT_EQ(recorded.size(), 2U);
    EXPECT_EQ(recorded[0].at, QStringLiteral("10:05"));
    EXPECT_EQ(recorded[0].reached, QStringLiteral("the patient"));
    EXPECT_FALSE(recorded[0].by.isEmpty());
    EXPECT_EQ(recorded[0].about, QStringLiteral("Tue 3 Mar 11:00, ") + nameOf(s.nurse));
    EXPECT_TRUE(recorded[0].putBack.isEmpty());
    EXPECT_TRUE(recorded[1].putBack.startsWith(QStringLiteral("put back 10:05 (")))
        << recorded[1].putBack.toStdString();
    EXPECT_TRUE(recorded[1].putBack.endsWith(QStringLiteral("wrong row")));
    s.now(at(kTuesday, 8));
    EXPECT_EQ(recordedCalls(*s.agency()).size(), 2U);
    EXPECT_EQ(recordedCalls(*s.agency())[0].at, QStringLiteral("Mon 2 Mar 10:05"));
    s.now(at(kTuesday.plusDays(1), 8));
    EXPECT_TRUE(recordedCalls(*s.agency()).empty());
}

TEST_F(PatientCallStory, TodayHasOneLineForAllAndTheNursesLinesNameTheHomes) {
    const auto other = s.addHome("B");
    const VisitId theirs = s.publishVisit(other, kThursday, 9).id;
    phone(Reached::Patient); // of the new one
    publish(theirs, kThursday, Minutes::of(840), s.nurse);
    publish(visit, kTuesday, Minutes::of(540), s.otherNurse);
    ASSERT_EQ(calls().size(), 2U);
    EXPECT_EQ(calls()[0].patient, home.patient) << "the first visit first";
    const auto phoning = lines(AttentionKind::PatientsToPhone);
    ASSERT_EQ(phoning.size(), 1U);
    EXPECT_EQ(phoning[0].title, QStringLiteral("2 patients to phone about changed visits"));
    EXPECT_EQ(phoning[0].harm, Harm::Today);
    EXPECT_EQ(phoning[0].dueOn, kTuesday);
    const auto nurses = lines(AttentionKind::PlanChanged);
    const auto got = std::ranges::find(nurses, std::optional(s.otherNurse), &AttentionItem::nurse);
    ASSERT_NE(got, nurses.end());
    EXPECT_TRUE(got->detail.contains(QStringLiteral("list of patients to phone: G. Family A.")))
        << got->detail.toStdString();

    PatientTold told = calls()[0].toTell;
    told.reached = Reached::Patient;
    must(s.desk().tellPatient(told));
    const auto left = lines(AttentionKind::PatientsToPhone);
    ASSERT_EQ(left.size(), 1U);
    EXPECT_EQ(left[0].title, QStringLiteral("1 patient to phone about changed visits"));
    EXPECT_EQ(handOverSubject(left[0], *s.agency()), handOverSubject(phoning[0], *s.agency()))
        << "the same matter for the next shift";
    const auto after = lines(AttentionKind::PlanChanged);
    const auto still = std::ranges::find(after, std::optional(s.otherNurse), &AttentionItem::nurse);
    ASSERT_NE(still, after.end());
    EXPECT_TRUE(still->detail.contains(QStringLiteral("None of these patients waits for a call")));
}

} // namespace
} // namespace kitround::desk
