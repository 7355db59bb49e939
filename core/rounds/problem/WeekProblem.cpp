#include "core/rounds/problem/WeekProblem.h"

#include <algorithm>
#include <functional>
#include <string>
#include <tuple>

namespace kitround::rounds {
namespace {

constexpr std::size_t size(std::int32_t n) {
    return static_cast<std::size_t>(n);
}

class Checker {
public:
    explicit Checker(const WeekProblem &problem) : p_(problem) {}

    Result<void> run() {
        checkFrame();
        if (!found_.empty()) // the rest would index into what is wrong
            return joined(std::move(found_));
        for (std::size_t i = 0; i < p_.duties.size(); ++i)
            checkDuty(i);
        for (std::size_t i = 0; i < p_.jobs.size(); ++i)
            checkJob(i);
        for (std::size_t i = 0; i < p_.series.size(); ++i)
            checkSeries(i);
        checkLinks();
        checkFollows();
        for (std::size_t i = 0; i < p_.riders.size(); ++i)
            checkRider(i);
        return found_.empty() ? Result<void>() : Result<void>(joined(std::move(found_)));
    }

private:
    void refuse(ProblemCode code, const std::string &field, std::vector<std::string> args = {}) {
        Problem problem;
        problem.code = code;
        problem.field = field;
        problem.args = std::move(args);
        found_.push_back(std::move(problem));
    }
    void inRange(const std::string &field, std::int64_t value, std::int64_t least, std::int64_t most) {
        if (value < least || value > most)
            refuse(ProblemCode::OutOfRange, field,
                   {std::to_string(value), std::to_string(least), std::to_string(most)});
    }
    std::int64_t last(std::size_t count) const { return static_cast<std::int64_t>(count) - 1; }

    void checkFrame() {
        inRange("days", p_.days, 1, 62);
        inRange("clockEnd", p_.clockEnd, 1, kLatestClock);
        if (p_.travel.places != p_.places.size())
            refuse(ProblemCode::Conflict, "travel.places", {"places"});
        const std::size_t cells = p_.travel.places * p_.travel.places;
        if (p_.travel.minutes.size() != cells || p_.travel.metres.size() != cells)
            refuse(ProblemCode::Conflict, "travel.minutes", {"places"});
        for (const std::int32_t minutes : p_.travel.minutes)
            if (minutes < 0) {
                refuse(ProblemCode::Negative, "travel.minutes", {std::to_string(minutes)});
                break;
            }
        for (std::size_t i = 0; i < p_.nurses.size(); ++i) {
            const std::string at = "nurses[" + std::to_string(i) + "]";
            inRange(at + ".contractMinutes", p_.nurses[i].contractMinutes, 0, 62 * 1440);
            for (const Minute worked : p_.nurses[i].alreadyWorked)
                inRange(at + ".alreadyWorked", worked, 0, 62 * 1440);
            if (p_.nurses[i].alreadyWorked.size() > size(weeksOf(p_)))
                refuse(ProblemCode::Conflict, at + ".alreadyWorked", {"days"});
            inRange(at + ".carSpaceMl", p_.nurses[i].carSpaceMl, 0, INT64_C(1000000000));
        }
    }

    void checkDuty(std::size_t i) {
        const Duty &duty = p_.duties[i];
        const std::string at = "duties[" + std::to_string(i) + "]";
        inRange(at + ".nurse", duty.nurse, 0, last(p_.nurses.size()));
        inRange(at + ".day", duty.day, 0, p_.days - 1);
        inRange(at + ".startPlace", duty.startPlace, 0, last(p_.places.size()));
        inRange(at + ".endPlace", duty.endPlace, 0, last(p_.places.size()));
        inRange(at + ".from", duty.from, 0, p_.clockEnd);
        inRange(at + ".mostLoad", duty.mostLoad, 0, std::numeric_limits<std::int32_t>::max());
        inRange(at + ".to", duty.to, 0, p_.clockEnd);
        inRange(at + ".mostVisits", duty.mostVisits, 0, 100000);
        if (duty.to < duty.from)
            refuse(ProblemCode::EndBeforeStart, at + ".to",
                   {std::to_string(duty.from), std::to_string(duty.to)});
        if (duty.breakLength < 0)
            refuse(ProblemCode::Negative, at + ".breakLength", {std::to_string(duty.breakLength)});
        if (duty.breakLength > 0 && (duty.breakFrom < duty.from || duty.breakTo > duty.to ||
                                     duty.breakTo - duty.breakFrom < duty.breakLength))
            refuse(ProblemCode::Conflict, at + ".breakFrom", {"duty"});
        Minute before = -1;
        for (const TimeWindow &block : duty.blocked) {
            if (block.from < before || block.to < block.from)
                refuse(ProblemCode::EndBeforeStart, at + ".blocked",
                       {std::to_string(block.from), std::to_string(block.to)});
            before = block.to;
        }
        if (i > 0) {
            const Duty &previous = p_.duties[i - 1];
            if (std::pair(duty.nurse, duty.day) <= std::pair(previous.nurse, previous.day))
                refuse(ProblemCode::Duplicate, at, {"duties[" + std::to_string(i - 1) + "]"});
        }
    }

