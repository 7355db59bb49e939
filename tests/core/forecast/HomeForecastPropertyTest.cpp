// Laws of the forecast over many invented homes, and a simulation that shares nothing with the recursion but
// the learned model.
#include "core/forecast/HomeForecast.h"

#include "core/base/Random.h"
#include "core/calendar/DrainCalendar.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

using namespace kitround;
using namespace kitround::forecast;
using namespace kitround::test;

namespace {

const Date kToday = Date::of(2026, 3, 4);
constexpr ItemId kKit = SmallAgency::kKit500;
constexpr int kHomes = 30;

struct Invented {
    bool withHold = false;
    std::int64_t moreStock = 0;
    int oddVolume = 0; // an odd entry of yesterday
    bool countKnown = true;
};

// The same seed gives the same home; only what `how` names differs.
SmallAgency invent(std::uint64_t seed, const Invented &how) {
    Random random(seed);
    SmallAgency agency(kToday);
    const Home home = agency.addHome(random.chance(0.7) ? CavitySite::Chest : CavitySite::Abdomen);
    DrainPattern pattern;
    switch (random.below(5)) {
    case 0:
        pattern = everyDays(1, kToday);
        break;
    case 1:
        pattern = everyDays(2, kToday.plusDays(static_cast<int>(random.below(2))));
        break;
    case 2:
        pattern = timesAWeek(3, {Weekday::Monday, Weekday::Wednesday, Weekday::Friday});
        break;
    case 3:
        pattern = timesAWeek(static_cast<int>(random.between(1, 5)));
        break;
    default:
        pattern = asNeeded(1, static_cast<int>(random.between(2, 5)));
        break;
    }
    agency.order(home, pattern);
    const std::int64_t silent = random.between(0, 6);
    for (std::int64_t d = -45; d < -silent; ++d)
        if (random.chance(std::min(0.9, calendar::drainsPerDay(pattern))))
            agency.drained(home, kToday.plusDays(d), static_cast<int>(random.between(50, 950)),
                           {{kKit, 1, random.chance(0.05) ? 1 : 0}});
    const std::int64_t counted = random.between(0, 25), countDay = random.between(0, 8);
    if (how.countKnown)
        agency.counted(home, kKit, counted + how.moreStock, kToday.plusDays(-countDay));
    if (random.chance(0.4))
        agency.delivery(home, kKit, 10, kToday.plusDays(random.between(0, 6)), DeliveryStatus::InTransit);
    if (how.withHold)
        agency.hold(home, kToday.plusDays(random.between(0, 10)), std::nullopt, kToday.plusDays(20));
    if (how.oddVolume > 0)
        agency.drained(home, kToday.plusDays(-1), how.oddVolume, {{kKit, 20, 20}});
    return agency;
}

std::vector<ItemForecast> forecastsOf(const SmallAgency &agency) {
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    return forecastHome(index, snapshot.catheters[0], {});
}

void expectNotEarlier(std::optional<Date> later, std::optional<Date> earlier, std::uint64_t seed) {
    if (later) {
        ASSERT_TRUE(earlier.has_value()) << "seed " << seed;
        EXPECT_GE(*later, *earlier) << "seed " << seed;
    }
}

} // namespace

TEST(HomeForecastPropertyTest, DistributionsAreWholeAndGrowWithTheDays) {
    for (std::uint64_t seed = 1; seed <= kHomes; ++seed)
        for (const ItemForecast &f : forecastsOf(invent(seed, {.withHold = seed % 3 == 0}))) {
            double lastMean = 0, lastDry = 0, weeks = 0;
            for (std::size_t d = 0; d < f.days.size(); ++d) {
                double sum = 0;
                for (double p : f.cumulated[d].values())
                    sum += p;
                ASSERT_NEAR(sum, 1.0, 1e-11) << "seed " << seed;
                ASSERT_GE(f.cumulated[d].mean(), lastMean - 1e-12) << "seed " << seed;
                ASSERT_GE(f.days[d].chanceDry, lastDry) << "seed " << seed;
                ASSERT_LE(f.days[d].chanceDry, 1.0);
                ASSERT_LE(f.days[d].p05, f.days[d].p25);
                ASSERT_LE(f.days[d].p25, f.days[d].p50);
                ASSERT_LE(f.days[d].p50, f.days[d].p75);
                ASSERT_LE(f.days[d].p75, f.days[d].p95);
                ASSERT_EQ(f.days[d].p50, f.cumulated[d].quantile(0.5));
                lastMean = f.cumulated[d].mean();
                lastDry = f.days[d].chanceDry;
            }
            for (const WeekUse &week : f.weeks)
                weeks += week.mean;
            // Means add up whatever ties the weeks together; quantiles do not. (A forecast week that begins
            // in the middle of an agency's week carries the week's sessions along.)
            EXPECT_NEAR(weeks, lastMean, 1e-9) << "seed " << seed;
            EXPECT_GE(f.daysOfSupply, 0.0);
            EXPECT_LE(f.daysOfSupply, 84.0);
        }
}

