#pragma once
// The clock of a plan whose rounds are tied together by linked visits: every start as early as the rounds,
// the windows and the links allow together (longest paths over difference constraints; label correcting after
// Ford 1956 and Moore 1957). Duties without breaks or blocked times; checkProblem sees to that.
#include "core/rounds/problem/WeekProblem.h"

#include <span>
#include <vector>

namespace kitround::rounds {

class LinkedClock {
public:
    explicit LinkedClock(const WeekProblem &problem);

    std::int32_t partner(std::int32_t job) const { return ties_[size(job)].partner; }

    // Takes over the orders and finds all starts. -1, or a job that cannot be on time.
    template <class Routes>
    std::int32_t load(const Routes &routes) {
        next_.assign(p_.jobs.size(), -1);
        duty_.assign(p_.jobs.size(), -1);
        for (std::size_t d = 0; d < routes.size(); ++d) {
            std::int32_t before = -1;
            for (const std::int32_t job : routes[d].jobs) {
                duty_[size(job)] = static_cast<std::int32_t>(d);
                if (before >= 0)
                    next_[size(before)] = job;
                before = job;
            }
            first_[d] = routes[d].jobs.empty() ? -1 : routes[d].jobs.front();
        }
        return timeAll();
    }
    Minute start(std::int32_t job) const { return start_[size(job)]; }
    Minute worst() const { return worst_; } // most minutes after a soft window's end

    // Least start of `job` between two neighbours (-1 = none) on a duty, links left out.
    Minute leastStart(std::int32_t job, std::int32_t duty, std::int32_t before) const;
    Minute offSoft(std::int32_t job, Minute start) const {
        const Minute off = start - ties_[size(job)].softTo;
        return off > 0 ? off : 0;
    }
    // What the starts cost more when the jobs stand in the given places; infinity where there are none, or
    // where it is `limit` or more.
    struct Place {
        std::int32_t job, duty, before; // before: the job it follows, -1 = first
    };
    double price(std::span<const Place> places, double limit);
    // A pair's least starts once the link is heeded.
    void heedLink(std::int32_t job, Minute &start, std::int32_t mate, Minute &mateStart) const;

private:
    static constexpr std::size_t size(std::int32_t i) { return static_cast<std::size_t>(i); }
    struct Tie {
        std::int32_t partner = -1;
        Minute toPartner = 0; // start of the partner less own start, at least
        Minute early = 0, late = 0, softTo = 0, length = 0;
        std::int32_t place = 0;
    };
    std::int32_t timeAll();
    Minute travel(std::int32_t from, std::int32_t to) const {
        return p_.travel.minutes[size(from) * p_.travel.places + size(to)];
    }
    Minute now(std::int32_t job) const {
        return stamps_[size(job)] == stamp_ ? trial_[size(job)] : start_[size(job)];
    }
    bool lift(std::int32_t job, Minute to);
    bool settle();

    const WeekProblem &p_;
    std::vector<Tie> ties_; // by job; windows of the day are those of the first allowed one
    std::vector<std::int32_t> next_, duty_, first_;
    std::vector<Minute> start_;
    Minute worst_ = 0;

    // a trial: starts that differ from start_
    std::vector<Minute> trial_;
    std::vector<std::uint32_t> stamps_;
    std::uint32_t stamp_ = 0;
    std::vector<std::int32_t> queue_;
    std::vector<char> isQueued_;
    std::int64_t moreOff_ = 0;
    Minute trialWorst_ = 0;
    double costSoFar_ = 0, limit_ = 0;
    std::int32_t culprit_ = -1;
};

} // namespace kitround::rounds