    void checkNurseRef(const std::string &field, std::int32_t nurse) {
        inRange(field, nurse, -1, last(p_.nurses.size()));
    }

    void checkJob(std::size_t i) {
        const Job &job = p_.jobs[i];
        const std::string at = "jobs[" + std::to_string(i) + "]";
        inRange(at + ".place", job.place, 0, last(p_.places.size()));
        inRange(at + ".length", job.length, 0, p_.clockEnd);
        inRange(at + ".notes", job.notes, 0, p_.clockEnd);
        inRange(at + ".load", job.load, 0, 1 << 20);
        if (job.points < 0)
            refuse(ProblemCode::Negative, at + ".points", {std::to_string(job.points)});
        if (job.allowedDays.size() != size(p_.days))
            refuse(ProblemCode::Conflict, at + ".allowedDays", {"days"});
        if (job.windows.size() != size(p_.days))
            refuse(ProblemCode::Conflict, at + ".windows", {"days"});
        for (const auto &ofDay : job.windows)
            for (const TimeWindow &window : ofDay)
                if (window.to < window.from)
                    refuse(ProblemCode::EndBeforeStart, at + ".windows",
                           {std::to_string(window.from), std::to_string(window.to)});
        for (const std::int32_t nurse : job.barredNurses)
            inRange(at + ".barredNurses", nurse, 0, last(p_.nurses.size()));
        for (const std::int32_t nurse : job.knownNurses)
            inRange(at + ".knownNurses", nurse, 0, last(p_.nurses.size()));
        checkNurseRef(at + ".primaryNurse", job.primaryNurse);
        checkNurseRef(at + ".lockedNurse", job.lockedNurse);
        checkNurseRef(at + ".lockedSecondNurse", job.lockedSecondNurse);
        checkNurseRef(at + ".publishedNurse", job.publishedNurse);
        checkNurseRef(at + ".publishedSecondNurse", job.publishedSecondNurse);
        inRange(at + ".lockedDay", job.lockedDay, -1, p_.days - 1);
        inRange(at + ".publishedDay", job.publishedDay, -1, p_.days - 1);
        inRange(at + ".series", job.series, -1, last(p_.series.size()));
        if (job.lockedNurse >= 0 && job.lockedNurse == job.lockedSecondNurse)
            refuse(ProblemCode::Conflict, at + ".lockedSecondNurse", {"lockedNurse"});
    }

    void checkSeries(std::size_t i) {
        const Series &series = p_.series[i];
        const std::string at = "series[" + std::to_string(i) + "]";
        inRange(at + ".leastGap", series.leastGap, 0, 60);
        inRange(at + ".mostGap", series.mostGap, series.leastGap, 10000);
        for (const std::int32_t job : series.jobs) {
            inRange(at + ".jobs", job, 0, last(p_.jobs.size()));
            if (job >= 0 && size(job) < p_.jobs.size() &&
                p_.jobs[size(job)].series != static_cast<std::int32_t>(i))
                refuse(ProblemCode::Conflict, at + ".jobs", {"jobs[" + std::to_string(job) + "].series"});
        }
        for (const std::uint64_t pattern : series.patterns)
            if (pattern == 0 || (p_.days < 64 && pattern >> p_.days != 0))
                refuse(ProblemCode::OutOfRange, at + ".patterns", {std::to_string(pattern)});
        std::size_t members = 0;
        for (const Job &job : p_.jobs)
            members += job.series == static_cast<std::int32_t>(i) ? 1U : 0U;
        if (members != series.jobs.size())
            refuse(ProblemCode::Conflict, at + ".jobs", {"series"});
    }

