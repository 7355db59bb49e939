#pragma once
// How many sessions a home will have done, by day, as long as it stays in service: what all items of one
// order share. Units follow item by item (RowTable's mixRows), and leaving is laid over it (it does not
// depend on the home's state).
//
// Offers of one planned order are exchangeable: any m of them have the same distribution, the Beta-binomial,
//   P(n done of m + 1) = P(n of m) (b + m - n) / (a + b + m) + P(n - 1 of m) (a + n - 1) / (a + b + m),
// so days, weeks and silent days read one table; drains beyond the order are Beta-binomial over the days,
// and independent. As-needed sessions are counted at each point of the rate (CappedSessions); with a hold
// without an end the recursion counts.
#include "core/forecast/DayKernels.h"
#include "core/forecast/RowTable.h"

#include <cstddef>
#include <vector>

namespace kitround::forecast {

// Row m: sessions done of m offered, for m = 0 .. offers.
void addBetaBinomialRows(const BetaBelief &belief, std::size_t offers, RowTable &to);

class SessionCounts {
public:
    // Precondition: home.hasOneOrder(). Memory is kept from build to build.
    void build(const HomeQuestion &home, UseRecursion &recursion);
    // Rows over the silent days from `silentFrom` (timeline index) on; see sinceSilent.
    void buildSince(std::size_t silentFrom, UseRecursion &recursion);

    const RowTable &rows() const { return rows_; }
    // Row numbers. From the as-of day up to and with day d of the horizon.
    std::size_t upTo(std::size_t d) const { return upTo_[d]; }
    // From day 7 w of the horizon to day 7 w + i, that one included.
    std::size_t inWeek(std::size_t w, std::size_t i) const { return inWeek_[7 * w + i]; }
    std::size_t silent() const { return silent_; }                     // before the as-of day
    std::size_t sinceSilent(std::size_t d) const { return since_[d]; } // the silent days and up to d

private:
    struct Span { // of days: drains planned on them, and days under an order
        std::size_t offers = 0;
        std::size_t days = 0;
        void add(const DayPlan &day) {
            offers += day.isOffered ? 1U : 0U;
            days += day.order ? 1U : 0U;
        }
    };
    Span spanOf(std::size_t from, std::size_t to) const;
    std::size_t rowOf(const Span &span);
    void readOffers();
    void countAsNeeded();
    void countAsNeededSince(std::size_t silentFrom);
    void recur(UseRecursion &recursion);
    void night(UseRecursion &recursion, std::size_t d) const; // after day d of the horizon
    std::size_t addRow(std::span<const double> p);

    const HomeQuestion *home_ = nullptr;
    RowTable rows_;
    RowTable offered_, beyond_;         // by offers, by days
    std::vector<std::ptrdiff_t> rowOf_; // by offers and days; -1: not made yet
    std::vector<double> buffer_;
    std::vector<std::size_t> upTo_, inWeek_, since_;
    std::size_t silent_ = 0;
    std::size_t sinceBuilt_ = 0; // timeline index that since_ starts from
    std::vector<JointPoint> points_;
};

} // namespace kitround::forecast
