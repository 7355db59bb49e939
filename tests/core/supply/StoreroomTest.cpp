// Demand on the storeroom: sums of counts, and what the homes of tiny agencies ask for.
#include "core/supply/Storeroom.h"
#include "core/base/Random.h"
#include "core/supply/CountSum.h"
#include "core/supply/RefillNeeds.h"
#include "tests/core/supply/HandMade.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace kitround::supply {
namespace {

using forecast::Pmf;
using test::Home;
using test::SmallAgency;
using test::steadyHome;

const Date kMonday = Date::of(2026, 3, 2);
constexpr ItemId kKit = SmallAgency::kKit500;

// Panjer, ASTIN Bulletin 12, 1981 (from memory); values computed by recursion and FFT
// (rows PAN-001 to 004 and 009 to 012).
TEST(CountSumTest, CompoundPoissonAgreesWithPublishedRecursion) {
    const CountPart a = compoundPoisson(2.5, Pmf({0, 0.7, 0.2, 0.1}));
    EXPECT_NEAR(a.chances.at(0), 0.0820849986238988, 1e-12);
    EXPECT_NEAR(a.chances.at(3), 0.16566633836854577, 1e-12);
    EXPECT_NEAR(a.chances.at(5), 0.1075274737426198, 1e-12);
    EXPECT_EQ(sumOf({a}).distribution.quantile(0.99), 11);
    const CountPart b = compoundPoisson(8, Pmf({0, 0.9, 0.1}));
    EXPECT_NEAR(b.chances.at(0), 0.00033546262790251185, 1e-12);
    EXPECT_NEAR(b.chances.at(3), 0.022800723893277926, 1e-12);
    EXPECT_NEAR(b.chances.at(16), 0.012453320159186265, 1e-12);
    EXPECT_EQ(sumOf({b}).distribution.quantile(0.99), 17);
    EXPECT_NEAR(b.mean, 8.8, 1e-12);
    EXPECT_NEAR(b.variance, 8 * (0.9 + 0.4), 1e-12);
}

TEST(CountSumTest, ATreeOfPartsIsTheSumByBruteForce) {
    Random random(7);
    for (int round = 0; round < 20; ++round) {
        std::vector<CountPart> parts;
        std::map<std::int64_t, double> brute{{0, 1.0}};
        for (int i = 0; i < 7; ++i) {
            std::vector<double> p(2 + random.below(5));
            double sum = 0;
            for (double &x : p)
                sum += x = random.uniform() * static_cast<double>(random.below(2)) + 1e-3;
            for (double &x : p)
                x /= sum;
            const auto least = static_cast<std::int64_t>(random.below(4));
            std::map<std::int64_t, double> next;
            for (const auto &[value, chance] : brute)
                for (std::size_t k = 0; k < p.size(); ++k)
                    next[value + least + static_cast<std::int64_t>(k)] += chance * p[k];
            brute = next;
            parts.push_back(partOf(least, p));
        }
        const CountTotal total = sumOf(parts);
        ASSERT_TRUE(total.isExact);
        double mean = 0;
        for (const auto &[value, chance] : brute) {
            EXPECT_NEAR(total.distribution[static_cast<std::size_t>(value)], chance, 1e-12);
            mean += chance * static_cast<double>(value);
        }
        EXPECT_NEAR(total.mean, mean, 1e-9);
    }
}

TEST(CountSumTest, TheApproximationIsCloseInTheTailWhereFewAreDue) {
    // 400 homes, each sent 15 with a chance of 3 %: far from normal. Exact: 15 times a binomial.
    std::vector<double> one(16, 0.0);
    one[0] = 0.97;
    one[15] = 0.03;
    const std::vector<CountPart> parts(400, partOf(0, one));
    double mean = 0, variance = 0, third = 0;
    for (const CountPart &p : parts) {
        mean += p.mean;
        variance += p.variance;
        third += p.thirdCentral;
    }
    const CountTotal exact = sumOf(parts);
    ASSERT_TRUE(exact.isExact);
    const Pmf near = translatedGamma(mean, variance, third);
    EXPECT_NEAR(near.mean(), exact.mean, 0.5);
    for (const double p : {0.9, 0.95, 0.98, 0.99})
        EXPECT_LE(std::abs(near.quantile(p) - exact.distribution.quantile(p)), 15) << p; // one shipment
}

// Monday to Friday, a day on the way, the call a day before: from the last day that holds the target back to
// the call it is 2 days on Wednesday to Friday; 4 on Monday and Tuesday; 3 and 4 on Saturday and Sunday.
constexpr std::int64_t kCallDays = 3; // 21 in 7 days

struct HandLine { // what the demand is made of, computed here once more
    const forecast::ItemForecast *forecast;
    std::int64_t stock, lot;
    std::int64_t asksBelow() const { return forecast->cumulated[kCallDays - 1].quantile(0.98); }
    std::int64_t spare() const { return stock - asksBelow(); }
};

// Deliveries by the use of the line that asks first: chance of each number of them.
std::map<std::int64_t, double> countedOn(const HandLine &line, std::int64_t days, double quiet) {
    std::map<std::int64_t, double> counts;
    double asked = 0;
    const Pmf &use = line.forecast->cumulated[static_cast<std::size_t>(days - 1)];
    for (std::size_t u = 0; u < use.size(); ++u)
        if (const std::int64_t open = static_cast<std::int64_t>(u) - line.spare(); open > 0) {
            counts[(open + line.lot - 1) / line.lot] += use[u];
            asked += use[u];
        }
    for (auto &[count, chance] : counts)
        chance *= (1 - quiet) / asked;
    counts[0] = quiet;
    return counts;
}

TEST(StoreroomTest, DemandOfTinyAgenciesIsTheBruteForceOverEveryUse) {
    SmallAgency agency(kMonday);
    agency.edit([](Snapshot &s) {
        s.settings.set(SettingKey::BufferSessions, 0);
        s.settings.set(SettingKey::ReferralsPerWeekHundredths, 0);
        s.settings.set(SettingKey::RunOutTargetPermille, 20);
        s.payers.front().mostDaysHeld = Days::of(14);
    });
    std::vector<forecast::ItemForecast> forecasts;
    const std::vector<std::pair<int, int>> homes = {{3, 1}, {9, 2}, {0, 1}};
    for (const auto &[stock, every] : homes) {
        const Home home = agency.addHome();
        forecasts.push_back(steadyHome(home.catheter, home.patient, kKit, stock, every, 0.7));
    }
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const std::int64_t days = 9;
    // What the refill rule sends by hand. 3 of every day: asked for at once, there on Tuesday; 14 days' plan
    // less the 2 left. 9 of every other day: the last day that holds 2 % is beyond two weeks.
    std::map<std::int64_t, double> brute{{0, 1.0}};
    for (std::size_t h = 0; h < homes.size(); ++h) {
        const HandLine line{&forecasts[h], homes[h].first, homes[h].second == 1 ? 11 : 6}; // 14 - 3 days
        const Pmf &use = forecasts[h].cumulated[static_cast<std::size_t>(days - 1)];
        const double quiet = 1 - use.above(line.spare());
        const RefillTerms terms = refillTermsOf(index, *index.patient(forecasts[h].patient));
        const HomeLine home(forecasts[h], kMonday);
        const std::int64_t before =
            std::max<std::int64_t>((*home.deliverBy(terms.target, 1) - kMonday).count(), 1);
        const std::int64_t first = refillQuantity(*refillNeedOf(home, *index.item(kKit), terms,
                                                                snapshot.settings, before, before + 14))
                                       .quantity.count();
        std::map<std::int64_t, double> next;
        for (const auto &[sum, chance] : brute)
            for (const auto &[count, counted] : countedOn(line, days, quiet))
                next[sum + (count == 0 ? 0 : first + (count - 1) * line.lot)] += chance * counted;
        brute = next;
    }
    const ItemDemand demand = storeroomDemand(index, forecasts, kKit, Days::of(days));
    ASSERT_TRUE(demand.isExact);
    double mean = 0;
    for (const auto &[value, chance] : brute) {
        EXPECT_NEAR(demand.total[static_cast<std::size_t>(value)], chance, 1e-12) << value;
        mean += chance * static_cast<double>(value);
    }
    EXPECT_NEAR(demand.mean, mean, 1e-9);
    EXPECT_EQ(demand.meanByWeek.size(), 12U);
}

// The bottles run short tomorrow, the kits last for weeks: one delivery brings both, whole weeks before the
// kits would have asked.
TEST(StoreroomTest, ALineThatIsNotDueYetRidesWithTheOneThatIs) {
    SmallAgency agency(kMonday);
    agency.edit([](Snapshot &s) { s.settings.set(SettingKey::ReferralsPerWeekHundredths, 0); });
    const Home home = agency.addHome();
    const ItemId bottle = SmallAgency::kBottle500;
    const auto demandWith = [&](int bottles) {
        const std::vector forecasts = {steadyHome(home.catheter, home.patient, kKit, 20, 1),
                                       steadyHome(home.catheter, home.patient, bottle, bottles, 1)};
        const Snapshot snapshot = agency.build();
        const SnapshotIndex index(snapshot);
        return storeroomDemand(index, forecasts, kKit, Days::of(7)).mean;
    };
    EXPECT_EQ(demandWith(20), 0);
    EXPECT_GT(demandWith(2), 5); // what two weeks and more have used of them by then
}

// A home's answer is kept for its other lines: whatever was asked before makes no difference.
TEST(StoreroomTest, WhatWasAskedBeforeChangesNoAnswer) {
    SmallAgency agency(kMonday);
    std::vector<forecast::ItemForecast> forecasts;
    for (int i = 0; i < 3; ++i) {
        const test::Home home = agency.addHome();
        for (const ItemId item : {kKit, SmallAgency::kBottle500})
            forecasts.push_back(steadyHome(home.catheter, home.patient, item, 5 + 4 * i, 1, 0.8));
    }
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const StoreroomModel asked(index, forecasts);
    for (const std::int64_t days : {7, 28, 7, 14})
        for (const ItemId item : {kKit, SmallAgency::kBottle500}) {
            const StoreroomModel fresh(index, forecasts);
            EXPECT_EQ(asked.meanOver(item, Days::of(days)), fresh.meanOver(item, Days::of(days)));
            EXPECT_EQ(asked.demand(item, Days::of(days)).variance,
                      fresh.demand(item, Days::of(days)).variance);
        }
}

TEST(StoreroomTest, ReferralsAddTheirStarterSets) {
    SmallAgency agency(kMonday);
    const Home home = agency.addHome();
    const std::vector forecasts = {steadyHome(home.catheter, home.patient, kKit, 80, 1)};
    agency.edit([](Snapshot &s) {
        s.settings.set(SettingKey::ReferralsPerWeekHundredths, 200);
        s.settings.set(SettingKey::StarterDays, 30);
    });
    Snapshot snapshot = agency.build();
    {
        const SnapshotIndex index(snapshot);
        const ItemDemand demand = storeroomDemand(index, forecasts, kKit, Days::of(7));
        EXPECT_NEAR(demand.meanFromReferrals, 2 * 30, 1e-9); // two a week, 30 days of one a day
        EXPECT_NEAR(demand.total[0], std::exp(-2.0), 1e-9);  // nobody comes, and the home needs nothing
    }
    snapshot.settings.set(SettingKey::ReferralsPerWeekHundredths, 0);
    const SnapshotIndex index(snapshot);
    EXPECT_EQ(storeroomDemand(index, forecasts, kKit, Days::of(7)).mean, 0);
}

} // namespace
} // namespace kitround::supply
