// Plan against actual, and units that do not mix.
#include "core/desk/OwnFigures.h"
#include "core/supply/LeadTimes.h"
#include "tests/core/desk/Story.h"

#include <algorithm>
#include <type_traits>

namespace kitround::desk {
namespace {

// mL, bottles, kits, eaches and cases are different types: adding or assigning one to another does not
// compile.
template <class A, class B>
concept Adds = requires(A a, B b) {
    a + b;
};
static_assert(!Adds<Millilitres, Bottles> && !Adds<Bottles, Kits> && !Adds<Kits, Cases> &&
              !Adds<Cases, Eaches>);
static_assert(!std::is_convertible_v<Eaches, Cases> && !std::is_convertible_v<Kits, Eaches>);
static_assert(!std::is_convertible_v<int, Eaches> && !std::is_convertible_v<Bottles, Millilitres>);
// Every quantity a person enters says which it is.
static_assert(std::is_same_v<decltype(DeliveryLine::quantity), Eaches>);
static_assert(std::is_same_v<decltype(PurchaseLine::cases), Cases>);
static_assert(std::is_same_v<decltype(PurchaseLine::received), Eaches>);
static_assert(std::is_same_v<decltype(ReceiveLine::quantity), Eaches>);
static_assert(std::is_same_v<decltype(HomeCount::counted), Eaches>);
static_assert(std::is_same_v<decltype(BottleUse::used), Eaches>);
static_assert(std::is_same_v<decltype(DrainEntry::volume), std::optional<Millilitres>>);

std::optional<LearnedFigure> figure(const Story &s, SettingKey key) {
    for (const LearnedFigure &own : ownFigures(*s.agency()))
        if (own.key == key)
            return own;
    return std::nullopt;
}

TEST(FiguresStory, AnAgencyWithoutHistoryHasNoFiguresOfItsOwnAndLabelledDefaults) {
    Story s;
    EXPECT_TRUE(ownFigures(*s.agency()).empty());
    for (const SettingInfo &info : settingTable())
        EXPECT_FALSE(info.source.empty()) << info.name;
}

TEST(FiguresStory, VisitMinutesComeFromDoneVisitsAndReplaceTheDefaultOnceThereAreEnough) {
    Story s;
    const auto home = s.addHome("A");
    AgencySettings settings = s.desk().agency()->settings();
    settings.set(SettingKey::OwnFigureLeastN, 3);
    must(s.desk().save(settings));
    for (int day = 0; day < 3; ++day) {
        const Date on = kMonday.plusDays(day);
        Visit visit = s.publishVisit(home, on, 9);
        s.now(at(on, 12));
        visit.status = VisitStatus::Done;
        visit.startedAt = at(on, 9);
        visit.endedAt = at(on, 9, 30 + 10 * day); // 30, 40, 50: the middle is 40
        must(s.desk().closeVisit(visit));
        const auto own = figure(s, SettingKey::VisitMinutesRoutine);
        ASSERT_TRUE(own);
        EXPECT_EQ(own->n, day + 1);
        EXPECT_EQ(own->isUsed, day == 2);
        // Until then the default of 45 stands.
        EXPECT_EQ(visitLength(s.snapshot().settings, VisitKind::Routine), Minutes::of(day == 2 ? 40 : 45));
    }
    // The settings page still shows what is stored, and a value set by hand is nobody's to replace.
    EXPECT_EQ(s.agency()->settings()[SettingKey::VisitMinutesRoutine], 45);
    settings = s.agency()->settings();
    settings.set(SettingKey::VisitMinutesRoutine, 55);
    must(s.desk().save(settings));
    EXPECT_EQ(visitLength(s.snapshot().settings, VisitKind::Routine), Minutes::of(55));
}

// Half past eight in the evening in New York is the next day in UTC.
TEST(FiguresStory, AReferralCountsOnTheDayOfTheAgencysClock) {
    test::SmallAgency agency(kMonday);
    agency.addHome();
    agency.addHome();
    agency.edit([](Snapshot &s) {
        s.logFrom = kMonday.plusDays(-90);
        s.patients[0].referredAt = Instant::fromIso("2026-02-02T15:00:00Z");
        s.patients[1].referredAt = Instant::fromIso("2026-03-03T01:30:00Z"); // of today
    });
    const Agency today(agency.build());
    const auto own = ownFigures(today);
    const auto referrals =
        std::ranges::find(own, SettingKey::ReferralsPerWeekHundredths, &LearnedFigure::key);
    ASSERT_NE(referrals, own.end());
    EXPECT_EQ(referrals->n, 2);
    EXPECT_EQ(referrals->value, 50) << "two in four weeks";
}

TEST(FiguresStory, WasteVolumesAndLeadTimesAreCountedWithTheirN) {
    Story s;
    const auto home = s.addHome("A");
    for (int k = 0; k < 4; ++k) {
        DrainEntry entry = s.entry(home, at(kMonday.plusDays(-k - 1), 9), 200 + 100 * k); // mean 350
        entry.supplies = {{s.kit500, Eaches::of(2), Eaches::of(k == 0 ? 2 : 0), std::nullopt}};
        must(s.desk().logDrain(entry));
    }
    const auto waste = figure(s, SettingKey::WastePermille);
    ASSERT_TRUE(waste);
    EXPECT_EQ(waste->n, 10);
    EXPECT_EQ(waste->value, 200) << "2 lost of 10 opened";
    const auto volume = figure(s, SettingKey::PlanVolumeChest);
    ASSERT_TRUE(volume);
    EXPECT_EQ(volume->n, 4);
    EXPECT_EQ(volume->value, 350);
    EXPECT_FALSE(figure(s, SettingKey::PlanVolumeAbdomen));

    PurchaseOrder order;
    order.supplier = s.supplier;
    PurchaseLine line;
    line.item = s.kit500;
    line.cases = Cases::of(1);
    line.pack = {Eaches::of(10)};
    order.lines = {line};
    const PurchaseOrder sent = must(s.desk().sendOrder(must(s.desk().saveOrder(order)).id));
    s.now(at(kMonday.plusDays(9), 9));
    ReceiveRecord record;
    record.order = sent.id;
    record.supplier = s.supplier;
    record.at = at(kMonday.plusDays(9), 8);
    record.lines = {{s.kit500, "L1", Date::of(2027, 6, 1), Eaches::of(10), Eaches{}, false}};
    must(s.desk().receive(record));
    const auto lead = figure(s, SettingKey::LeadDays);
    ASSERT_TRUE(lead);
    EXPECT_EQ(lead->n, 1);
    EXPECT_FALSE(lead->isUsed);
    EXPECT_FALSE(supply::leadTimeOf(s.index(), *s.index().supplier(s.supplier)).isLearned);
}

} // namespace
} // namespace kitround::desk