    // Linked visits and the worst lateness tie all rounds together; that clock knows no breaks, blocked times
    // or several windows.
    void checkLinks() {
        if (!p_.links.empty() || p_.weights.worstSoft != 0) {
            for (std::size_t d = 0; d < p_.duties.size(); ++d)
                if (p_.duties[d].breakLength > 0 || !p_.duties[d].blocked.empty())
                    refuse(ProblemCode::Conflict, "duties[" + std::to_string(d) + "]", {"links"});
            for (std::size_t j = 0; j < p_.jobs.size(); ++j)
                if (p_.jobs[j].twoNurses || hasSeveralWindows(p_.jobs[j]))
                    refuse(ProblemCode::Conflict, "jobs[" + std::to_string(j) + "]", {"links"});
        }
        std::vector<int> links(p_.jobs.size(), 0);
        for (std::size_t i = 0; i < p_.links.size(); ++i) {
            const Link &link = p_.links[i];
            const std::string at = "links[" + std::to_string(i) + "]";
            for (const std::int32_t job : {link.first, link.second}) {
                inRange(at, job, 0, last(p_.jobs.size()));
                if (job < 0 || size(job) >= p_.jobs.size())
                    continue;
                if (++links[size(job)] > 1)
                    refuse(ProblemCode::Duplicate, at, {"jobs[" + std::to_string(job) + "]"});
            }
            inRange(at + ".least", link.least, -p_.clockEnd, link.most);
            inRange(at + ".most", link.most, link.least, p_.clockEnd);
        }
    }

    void checkFollows() {
        std::vector<int> inMinutes(p_.jobs.size(), 0);
        for (std::size_t i = 0; i < p_.follows.size(); ++i) {
            const Follow &follow = p_.follows[i];
            const std::string at = "follows[" + std::to_string(i) + "]";
            if (!p_.links.empty())
                refuse(ProblemCode::Conflict, at, {"links"});
            if (follow.first == follow.second)
                refuse(ProblemCode::Conflict, at + ".second", {"first"});
            for (const std::int32_t job : {follow.first, follow.second}) {
                inRange(at, job, 0, last(p_.jobs.size()));
                if (job < 0 || size(job) >= p_.jobs.size() || follow.unit == GapUnit::Day)
                    continue;
                if (++inMinutes[size(job)] > 1)
                    refuse(ProblemCode::Duplicate, at, {"jobs[" + std::to_string(job) + "]"});
            }
            inRange(at + ".least", follow.least, 0, follow.most);
            inRange(at + ".most", follow.most, follow.least, p_.clockEnd);
        }
    }

    // More than one of a kind, or other ones on another day.
    static bool hasSeveralWindows(const Job &job) {
        const std::vector<TimeWindow> *seen = nullptr;
        for (std::size_t day = 0; day < job.windows.size(); ++day) {
            if (!job.allowedDays[day])
                continue;
            const std::vector<TimeWindow> &windows = job.windows[day];
            if (std::ranges::count_if(windows, &TimeWindow::isHard) > 1 ||
                std::ranges::count_if(windows, std::not_fn(&TimeWindow::isHard)) > 1)
                return true;
            const auto asTuple = [](const TimeWindow &w) { return std::tuple(w.from, w.to, w.isHard); };
            if (seen && !std::ranges::equal(*seen, windows, {}, asTuple, asTuple))
                return true;
            seen = &windows;
        }
        return false;
    }

    void checkRider(std::size_t i) {
        const Rider &rider = p_.riders[i];
        const std::string at = "riders[" + std::to_string(i) + "]";
        if (rider.spaceMl < 0)
            refuse(ProblemCode::Negative, at + ".spaceMl", {std::to_string(rider.spaceMl)});
    }

    const WeekProblem &p_;
    Problems found_;
};

} // namespace

Result<void> checkProblem(const WeekProblem &problem) {
    return Checker(problem).run();
}

} // namespace kitround::rounds
