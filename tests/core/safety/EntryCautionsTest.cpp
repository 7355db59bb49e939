#include "core/safety/Cautions.h"

#include "core/base/Random.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::safety {
namespace {

const Date kMonday = Date::of(2026, 3, 2);
using Evidence = std::vector<std::string>;

class EntryCautionsTest : public testing::Test {
protected:
    EntryCautionsTest() {
        catheter_.id = CatheterId(4);
        catheter_.patient = PatientId(9);
        order_.pattern.kind = DrainPatternKind::EveryNDays;
        order_.pattern.everyDays = 2;
        order_.pattern.anchor = kMonday;
        order_.mostPerSession = Millilitres::of(1000);
    }

    DrainEntry entry(int day, std::optional<int> volume, DrainOutcome outcome = DrainOutcome::Drained) {
        DrainEntry e;
        e.id = DrainEntryId(++lastId_);
        e.catheter = catheter_.id;
        e.at = {kMonday.plusDays(day), Minutes::of(540)};
        e.outcome = outcome;
        if (volume)
            e.volume = Millilitres::of(*volume);
        return e;
    }
    // Drains on even days, so that the order's interval is kept.
    void log(std::initializer_list<std::optional<int>> volumes) {
        for (const auto &volume : volumes)
            earlier_.push_back(entry(2 * nextDrain_++, volume));
    }
    std::vector<CallItem> next(std::optional<int> volume, DrainOutcome outcome = DrainOutcome::Drained) {
        return of(entry(2 * nextDrain_++, volume, outcome));
    }
    std::vector<CallItem> of(const DrainEntry &e) const {
        return cautionsOf(e, catheter_, hasOrder_ ? &order_ : nullptr, earlier_, settings_);
    }
    static const CallItem *find(const std::vector<CallItem> &items, CautionKind kind) {
        const auto at = std::ranges::find(items, kind, &CallItem::kind);
        return at == items.end() ? nullptr : &*at;
    }

