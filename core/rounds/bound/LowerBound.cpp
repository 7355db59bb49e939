#include "core/rounds/bound/LowerBound.h"

#include "core/rounds/bound/CertainCosts.h"
#include "core/rounds/bound/RoundPricing.h"

#include <algorithm>
#include <chrono>

namespace kitround::rounds {
namespace {

constexpr Minute kCoarsest = 5; // minutes of the grid on which prices are sought
constexpr Minute kLongestDuty = 1440;
constexpr double kFirstStep = 1.0, kLeastStep = 0.004;
constexpr int kPatience = 6; // rounds without a better bound until the step is halved
constexpr double kClosed = 1e-6;

class Prices {
public:
    Prices(const WeekProblem &problem, double planCost, const BoundOptions &options, std::stop_token stop)
        : p_(problem), certain_(problem), planCost_(planCost), options_(options), stop_(std::move(stop)) {
        for (const Job &job : p_.jobs) {
            const double most = p_.weights.unplaced[static_cast<std::size_t>(job.priority)];
            most_.push_back(most);
            price_.push_back(std::min(most, planCost / static_cast<double>(p_.jobs.size())));
            share_.push_back(job.twoNurses ? 0.5 : 1);
        }
        each_.assign(p_.duties.size(), 0);
    }

    double seek(Minute grid) {
        std::vector<RoundPricing> pricings;
        pricings.reserve(p_.duties.size());
        for (std::size_t d = 0; d < p_.duties.size() && !isOver(); ++d)
            pricings.emplace_back(p_, static_cast<std::int32_t>(d), grid);
        double step = kFirstStep;
        int idle = 0;
        for (int round = 0; round < options_.rounds && step > kLeastStep && !isOver(); ++round) {
            const std::optional<double> bound = ask(pricings);
            if (!bound)
                break;
            idle = *bound > best_ + kClosed ? 0 : idle + 1;
            best_ = std::max(best_, *bound);
            if (planCost_ - best_ < kClosed)
                break;
            if (idle == kPatience) {
                step /= 2;
                idle = 0;
            }
            move(step, *bound);
        }
        return std::min(best_, planCost_);
    }

private:
    bool isOver() const {
        return stop_.stop_requested() ||
               (options_.seconds > 0 &&
                std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count() >
                    options_.seconds);
    }

    // The bound at the present prices, and how often each visit came; nothing where time ran out.
    std::optional<double> ask(std::vector<RoundPricing> &pricings) {
        paid_.resize(price_.size());
        for (std::size_t j = 0; j < price_.size(); ++j)
            paid_[j] = price_[j] * share_[j];
        came_.assign(price_.size(), 0);
        count_.assign(p_.duties.size(), 0);
        double bound = certain_.at(price_);
        for (const double price : price_)
            bound += price;
        for (std::size_t d = 0; d < pricings.size(); ++d) {
            if (isOver())
                return std::nullopt;
            const RoundPricing::Round &round = pricings[d].cheapest(paid_, each_[d]);
            bound += round.cost - each_[d] * p_.duties[d].mostVisits;
            for (const std::int32_t job : round.jobs)
                came_[static_cast<std::size_t>(job)] += share_[static_cast<std::size_t>(job)];
            count_[d] = static_cast<double>(round.jobs.size());
        }
        return bound;
    }

    // Visits that come too seldom pay more; so does, by the visit, a round of more than the nurse may make.
    void move(double step, double bound) {
        double norm = 0;
        for (std::size_t j = 0; j < price_.size(); ++j)
            norm += (1 - came_[j]) * (1 - came_[j]);
        for (std::size_t d = 0; d < each_.size(); ++d)
            norm += over(d) * over(d);
        if (norm <= 0)
            return;
        const double length = step * (planCost_ - bound) / norm;
        for (std::size_t j = 0; j < price_.size(); ++j)
            price_[j] = std::clamp(price_[j] + length * (1 - came_[j]), 0.0, most_[j]);
        for (std::size_t d = 0; d < each_.size(); ++d)
            each_[d] = std::max(0.0, each_[d] + length * over(d));
    }
    double over(std::size_t d) const {
        const double more = count_[d] - p_.duties[d].mostVisits;
        return more < 0 && each_[d] <= 0 ? 0 : more;
    }

    const WeekProblem &p_;
    const CertainCosts certain_;
    double planCost_;
    const BoundOptions options_;
    std::stop_token stop_;
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
    std::vector<double> most_, price_, share_, paid_, came_;
    std::vector<double> each_, count_; // by duty
    double best_ = 0;
};

} // namespace

std::optional<double> lowerBound(const WeekProblem &problem, double planCost, const BoundOptions &options,
                                 std::stop_token stop) {
    Minute grid = kCoarsest;
    for (const Job &job : problem.jobs)
        grid = std::min(grid, job.length);
    const bool isLong = std::ranges::any_of(
        problem.duties, [](const Duty &duty) { return duty.to - duty.from > kLongestDuty; });
    if (grid < 1 || isLong)
        return std::nullopt;
    if (problem.jobs.empty())
        return 0;
    Prices prices(problem, planCost, options, std::move(stop));
    const double coarse = prices.seek(grid);
    return grid == 1 ? coarse : prices.seek(1);
}

} // namespace kitround::rounds