TEST(HomeForecastPropertyTest, MoreStockNeverRunsOutEarlier) {
    for (std::uint64_t seed = 1; seed <= kHomes; ++seed) {
        const ItemForecast less = forecastsOf(invent(seed, {}))[0];
        const ItemForecast more = forecastsOf(invent(seed, {.moreStock = 3}))[0];
        expectNotEarlier(more.runOutP10, less.runOutP10, seed);
        expectNotEarlier(more.runOutP50, less.runOutP50, seed);
        expectNotEarlier(more.plain.supplyEnds, less.plain.supplyEnds, seed);
        EXPECT_GE(more.daysOfSupply, less.daysOfSupply) << "seed " << seed;
        for (std::size_t d = 0; d < 84; ++d)
            ASSERT_LE(more.days[d].chanceDry, less.days[d].chanceDry + 1e-12) << "seed " << seed;
    }
}

TEST(HomeForecastPropertyTest, AHoldNeverRaisesUse) {
    for (std::uint64_t seed = 1; seed <= kHomes; ++seed) {
        const ItemForecast home = forecastsOf(invent(seed, {}))[0];
        const ItemForecast away = forecastsOf(invent(seed, {.withHold = true}))[0];
        for (std::size_t d = 0; d < 84; ++d) {
            ASSERT_LE(away.cumulated[d].mean(), home.cumulated[d].mean() + 1e-9)
                << "seed " << seed << " day " << d;
            ASSERT_LE(away.days[d].p50, home.days[d].p50) << "seed " << seed << " day " << d;
        }
        EXPECT_LT(away.cumulated.back().mean(), home.cumulated.back().mean()) << "seed " << seed;
    }
}

TEST(HomeForecastPropertyTest, UnknownStockNeverHasARunOutDate) {
    for (std::uint64_t seed = 1; seed <= kHomes; ++seed) {
        SmallAgency agency = invent(seed, {.countKnown = false});
        agency.edit([](Snapshot &s) { // not even a parcel to go by
            s.deliveries.clear();
        });
        for (const ItemForecast &f : forecastsOf(agency)) {
            ASSERT_EQ(f.knowledge, StockKnowledge::Unknown) << "seed " << seed;
            EXPECT_EQ(f.runOutP10, std::nullopt);
            EXPECT_EQ(f.runOutP90, std::nullopt);
            EXPECT_EQ(f.plain.supplyEnds, std::nullopt);
        }
    }
}

// Twenty kits used and twenty lost in one session, 6000 mL: one such line among a log of weeks.
TEST(HomeForecastPropertyTest, OneOddEntryMovesTheWeekByLessThanAThird) {
    for (std::uint64_t seed = 1; seed <= kHomes; ++seed) {
        const SmallAgency plain = invent(seed, {});
        if (plain.build().drainEntries.size() < 8)
            continue;
        const ItemForecast before = forecastsOf(plain)[0];
        const ItemForecast after = forecastsOf(invent(seed, {.oddVolume = 6000}))[0];
        // From the second week on: the entry may stand for a drain of this one.
        EXPECT_LT(std::abs(after.weeks[1].mean - before.weeks[1].mean), before.weeks[1].mean / 3)
            << "seed " << seed << ": " << before.weeks[1].mean << " became " << after.weeks[1].mean;
    }
}

