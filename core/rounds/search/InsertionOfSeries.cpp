// All visits of a series that have no place, at once: each day's cheapest place is looked up once, then every
// allowed set of days is tried by branch and bound. Days have rounds of their own, so that the sum is exact
// but for what the whole week says (overtime, evenness, room in cars).
#include "core/rounds/search/Insertion.h"

#include "core/base/Index.h"

#include <algorithm>
#include <tuple>

namespace kitround::rounds {
namespace {

auto windowsOf(const Job &job) {
    std::vector<std::tuple<Minute, Minute, bool>> all;
    for (const auto &ofDay : job.windows) {
        for (const TimeWindow &w : ofDay)
            all.emplace_back(w.from, w.to, w.isHard);
        all.emplace_back(-1, -1, false); // the day's end
    }
    return all;
}

bool areKin(const Job &a, const Job &b) {
    const auto plain = [](const Job &j) {
        return std::tuple(j.place, j.length, j.notes, j.points, j.load, j.needs.bits(), j.priority,
                          j.lockedDay, j.lockedNurse, j.lockedStart, j.publishedNurse, j.publishedDay,
                          j.publishedStart);
    };
    return plain(a) == plain(b) && a.allowedDays == b.allowedDays && windowsOf(a) == windowsOf(b);
}

} // namespace

void Inserter::findKin() {
    kin_.resize(p_.jobs.size());
    for (std::size_t j = 0; j < p_.jobs.size(); ++j)
        kin_[j] = static_cast<std::int32_t>(j);
    for (const Series &series : p_.series)
        for (std::size_t i = 0; i < series.jobs.size(); ++i)
            for (std::size_t k = 0; k < i; ++k)
                if (areKin(p_.jobs[at(series.jobs[i])], p_.jobs[at(series.jobs[k])])) {
                    kin_[at(series.jobs[i])] = kin_[at(series.jobs[k])];
                    break;
                }
}

// By day: the cheapest duty, series and unplaced cost left out; of one nurse where `nurse` says so.
void Inserter::priceDays(std::int32_t job, std::size_t row, std::int32_t nurse, Blink blink) {
    DayChoice *days = dayChoices_.data() + row * at(p_.days);
    std::fill(days, days + p_.days, DayChoice{});
    const bool hangsOnHome = plan_.hangsOnHome(job);
    const double homeNow = hangsOnHome ? plan_.homeCost(job, -1) : 0;
    const double points = p_.jobs[at(job)].points;
    const double uneven = plan_.weekCosts() ? plan_.unevenBase(points, 1) : 0;
    const auto beside = [&](std::int32_t duty) {
        return plan_.fit(job, duty) +
               (plan_.weekCosts() ? uneven + plan_.unevenPart(p_.duties[at(duty)].nurse, points, 1) : 0) +
               (hangsOnHome ? plan_.homeCost(job, duty) - homeNow : 0);
    };
    queue_.clear();
    for (const std::int32_t duty : plan_.dutiesFor(job)) {
        if ((nurse >= 0 && p_.duties[at(duty)].nurse != nurse) || plan_.isSpare(duty))
            continue;
        const Spot &spot = boundIn(job, duty);
        if (spot.routeCost < kImpossible && !blink.now())
            queue_.emplace_back(spot.routeCost + beside(duty), duty);
    }
    std::ranges::sort(queue_); // then mostly the first of a day settles it
    for (const auto &[bound, duty] : queue_) {
        const Duty &d = p_.duties[at(duty)];
        DayChoice &choice = days[d.day];
        if (bound >= choice.cost)
            continue;
        const Spot &spot = spotIn(job, duty);
        if (spot.position < 0)
            continue;
        const double cost =
            spot.routeCost + beside(duty) + (plan_.weekCosts() ? plan_.overtimeDelta(duty, spot.paid) : 0);
        if (cost < choice.cost)
            choice = {cost, duty};
    }
}

bool Inserter::keepsGaps(const Series &series, std::int32_t day) const {
    const std::int32_t least = leastGapOf(series);
    return std::ranges::none_of(daysTaken_,
                                [&](std::int32_t other) { return std::abs(other - day) < least; });
}

double Inserter::leafCost(const Series &series) {
    if (p_.weights.gapDay == 0)
        return 0;
    days_ = daysTaken_;
    std::ranges::sort(days_);
    return p_.weights.gapDay * daysTooFar(series, days_);
}

void Inserter::chooseDays(std::size_t row, std::uint64_t days, double cost) {
    if (cost + leastFrom_[row] >= bestCost_)
        return;
    const Series &series = p_.series[at(series_)];
    if (row == open_.size()) {
        const double whole = cost + leafCost(series);
        if (whole < bestCost_) {
            bestCost_ = whole;
            bestDays_ = chosen_;
        }
        return;
    }
    const std::int32_t job = open_[row];
    const DayChoice *choices = dayChoices_.data() + row * at(p_.days);
    // Like visits take their days in order, and one stays out only where none after it comes in.
    const bool hasKin = row > 0 && kin_[at(open_[row - 1])] == kin_[at(job)];
    std::int32_t first = 0;
    if (hasKin)
        first = chosen_[row - 1] < 0 ? p_.days : chosen_[row - 1] + 1;
    for (std::int32_t day = first; day < p_.days; ++day) {
        if (choices[day].duty < 0 || !keepsGaps(series, day) ||
            !fitsPattern(series, days | UINT64_C(1) << day))
            continue;
        chosen_[row] = day;
        daysTaken_.push_back(day);
        chooseDays(row + 1, days | UINT64_C(1) << day, cost + choices[day].cost);
        daysTaken_.pop_back();
    }
    chosen_[row] = -1;
    chooseDays(row + 1, days, cost + plan_.unplacedCost(job));
}

bool Inserter::placeSeries(std::int32_t seriesIndex, Blink blink) {
    const Series &series = p_.series[at(seriesIndex)];
    series_ = seriesIndex;
    open_.clear();
    daysTaken_ = series.fixedDays;
    std::uint64_t days = 0;
    std::int32_t nurseOfAll = -1;
    for (const std::int32_t job : series.jobs) {
        if (!plan_.isPlaced(job)) {
            open_.push_back(job);
            continue;
        }
        daysTaken_.push_back(plan_.dayOf(job));
        days |= UINT64_C(1) << plan_.dayOf(job);
        nurseOfAll = p_.duties[at(plan_.placement(job).duty)].nurse;
    }
    std::ranges::stable_sort(open_, {}, [&](std::int32_t job) { return kin_[at(job)]; });
    const std::size_t rows = open_.size();
    dayChoices_.resize(rows * at(p_.days));
    leastFrom_.assign(rows + 1, 0);
    chosen_.assign(rows, -1);
    bestCost_ = kImpossible;
    duties_.assign(rows, -1);
    const auto tryNurse = [&](std::int32_t nurse) {
        for (std::size_t row = 0; row < rows; ++row) {
            if (row > 0 && kin_[at(open_[row])] == kin_[at(open_[row - 1])])
                std::copy_n(dayChoices_.begin() + static_cast<std::ptrdiff_t>((row - 1) * at(p_.days)),
                            p_.days, dayChoices_.begin() + static_cast<std::ptrdiff_t>(row * at(p_.days)));
            else
                priceDays(open_[row], row, nurse, blink);
        }
        for (std::size_t row = rows; row-- > 0;) {
            double least = plan_.unplacedCost(open_[row]);
            for (std::int32_t day = 0; day < p_.days; ++day)
                least = std::min(least, dayChoices_[row * at(p_.days) + at(day)].cost);
            leastFrom_[row] = leastFrom_[row + 1] + least;
        }
        const double before = bestCost_;
        chooseDays(0, days, 0);
        if (bestCost_ < before)
            for (std::size_t row = 0; row < rows; ++row)
                duties_[row] =
                    bestDays_[row] < 0 ? -1 : dayChoices_[row * at(p_.days) + at(bestDays_[row])].duty;
    };
    if (series.oneNurse && nurseOfAll < 0) {
        for (std::int32_t nurse = 0; nurse < static_cast<std::int32_t>(p_.nurses.size()); ++nurse)
            if (!plan_.isSpareNurse(nurse))
                tryNurse(nurse);
    } else {
        tryNurse(series.oneNurse ? nurseOfAll : -1);
    }
    bool any = false;
    for (std::size_t row = 0; row < rows; ++row) {
        if (duties_[row] < 0)
            continue;
        const Spot &spot = spotIn(open_[row], duties_[row]); // like visits: the first of them was looked up
        any = (spot.position >= 0 && plan_.insert(open_[row], duties_[row], at(spot.position))) || any;
    }
    return any;
}

} // namespace kitround::rounds
