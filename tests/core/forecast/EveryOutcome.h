#pragma once
// The forecast once more by brute force: every outcome of a short horizon.
#include "core/forecast/HomeForecast.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

namespace kitround::forecast {

inline double logBeta(double a, double b) {
    return std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b);
}

// Every outcome of a short horizon, one path at a time, the Beta belief integrated by its own formula.
struct Enumeration {
    const UseModel *model = nullptr;
    const Pmf *perSession = nullptr;
    std::vector<bool> offered; // the silent days first
    int silentDays = 0;
    std::vector<std::int64_t> stock; // by day of the horizon
    bool startsPaused = false;
    double returnChance = 0;

    std::vector<std::vector<double>> cumulated; // [day][units], the silent days' use not counted
    std::vector<double> dry;                    // by day

    void run() {
        const std::size_t days = stock.size();
        cumulated.assign(days, std::vector<double>(60, 0.0));
        dry.assign(days, 0.0);
        walk(0, true, false, 0, 0, 0, 0, false, 1.0, {});
    }

private:
    double belief(int done, int missed) const {
        const BetaBelief &b = model->adherenceAhead;
        return b.b == 0 ? (missed == 0 ? 1.0 : 0.0)
                        : std::exp(logBeta(b.a + done, b.b + missed) - logBeta(b.a, b.b));
    }
    struct Seen {
        std::vector<std::size_t> units;
        std::vector<bool> dry;
    };
    void walk(std::size_t day, bool inService, bool paused, std::size_t silentUsed, std::size_t used,
              int done, int missed, bool isDry, double chance, Seen seen) {
        if (chance == 0.0)
            return;
        const auto silent = static_cast<std::size_t>(silentDays);
        if (day == offered.size()) {
            const double p = chance * belief(done, missed);
            for (std::size_t d = 0; d < seen.units.size(); ++d) {
                cumulated[d][seen.units[d]] += p;
                dry[d] += seen.dry[d] ? p : 0.0;
            }
            return;
        }
        if (day == silent && startsPaused)
            paused = true;
        const auto after = [&](std::size_t units, int moreDone, int moreMissed, double p) {
            const bool isSilent = day < silent;
            const std::size_t nowSilent = silentUsed + (isSilent ? units : 0);
            const std::size_t nowUsed = used + (isSilent ? 0 : units);
            if (isSilent)
                return walk(day + 1, true, paused, nowSilent, nowUsed, done + moreDone, missed + moreMissed,
                            isDry, chance * p, seen);
            const bool nowDry =
                isDry || (inService && static_cast<std::int64_t>(nowSilent + nowUsed) > stock[day - silent]);
            Seen then = seen;
            then.units.push_back(nowUsed);
            then.dry.push_back(nowDry);
            const auto go = [&](bool in, bool pausedNext, double q) {
                walk(day + 1, in, pausedNext, nowSilent, nowUsed, done + moreDone, missed + moreMissed,
                     nowDry, chance * p * q, then);
            };
            if (!inService)
                return go(false, false, 1.0);
            const double h = model->exitPerDay;
            const double back = paused ? std::min(returnChance, 1.0 - h) : 0.0;
            go(false, false, h);
            if (paused)
                go(true, false, back);
            go(true, paused, 1.0 - h - back);
        };
        if (!inService || paused || !offered[day])
            return after(0, 0, 0, 1.0);
        after(0, 0, 1, 1.0);
        for (std::size_t u = 0; u < perSession->size(); ++u)
            after(u, 1, 0, (*perSession)[u]);
    }
};

// Every outcome at every level that the home's units a session may have.
inline void expectSame(const ItemForecast &f, Enumeration e) {
    const auto use = std::ranges::find(f.model.items, f.item, &ItemUse::item);
    ASSERT_NE(use, f.model.items.end());
    std::vector<UnitLevel> levels = use->levels;
    if (levels.empty())
        levels.push_back({1.0, use->perSession});
    std::vector<std::vector<double>> cumulated(e.stock.size(), std::vector<double>(60, 0.0));
    std::vector<double> dry(e.stock.size(), 0.0);
    for (const UnitLevel &level : levels) {
        e.model = &f.model;
        e.perSession = &level.perSession;
        e.run();
        for (std::size_t d = 0; d < e.stock.size(); ++d) {
            dry[d] += level.weight * e.dry[d];
            for (std::size_t u = 0; u < 60; ++u)
                cumulated[d][u] += level.weight * e.cumulated[d][u];
        }
    }
    for (std::size_t d = 0; d < e.stock.size(); ++d) {
        for (std::size_t u = 0; u < 60; ++u)
            ASSERT_NEAR(f.cumulated[d][u], cumulated[d][u], 1e-12) << "day " << d << " units " << u;
        EXPECT_NEAR(f.days[d].chanceDry, dry[d], 1e-12) << "day " << d;
    }
}

} // namespace kitround::forecast
