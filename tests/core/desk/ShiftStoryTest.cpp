// From shift to shift: what is handed over and accepted by name, the watch list, and orders that are asked
// about before they are gone on with.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/HandOverView.h"
#include "core/desk/views/WatchList.h"
#include "core/desk/words/Words.h"
#include "core/safety/OrderQuestions.h"
#include "tests/core/desk/Story.h"

#include <algorithm>
#include <map>

namespace kitround::desk {
namespace {

using test::everyDays;

struct HandedShift : Story {
    HandedShift() {
        night.name = "Casey";
        night = must(desk().save(night));
        day = desk().user();
        home = addHome("A");
        calledIn("a daughter", at(kMonday, 7, 50));
    }
    void calledIn(const std::string &caller, LocalTime when) {
        PhoneCall call;
        call.patient = home.patient;
        call.at = when;
        call.caller = caller;
        call.owner = "Robin";
        must(desk().save(call));
    }
    Result<std::vector<HandOver>> accept(const HandOver &given, const std::vector<std::string> &subjects) {
        return desk().acceptHandOvers({{given.id, subjects}});
    }
    std::vector<AttentionItem> items() const { return attention(*agency(), nullptr, nullptr); }
    HandOverBoard board() const { return handOverBoard(items(), *agency()); }
    HandOver handAll(const std::string &note = {}) {
        std::vector<HandOverItem> lines;
        for (const HandOverRow &row : board().open)
            lines.push_back(row.item);
        return must(desk().handShiftOver(lines, note));
    }
    const AttentionItem *waiting(std::vector<AttentionItem> &held) const {
        held = items();
        const auto found = std::ranges::find(held, AttentionKind::HandOverWaiting, &AttentionItem::kind);
        return found == held.end() ? nullptr : &*found;
    }
    User night;
    UserId day;
    Home home;
};

TEST(HandOverStory, ALineWaitsUntilSomebodyElseAcceptsItByName) {
    HandedShift s;
    const std::size_t open = s.board().open.size();
    ASSERT_GE(open, 1U);
    const HandOver given = s.handAll("keys are in the drawer");
    EXPECT_EQ(given.items.size(), open);
    EXPECT_EQ(s.board().waiting.size(), open);
    EXPECT_TRUE(s.board().open.empty()) << "nothing waits twice";
    EXPECT_EQ(refused(s.desk().handShiftOver(given.items, {})).field, "items");

    const std::string first = given.items.front().subject;
    const Problem own = refused(s.accept(given, {first}));
    EXPECT_TRUE(desk::words(own).contains(QStringLiteral("can't accept it as well")))
        << desk::words(own).toStdString();
    s.desk().setUser(s.night.id);
    must(s.accept(given, {first}));
    const HandOverBoard board = s.board();
    EXPECT_EQ(board.waiting.size(), open - 1);
    ASSERT_EQ(board.accepted.size(), 1U);
    EXPECT_EQ(board.accepted.front().takenBy, QStringLiteral("Casey"));
    EXPECT_EQ(board.accepted.front().takenAt, at(kMonday, 8));
    EXPECT_EQ(firstArg(refused(s.accept(given, {first}))), "accepted_already");
    EXPECT_EQ(board.open.size(), 1U) << "taken, and to be handed over again at the end of the shift";
    EXPECT_EQ(board.open.front().takenBy, QStringLiteral("Casey"));
}

TEST(HandOverStory, WhatNobodyHasAcceptedForAShiftIsChasedOnTheStartPage) {
    HandedShift s;
    const HandOver given = s.handAll();
    std::vector<AttentionItem> held;
    ASSERT_NE(s.waiting(held), nullptr);
    EXPECT_EQ(s.waiting(held)->harm, Harm::Soon);
    s.now(at(kMonday, 16, 0)); // eight hours: a shift
    EXPECT_EQ(s.waiting(held)->harm, Harm::Soon);
    s.now(at(kMonday, 16, 1));
    ASSERT_NE(s.waiting(held), nullptr);
    EXPECT_EQ(s.waiting(held)->harm, Harm::Today);
    EXPECT_TRUE(s.waiting(held)->detail.contains(QStringLiteral("longer than a shift")) ||
                s.waiting(held)->detail.contains(QStringLiteral("more than a shift")));
    EXPECT_TRUE(s.board().waiting.front().isLate);
    s.desk().setUser(s.night.id);
    std::vector<std::string> all;
    for (const HandOverItem &item : given.items)
        all.push_back(item.subject);
    must(s.accept(given, all));
    EXPECT_EQ(s.waiting(held), nullptr);
}

TEST(HandOverStory, AllThatWaitsForOneIsAcceptedInOneChangeOrNothingIs) {
    HandedShift s;
    User evening;
    evening.name = "Kim";
    evening = must(s.desk().save(evening));
    const HandOver ofDay = s.handAll();
    s.desk().setUser(evening.id);
    s.calledIn("a neighbour", at(kMonday, 7, 55));
    const HandOver ofEvening = s.handAll();
    s.desk().setUser(s.night.id);
    s.calledIn("a son", at(kMonday, 7, 58));
    const HandOver own = s.handAll();
    std::map<HandOverId, std::vector<std::string>> all, ofOthers;
    for (const HandOverRow &row : s.board().waiting) {
        all[*row.handOver].push_back(row.item.subject);
        if (row.waitsFor(s.night.id))
            ofOthers[*row.handOver].push_back(row.item.subject);
    }
    ASSERT_EQ(all.size(), 3U);
    ASSERT_EQ(ofOthers.size(), 2U) << "without one's own";
    EXPECT_FALSE(ofOthers.contains(own.id));

    const std::size_t entries = s.auditLength();
    const std::uint64_t writes = s.desk().writeCount();
    EXPECT_EQ(firstArg(refused(s.desk().acceptHandOvers(all))), "own_hand_over");
    EXPECT_EQ(s.auditLength(), entries) << "the two before it are not accepted either";
    EXPECT_TRUE(s.board().accepted.empty());
    must(s.desk().acceptHandOvers(ofOthers));
    EXPECT_EQ(s.desk().writeCount(), writes + 1);
    for (const HandOver &given : {ofDay, ofEvening})
        EXPECT_EQ(must(s.desk().audit(5, "hand_over", given.id.value())).size(), 2U) << "given and taken";
    const HandOverBoard board = s.board();
    EXPECT_EQ(board.accepted.size(), ofDay.items.size() + ofEvening.items.size());
    EXPECT_EQ(board.waiting.size(), own.items.size());
    // Of what somebody else has taken in the meantime the rest is accepted.
    s.desk().setUser(evening.id);
    ASSERT_EQ(must(s.desk().acceptHandOvers(all)).size(), 1U);
    EXPECT_TRUE(s.board().waiting.empty());
}

TEST(HandOverStory, ThePaperNamesWhoTookALineAndNoPatient) {
    HandedShift s;
    const HandOver given = s.handAll();
    s.desk().setUser(s.night.id);
    must(s.accept(given, {given.items.front().subject}));
    const Paper paper = handOverPaper(s.items(), *s.agency());
    bool isNamed = false;
    for (const Paper::Section &section : paper.sections)
        if (section.table)
            for (const auto &row : section.table->rows) {
                isNamed = isNamed || row.back().starts_with("Casey, ");
                for (const std::string &cell : row)
                    EXPECT_EQ(cell.find("Family"), std::string::npos) << cell;
            }
    EXPECT_TRUE(isNamed);
    EXPECT_TRUE(std::ranges::any_of(paper.sections.back().lines, [](const QString &line) {
        return line.contains(QStringLiteral("Casey took 1"));
    })) << paper.sections.back().lines.join(u'|').toStdString();
    const auto entries = must(s.desk().audit(5, "hand_over", given.id.value()));
    ASSERT_EQ(entries.size(), 2U);
    EXPECT_NE(entries.front().after.find("accepted_by_id"), std::string::npos);
}

struct Watch : Story {
    Watch() {
        home = addHome("A");
        order(home, everyDays(1, kMonday.plusDays(-20)), kMonday.plusDays(-20), kit500);
        for (int back = 3; back > 0; --back)
            drain(home, at(kMonday.plusDays(-back), 9), 400, kit500);
    }
    void symptom(Symptom what, LocalTime when) {
        DrainEntry made = entry(home, when, std::nullopt);
        made.outcome = DrainOutcome::NotDone; // raises its signs only
        made.symptoms = {what};
        must(desk().logDrain(made));
    }
    WatchEntry taken() {
        WatchEntry made;
        made.patient = home.patient;
        made.ownerNurse = nurse;
        made.nextStep = "Nurse calls the home";
        made.nextOn = kMonday.plusDays(1);
        for (const WatchReason &reason : watchReasons(*agency(), home.patient))
            made.known.push_back(reason.subject);
        return made;
    }
    const WatchRow &only() {
        list = watchList(*agency());
        EXPECT_EQ(list.rows.size(), 1U);
        return list.rows.front();
    }
    Home home;
    WatchList list;
};

TEST(WatchListStory, SomebodyHasAPatientWithANextStepAndItsDay) {
    Watch s;
    EXPECT_TRUE(watchList(*s.agency()).rows.empty());
    s.symptom(Symptom::Redness, at(kMonday, 7));
    EXPECT_EQ(s.only().state, WatchState::NoOwner);
    EXPECT_EQ(s.only().urgency, CautionUrgency::Today);
    WatchEntry entry = s.taken();
    entry.nextStep.clear();
    EXPECT_EQ(refused(s.desk().save(entry)).field, "next_step");
    entry = s.taken();
    entry.ownerNurse.reset();
    EXPECT_EQ(refused(s.desk().save(entry)).field, "owner");
    entry = must(s.desk().save(s.taken()));
    EXPECT_EQ(s.only().state, WatchState::Waiting);
    EXPECT_FALSE(s.only().owner.isEmpty());
    s.now(at(kMonday.plusDays(1), 8));
    EXPECT_EQ(s.only().state, WatchState::Overdue);
    const auto items = attention(*s.agency(), nullptr, nullptr);
    EXPECT_NE(std::ranges::find(items, AttentionKind::WatchDue, &AttentionItem::kind), items.end());
}

TEST(WatchListStory, WhatIsPutOffComesBackOnItsDayOrWithSomethingNew) {
    Watch s;
    s.symptom(Symptom::Redness, at(kMonday, 7));
    WatchEntry entry = s.taken();
    entry.snoozedTo = kMonday.plusDays(30);
    entry.snoozeReason = "seen yesterday";
    EXPECT_EQ(refused(s.desk().save(entry)).field, "snoozed_to_on") << "longer than the setting";
    entry.snoozedTo = kMonday.plusDays(3);
    entry.snoozeReason.clear();
    EXPECT_EQ(refused(s.desk().save(entry)).field, "snooze_reason");
    entry.snoozeReason = "seen yesterday";
    must(s.desk().save(entry));
    EXPECT_TRUE(watchList(*s.agency()).rows.empty());
    ASSERT_EQ(watchList(*s.agency()).snoozed.size(), 1U);
    s.now(at(kMonday, 12));
    s.symptom(Symptom::Fever, at(kMonday, 11));
    EXPECT_EQ(s.only().state, WatchState::New) << "news is not put off with the old";
    s.now(at(kMonday.plusDays(3), 8));
    EXPECT_NE(s.only().state, WatchState::Snoozed);
}

TEST(WatchListStory, WhatAsksForACallNowIsNotPutOff) {
    Watch s;
    s.symptom(Symptom::TubeMoved, at(kMonday, 7));
    WatchEntry entry = s.taken();
    entry.snoozedTo = kMonday.plusDays(2);
    entry.snoozeReason = "tomorrow";
    EXPECT_EQ(firstArg(refused(s.desk().save(entry))), "not_snoozed");
}

TEST(WatchListStory, ClosedWithItsOutcomeTheSameMatterStaysClosed) {
    Watch s;
    s.symptom(Symptom::Redness, at(kMonday, 7));
    WatchEntry entry = must(s.desk().save(s.taken()));
    entry.closedAt = at(kMonday, 8);
    EXPECT_EQ(refused(s.desk().save(entry)).field, "outcome");
    entry.outcome = "Seen, prescriber told, no change";
    must(s.desk().save(entry));
    EXPECT_TRUE(watchList(*s.agency()).rows.empty()) << "the call itself is still open under Today";
    ASSERT_EQ(watchList(*s.agency()).closed.size(), 1U);
    s.now(at(kMonday, 12));
    s.symptom(Symptom::Fever, at(kMonday, 11));
    ASSERT_EQ(s.only().reasons.size(), 1U) << "only what is new";
    EXPECT_EQ(s.only().state, WatchState::NoOwner);
}

TEST(WatchListStory, WhatNobodyHadBeforeThemStaysNews) {
    Watch s;
    s.symptom(Symptom::Redness, at(kMonday, 7));
    WatchEntry entry = must(s.desk().save(s.taken()));
    s.now(at(kMonday, 12));
    s.symptom(Symptom::Fever, at(kMonday, 11)); // while the outcome is being written
    entry.closedAt = at(kMonday, 12);
    entry.outcome = "Seen, prescriber told, no change";
    entry.known.push_back("no such reason");
    const WatchEntry closed = must(s.desk().save(entry));
    EXPECT_EQ(closed.known.size(), 1U) << "what is no reason is not kept as one";
    ASSERT_EQ(s.only().reasons.size(), 1U) << "the fever is not settled with the redness";
    EXPECT_EQ(s.only().state, WatchState::NoOwner);
}

TEST(WatchListStory, TheMostUrgentComesFirstThenTheLongest) {
    Watch s;
    const auto second = s.addHome("B");
    s.order(second, everyDays(1, kMonday.plusDays(-20)), kMonday.plusDays(-20), s.kit500);
    DrainEntry urgent = s.entry(second, at(kMonday, 7, 30), 400);
    urgent.symptoms = {Symptom::Collapse};
    must(s.desk().logDrain(urgent));
    s.symptom(Symptom::Redness, at(kMonday, 7));
    const WatchList list = watchList(*s.agency());
    ASSERT_EQ(list.rows.size(), 2U);
    EXPECT_EQ(list.rows.front().patient, second.patient);
    EXPECT_EQ(list.rows.front().urgency, CautionUrgency::Emergency);
}

struct Return : Story {
    Return() {
        home = addHome("A");
        given = order(home, everyDays(1, kMonday.plusDays(-20)), kMonday.plusDays(-20), kit500);
        stay.patient = home.patient;
        stay.from = kMonday.plusDays(-4);
        stay = must(desk().save(stay));
    }
    std::vector<safety::OrderQuestion> asked() const { return safety::orderQuestions(index()); }
    OrderAnswer answer() const {
        OrderAnswer made;
        made.order = given.id;
        made.at = at(kMonday, 7, 55);
        made.answeredBy = "the prescriber's office";
        made.words = "goes on as it is";
        return made;
    }
    Home home;
    DrainOrder given;
    Hold stay;
};

TEST(ReturnStory, AnOldOrderIsAskedAboutWhenThePatientComesHome) {
    Return s;
    EXPECT_TRUE(s.asked().empty()) << "away: nothing is gone on with";
    s.stay.to = kMonday;
    must(s.desk().returnHome(s.stay, {}));
    ASSERT_EQ(s.asked().size(), 1U);
    EXPECT_EQ(s.asked().front().why, safety::OrderDoubt::CameHome);
    const auto items = attention(*s.agency(), nullptr, nullptr);
    const auto item = std::ranges::find(items, AttentionKind::OrderToConfirm, &AttentionItem::kind);
    ASSERT_NE(item, items.end());
    EXPECT_EQ(item->harm, Harm::Today);
    EXPECT_TRUE(item->detail.contains(QStringLiteral("confirm with the prescriber")));
    OrderAnswer unread = s.answer();
    unread.wasReadBack = false;
    EXPECT_EQ(firstArg(refused(s.desk().recordOrderAnswer(unread))), "not_read_back");
    OrderAnswer nobody = s.answer();
    nobody.answeredBy.clear();
    EXPECT_EQ(refused(s.desk().recordOrderAnswer(nobody)).field, "answered_by");
    EXPECT_EQ(must(s.desk().recordOrderAnswer(s.answer())).takenBy, s.desk().user());
    EXPECT_TRUE(s.asked().empty());
    EXPECT_EQ(firstArg(refused(s.desk().recordOrderAnswer(s.answer()))), "not_asked");
}

TEST(ReturnStory, TheAnswerTakenWithTheReturnIsKeptWithItOrNeitherIs) {
    Return s;
    s.stay.to = kMonday;
    ASSERT_EQ(safety::questionsOnReturn(s.index(), s.stay, kMonday).size(), 1U);
    OrderAnswer unread = s.answer();
    unread.wasReadBack = false;
    EXPECT_FALSE(s.desk().returnHome(s.stay, {unread}));
    EXPECT_FALSE(s.snapshot().holds.front().to.has_value());
    must(s.desk().returnHome(s.stay, {s.answer()}));
    EXPECT_TRUE(s.snapshot().holds.front().to.has_value());
    EXPECT_TRUE(s.asked().empty());
}

TEST(ReturnStory, ANewOrderLeavesNothingToAsk) {
    Return s;
    s.stay.to = kMonday;
    must(s.desk().returnHome(s.stay, {}));
    ASSERT_EQ(s.asked().size(), 1U);
    DrainOrder fresh = s.blankOrder(s.home, everyDays(2, kMonday), kMonday, s.kit500);
    must(s.desk().acceptOrder(must(s.desk().previewOrder(fresh))));
    EXPECT_TRUE(s.asked().empty());
}

} // namespace
} // namespace kitround::desk