// A simulation of whole paths: adherence drawn once a path, then day by day.
TEST(HomeForecastPropertyTest, SimulatedPathsAgreeWithinTheirOwnError) {
    constexpr int kPaths = 1000000;
    constexpr std::size_t kMostUnits = 200;
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday));
    for (int d = -30; d < -2; d += 2)
        if (d % 10 != 0)
            agency.drained(home, kToday.plusDays(d), 300 + 20 * (d % 7), {{kKit, 1, d % 8 == 0 ? 1 : 0}});
    agency.counted(home, kKit, 12, kToday.plusDays(-30));
    agency.edit([](Snapshot &s) { // as counted a month ago, less a dozen: enough for a few weeks
        s.homeCounts[0].counted = Eaches::of(26);
    });
    agency.hold(home, kToday.plusDays(10), std::nullopt, kToday.plusDays(15));
    agency.delivery(home, kKit, 4, kToday.plusDays(20), DeliveryStatus::InTransit);
    const ItemForecast f = forecastsOf(agency)[0];
    ASSERT_GT(f.onHand.count(), 5);
    const Pmf &units = f.model.items[0].perSession;
    // A drain at -2 (the entry at -4 is the last) and three inside the log that no entry stands for, at -30,
    // -20 and -10: all walked below.
    constexpr int kUnrecorded = 3;
    EXPECT_GE(f.unloggedP50.count(), 1);

    Random random(20260304);
    const auto normal = [&] { // polar method
        for (;;) {
            const double u = 2 * random.uniform() - 1, v = 2 * random.uniform() - 1, s = u * u + v * v;
            if (s > 0 && s < 1)
                return u * std::sqrt(-2 * std::log(s) / s);
        }
    };
    // Marsaglia and Tsang 2000; for a shape below 1 by the next higher one.
    const auto gamma = [&](double shape) {
        const double d = shape + 2.0 / 3.0, c = 1.0 / std::sqrt(9.0 * d);
        for (;;) {
            const double x = normal(), v = std::pow(1 + c * x, 3);
            if (v > 0 && std::log(1 - random.uniform()) < 0.5 * x * x + d - d * v + d * std::log(v))
                return d * v * std::pow(1 - random.uniform(), 1.0 / shape);
        }
    };
    std::vector<std::vector<int>> used(84, std::vector<int>(kMostUnits, 0)); // [day][units]: paths
    std::vector<int> dryBy(84, 0), thirdWeek(kMostUnits, 0);
    for (int path = 0; path < kPaths; ++path) {
        const BetaBelief &belief = f.model.adherenceAhead;
        const double g = gamma(belief.a), h = gamma(belief.b), p = g / (g + h);
        const auto unitsOfOne = [&] {
            double u = random.uniform();
            for (std::size_t k = 0; k + 1 < units.size(); ++k)
                if ((u -= units[k]) < 0)
                    return static_cast<std::int64_t>(k);
            return static_cast<std::int64_t>(units.size()) - 1;
        };
        const auto session = [&] { return random.chance(p) ? unitsOfOne() : std::int64_t{0}; };
        std::int64_t stock = f.onHand.count() - session(), sum = 0;
        const BetaBelief &unlogged = f.model.doneUnlogged;
        const double c = gamma(unlogged.a), e = gamma(unlogged.b);
        for (int i = 0; i < kUnrecorded; ++i)
            stock -= random.chance(c / (c + e)) ? unitsOfOne() : 0;
        bool inService = true, paused = false, dry = false;
        std::int64_t beforeThird = 0;
        for (int d = 0; d < 84; ++d) {
            if (d == 20)
                stock += 4;
            if (d == 10 && inService)
                paused = true;
            if (d == 14)
                beforeThird = sum;
            if (inService && !paused && d % 2 == 0)
                sum += session();
            dry = dry || (inService && sum > stock);
            ++used[static_cast<std::size_t>(d)].at(static_cast<std::size_t>(sum));
            dryBy[static_cast<std::size_t>(d)] += dry ? 1 : 0;
            if (d == 20)
                ++thirdWeek.at(static_cast<std::size_t>(sum - beforeThird));
            const double u = random.uniform();
            if (u < f.model.exitPerDay)
                inService = false;
            else if (paused && u < f.model.exitPerDay + 1.0 / 5.0)
                paused = false;
        }
    }
    const double root = std::sqrt(static_cast<double>(kPaths));
    const auto meanOf = [](const std::vector<int> &paths) { // sum over paths
        double sum = 0;
        for (std::size_t u = 0; u < paths.size(); ++u)
            sum += static_cast<double>(u) * paths[u];
        return sum;
    };
    for (std::size_t d : {0U, 5U, 13U, 25U, 50U, 83U}) {
        const double dry = dryBy[d] / static_cast<double>(kPaths), p = f.days[d].chanceDry;
        EXPECT_NEAR(dry, p, 4.5 * std::sqrt(p * (1 - p) + 1e-9) / root + 1e-6) << "day " << d;
        const double mean = meanOf(used[d]) / kPaths;
        EXPECT_NEAR(mean, f.cumulated[d].mean(), 4.5 * std::sqrt(f.cumulated[d].variance()) / root + 1e-9)
            << "day " << d;
        // Quantiles through the distribution function: where the simulation puts each, it must carry its
        // level.
        for (std::int64_t k : {f.days[d].p05, f.days[d].p25, f.days[d].p50, f.days[d].p75, f.days[d].p95}) {
            double below = 0;
            for (std::int64_t u = 0; u <= k; ++u)
                below += static_cast<double>(used[d][static_cast<std::size_t>(u)]) / kPaths;
            const double c = f.cumulated[d].cdf(k);
            EXPECT_NEAR(below, c, 4.5 * std::sqrt(c * (1 - c) + 1e-9) / root) << "day " << d << " at " << k;
        }
    }
    EXPECT_NEAR(meanOf(thirdWeek) / kPaths, f.weeks[2].mean, 0.006);
    const auto quantile = [&](double level) {
        double below = 0;
        std::int64_t u = -1;
        while (below < level * kPaths)
            below += thirdWeek[static_cast<std::size_t>(++u)];
        return u;
    };
    EXPECT_EQ(quantile(0.1), f.weeks[2].p10);
    EXPECT_EQ(quantile(0.5), f.weeks[2].p50);
    EXPECT_EQ(quantile(0.9), f.weeks[2].p90);
}
