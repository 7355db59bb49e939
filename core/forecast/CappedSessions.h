#pragma once
// Sessions under an as-needed order at one rate, day by day: Poisson, cut at the day's maximum and at what
// the agency's week has left. Exact; what is done before the week and in it are kept apart, since only the
// latter counts towards the maximum.
#include "core/forecast/RowTable.h"

#include <vector>

namespace kitround::forecast {

// Chance of 0 .. most sessions: Poisson, all above the maximum counted at it.
std::vector<double> cappedPoisson(double mean, int most);

class CappedSessions {
public:
    // `weeklyMost` 0: no maximum a week. `doneThisWeek` sessions were done before. `countsSince` false: only
    // all of them are asked for, not those since countAfresh.
    CappedSessions(double perDay, int weeklyMost, int doneThisWeek, bool countsSince = true);

    void startWeek();            // of the agency: the maximum counts afresh
    void drainOn(int mostToday); // a day under the order
    void countAfresh();          // since() counts from here

    // Chance of so many sessions since the beginning, times `weight`, added to `to`.
    void addAll(double weight, std::vector<double> &to) const;
    // The same since countAfresh.
    void addSince(double weight, std::vector<double> &to) const;

private:
    const std::vector<double> &sessionsOf(int most);
    void drainSince(int mostToday);
    int mostAfter(std::size_t done, int mostToday) const;

    double perDay_;
    int weeklyMost_;
    bool countsSince_;
    std::size_t doneBefore_;
    std::vector<double> before_{1.0}; // sessions of the weeks that are over
    std::vector<double> week_{1.0};   // of the running week, since the beginning
    // Since countAfresh: layer by layer (sessions of the running week, those before the beginning included),
    // each `sinceWidth_` long.
    std::vector<double> since_;
    std::size_t sinceLayers_, sinceWidth_ = 1;
    std::vector<std::vector<double>> sessions_; // by maximum
    std::vector<double> nextWeek_, nextSince_;  // memory kept from day to day
};

} // namespace kitround::forecast