    Catheter catheter_;
    DrainOrder order_;
    bool hasOrder_ = true;
    AgencySettings settings_;
    std::vector<DrainEntry> earlier_;
    std::int64_t lastId_ = 100;
    int nextDrain_ = 0;
};

TEST_F(EntryCautionsTest, AnOrdinaryDrainRaisesNothing) {
    log({500, 480, 510});
    EXPECT_TRUE(next(470).empty());
}

TEST_F(EntryCautionsTest, ThePrescribedMaximumIsAllowedAndOneMoreIsNot) {
    EXPECT_TRUE(next(1000).empty());
    const auto items = next(1001);
    ASSERT_EQ(items.size(), 1U);
    EXPECT_EQ(items[0].kind, CautionKind::OverPrescribedMaximum);
    EXPECT_EQ(items[0].evidence, (Evidence{"1001", "1000"}));
    EXPECT_EQ(items[0].subject, "entry:102:over-max");
    EXPECT_EQ(items[0].patient, PatientId(9));
    EXPECT_EQ(items[0].catheter, CatheterId(4));
    EXPECT_EQ(items[0].urgency, CautionUrgency::Today);
    EXPECT_EQ(items[0].status, CallItemStatus::Open);
}

TEST_F(EntryCautionsTest, TheCommonMaximumSpeaksOnlyWhereNoneIsPrescribed) {
    order_.mostPerSession = Millilitres::of(1500);
    EXPECT_TRUE(next(1400).empty()); // the prescriber allows it
    order_.mostPerSession = std::nullopt;
    const auto chest = next(1001);
    ASSERT_EQ(chest.size(), 1U);
    EXPECT_EQ(chest[0].kind, CautionKind::OverCommonMaximum);
    EXPECT_EQ(chest[0].evidence, (Evidence{"1001", "1000"}));
    catheter_.site = CavitySite::Abdomen;
    EXPECT_TRUE(next(2000).empty());
    hasOrder_ = false;
    EXPECT_EQ(next(2001).at(0).kind, CautionKind::OverCommonMaximum);
}

TEST_F(EntryCautionsTest, UnknownVolumeIsNotAnyVolume) {
    log({500, 40, 30});
    EXPECT_EQ(find(next(std::nullopt), CautionKind::LowOutputRun), nullptr);
    EXPECT_EQ(find(next(std::nullopt), CautionKind::SuddenDrop), nullptr);
    EXPECT_EQ(find(next(std::nullopt), CautionKind::SharpChange), nullptr);
}

TEST_F(EntryCautionsTest, ADrainBeforeItsIntervalIsTooSoon) {
    earlier_.push_back(entry(0, 500));
    EXPECT_EQ(find(of(entry(2, 500)), CautionKind::TooSoon), nullptr);
    const auto items = of(entry(1, 500));
    const CallItem *item = find(items, CautionKind::TooSoon);
    ASSERT_NE(item, nullptr);
    EXPECT_EQ(item->evidence, (Evidence{"gap", "1", "2", "2026-03-02"}));
    order_.pattern.everyDays = 1;
    EXPECT_EQ(find(of(entry(1, 500)), CautionKind::TooSoon), nullptr);
    EXPECT_NE(find(of(entry(0, 500)), CautionKind::TooSoon), nullptr); // twice on one day
}

TEST_F(EntryCautionsTest, ADrainThatWasNotDoneStartsNoInterval) {
    earlier_.push_back(entry(0, 500));
    earlier_.push_back(entry(2, std::nullopt, DrainOutcome::NotDone));
    EXPECT_EQ(find(of(entry(3, 500)), CautionKind::TooSoon), nullptr);
    EXPECT_TRUE(of(entry(0, std::nullopt, DrainOutcome::NotDone)).empty());
}

TEST_F(EntryCautionsTest, NamedWeekdaysMayMoveButNotDouble) {
    order_.pattern.kind = DrainPatternKind::TimesAWeek;
    order_.pattern.timesAWeek = 2;
    order_.pattern.weekdays = {Weekday::Monday, Weekday::Thursday};
    earlier_.push_back(entry(0, 500));
    EXPECT_EQ(find(of(entry(1, 500)), CautionKind::TooSoon), nullptr); // Tuesday instead of Thursday
    const auto items = of(entry(0, 500));
    const CallItem *item = find(items, CautionKind::TooSoon);
    ASSERT_NE(item, nullptr);
    EXPECT_EQ(item->evidence, (Evidence{"day", "2", "1", "2026-03-02"}));
}

TEST_F(EntryCautionsTest, FreeDaysCountInTheAgencysWeek) {
    order_.pattern.kind = DrainPatternKind::TimesAWeek;
    order_.pattern.timesAWeek = 2;
    earlier_ = {entry(0, 500), entry(2, 500)};
    const auto items = of(entry(4, 500)); // a third one, on Friday
    const CallItem *item = find(items, CautionKind::TooSoon);
    ASSERT_NE(item, nullptr);
    EXPECT_EQ(item->evidence, (Evidence{"week", "3", "2", "2026-03-04"}));
    EXPECT_EQ(find(of(entry(6, 500)), CautionKind::TooSoon), nullptr); // Sunday starts a new week
    settings_.weekStart = Weekday::Monday;
    EXPECT_NE(find(of(entry(6, 500)), CautionKind::TooSoon), nullptr); // here it ends the old one
}

TEST_F(EntryCautionsTest, AsNeededHoldsToItsMaxima) {
    order_.pattern.kind = DrainPatternKind::AsNeeded;
    order_.pattern.mostPerDay = 1;
    order_.pattern.mostPerWeek = 3;
    earlier_ = {entry(0, 500), entry(1, 500)};
    EXPECT_TRUE(of(entry(2, 500)).empty());
    EXPECT_EQ(find(of(entry(1, 500)), CautionKind::TooSoon)->evidence[0], "day");
    earlier_.push_back(entry(2, 500));
    EXPECT_EQ(find(of(entry(3, 500)), CautionKind::TooSoon)->evidence,
              (Evidence{"week", "4", "3", "2026-03-04"}));
    order_.pattern.mostPerDay = order_.pattern.mostPerWeek = std::nullopt;
    EXPECT_EQ(find(of(entry(3, 500)), CautionKind::TooSoon), nullptr);
}

TEST_F(EntryCautionsTest, ThreeLowDrainsAfterATaperAreALowRun) {
    log({300, 180, 90, 45, 40});
    const auto items = next(30);
    ASSERT_EQ(items.size(), 1U);
    EXPECT_EQ(items[0].kind, CautionKind::LowOutputRun);
    EXPECT_EQ(items[0].evidence, (Evidence{"3", "50", "45, 40, 30"}));
    EXPECT_EQ(items[0].subject, "low-run:104"); // the first of the run, so that the fourth raises the same
}

TEST_F(EntryCautionsTest, TwoLowDrainsAreNoRunAndFiftyIsNotLow) {
    log({90, 45});
    EXPECT_TRUE(next(40).empty());
    earlier_.clear();
    log({90, 45, 40});
    EXPECT_TRUE(next(50).empty());
}

TEST_F(EntryCautionsTest, AGrowingRunKeepsItsSubject) {
    log({90, 45, 40, 35, 30, 20, 10});
    const auto items = next(5);
    ASSERT_EQ(items.size(), 1U);
    EXPECT_EQ(items[0].subject, "low-run:102");
    EXPECT_EQ(items[0].evidence, (Evidence{"7", "50", "35, 30, 20, 10, 5"})); // the last five
}

TEST_F(EntryCautionsTest, AnUnknownVolumeBreaksNoRunAndADryTapIsZero) {
    log({90, 45, std::nullopt, 40, std::nullopt});
    const auto items = next(std::nullopt, DrainOutcome::Dry);
    ASSERT_EQ(items.size(), 1U);
    EXPECT_EQ(items[0].evidence, (Evidence{"3", "50", "45, 40, 0"}));
}

TEST_F(EntryCautionsTest, LowFromTheFirstDrainOnIsARunToo) {
    log({20, 20});
    EXPECT_NE(find(next(20), CautionKind::LowOutputRun), nullptr);
}

TEST_F(EntryCautionsTest, ASuddenFallIsNotATaper) {
    log({600});
    const auto first = next(20);
    ASSERT_EQ(first.size(), 1U);
    EXPECT_EQ(first[0].kind, CautionKind::SuddenDrop);
    EXPECT_EQ(first[0].evidence, (Evidence{"600", "20", "2026-03-04", "1"}));
    EXPECT_EQ(first[0].subject, "sudden-drop:102");
    EXPECT_EQ(first[0].urgency, CautionUrgency::Today);
    // Nor do two more low drains make it one; the subject stays.
    earlier_.push_back(entry(2, 20));
    earlier_.back().id = DrainEntryId(102);
    earlier_.push_back(entry(4, 10));
    const auto third = of(entry(6, 0));
    ASSERT_EQ(third.size(), 1U);
    EXPECT_EQ(third[0].kind, CautionKind::SuddenDrop);
    EXPECT_EQ(third[0].subject, "sudden-drop:102");
    EXPECT_EQ(third[0].evidence, (Evidence{"600", "20", "2026-03-04", "3"}));
}

TEST_F(EntryCautionsTest, ASharpChangeIsSeenBothWays) {
    log({500});
    EXPECT_TRUE(next(200).empty()); // 60 % less is the setting, not more than it
    const auto down = next(199);    // the drain before is still 500: `next` does not log
    ASSERT_EQ(down.size(), 1U);
    EXPECT_EQ(down[0].kind, CautionKind::SharpChange);
    EXPECT_EQ(down[0].evidence, (Evidence{"500", "199", "60"}));
    EXPECT_EQ(next(163).at(0).evidence[2], "67") << "67.4 %";
    EXPECT_EQ(next(162).at(0).evidence[2], "68") << "67.6 %, not cut off";
    order_.mostPerSession = Millilitres::of(3000);
    EXPECT_TRUE(next(1250).empty());
    EXPECT_EQ(next(1251).at(0).kind, CautionKind::SharpChange);
}

TEST_F(EntryCautionsTest, AmongLowVolumesNoChangeIsSharp) {
    log({40});
    EXPECT_TRUE(next(5).empty());
}

TEST_F(EntryCautionsTest, SymptomsAreSortedByHaste) {
    DrainEntry e = entry(0, 500);
    e.symptoms = {Symptom::Leak, Symptom::WorseBreathlessness, Symptom::Fever, Symptom::Cough};
    const auto items = of(e);
    ASSERT_EQ(items.size(), 3U);
    EXPECT_EQ(items[0].kind, CautionKind::SymptomEmergency);
    EXPECT_EQ(items[0].urgency, CautionUrgency::Emergency);
    EXPECT_EQ(items[0].evidence, (Evidence{"worse_breathlessness"}));
    EXPECT_EQ(items[1].kind, CautionKind::SymptomNow);
    EXPECT_EQ(items[1].evidence, (Evidence{"cough"}));
    EXPECT_EQ(items[2].kind, CautionKind::SymptomToday);
    EXPECT_EQ(items[2].evidence, (Evidence{"leak", "fever"}));
    EXPECT_EQ(items[2].subject, "entry:101:symptom-today");
}

TEST_F(EntryCautionsTest, SymptomsCountAlsoWhereNothingWasDrained) {
    DrainEntry e = entry(0, std::nullopt, DrainOutcome::NotDone);
    e.symptoms = {Symptom::SeverePain};
    EXPECT_EQ(of(e).at(0).kind, CautionKind::SymptomEmergency);
}

TEST_F(EntryCautionsTest, WhatWasStruckOutIsPassedOver) {
    DrainEntry wrong = entry(0, 5000);
    wrong.isVoid = true;
    EXPECT_TRUE(of(wrong).empty());
    earlier_ = {wrong, entry(0, 500)};
    earlier_[1].isVoid = false;
    DrainEntry corrected = entry(0, 510); // the same drain again, with the right volume
    corrected.corrects = earlier_[1].id;
    EXPECT_TRUE(of(corrected).empty());
}

TEST_F(EntryCautionsTest, NothingEverProposesAChange) {
    // Whatever is logged: an item names its patient, says its numbers and stays open; the order is not
    // touched.
    Random random(17);
    for (int round = 0; round < 2000; ++round) {
        earlier_.clear();
        nextDrain_ = 0;
        for (std::int64_t i = random.between(0, 6); i > 0; --i)
            log({random.chance(0.2) ? std::nullopt : std::optional(int(random.between(0, 1500)))});
        DrainEntry e = entry(int(random.between(0, 14)), int(random.between(0, 3000)),
                             random.chance(0.1) ? DrainOutcome::NotDone : DrainOutcome::Drained);
        if (random.chance(0.3))
            e.symptoms = {static_cast<Symptom>(random.below(kSymptomCount))};
        const DrainOrder before = order_;
        const auto items = of(e);
        EXPECT_EQ(order_, before);
        std::vector<std::string> subjects;
        for (const CallItem &item : items) {
            EXPECT_EQ(item.patient, PatientId(9));
            EXPECT_FALSE(item.evidence.empty());
            EXPECT_FALSE(item.subject.empty());
            subjects.push_back(item.subject);
        }
        std::ranges::sort(subjects);
        EXPECT_EQ(std::ranges::adjacent_find(subjects), subjects.end());
        const bool isOver = e.outcome == DrainOutcome::Drained && *e.volume > Millilitres::of(1000);
        EXPECT_EQ(find(items, CautionKind::OverPrescribedMaximum) != nullptr, isOver);
    }
}

} // namespace
} // namespace kitround::safety
