#include "tests/bench/routes/PlainWeek.h"

#include <algorithm>
#include <cmath>

namespace kitround::bench {
namespace {

constexpr double kHair = 1e-6; // of a tick: a number that is whole but for rounding counts as whole

} // namespace

double grainFor(double longest) {
    double grain = 10000;
    while (grain > 1 && longest * grain > 0.5 * rounds::kLatestClock)
        grain /= 10;
    return grain;
}

rounds::Minute ticksUp(double units, double grain) {
    return static_cast<rounds::Minute>(std::ceil(units * grain - kHair));
}
rounds::Minute ticksDown(double units, double grain) {
    return static_cast<rounds::Minute>(std::floor(units * grain + kHair));
}

rounds::WeekProblem plainWeek(std::int32_t days, std::size_t places, double grain, double longest,
                              const std::function<double(std::size_t, std::size_t)> &distance) {
    rounds::WeekProblem week;
    week.firstDay = Date::of(2026, 11, 22); // any
    week.days = days;
    week.clockEnd = std::min(rounds::kLatestClock, ticksUp(longest, grain) + 1);
    week.places.resize(places);
    week.travel.places = places;
    std::vector<std::int32_t> &minutes = week.travel.minutes.edit();
    minutes.resize(places * places);
    week.travel.metres.edit().assign(places * places, 0);
    double sum = 0;
    for (std::size_t a = 0; a < places; ++a)
        for (std::size_t b = 0; b < places; ++b) {
            minutes[a * places + b] = a == b ? 0 : ticksUp(distance(a, b), grain);
            sum += distance(a, b);
        }
    week.weights = {};
    week.weights.overtimeMinute = week.weights.waitMinute = week.weights.softWindowMinute = 0;
    week.weights.notPrimary = week.weights.notKnown = week.weights.gapDay = week.weights.uneven = 0;
    week.weights.secondNurse = 0;
    week.weights.courierRun = week.weights.undelivered = week.weights.changed = week.weights.wish = 0;
    week.weights.travelMinute = 1.0 / grain;
    const double mean = sum / static_cast<double>(places * places);
    week.weights.unplaced.fill(20 * mean); // a route of its own costs twice the way out and back
    return week;
}

void addVehicle(rounds::WeekProblem &week, rounds::Minute from, const std::vector<rounds::Minute> &toByDay,
                const std::vector<std::int32_t> &loadByDay) {
    rounds::NurseInfo nurse;
    nurse.id = NurseId(static_cast<std::int64_t>(week.nurses.size()) + 1);
    nurse.overtimeExempt = true;
    nurse.contractMinutes = 0;
    week.nurses.push_back(nurse);
    for (std::int32_t day = 0; day < week.days; ++day) {
        rounds::Duty duty;
        duty.nurse = static_cast<std::int32_t>(week.nurses.size()) - 1;
        duty.day = day;
        duty.from = from;
        duty.to = toByDay[static_cast<std::size_t>(day)];
        duty.mostVisits = 100000;
        duty.mostLoad = loadByDay[static_cast<std::size_t>(day)];
        week.duties.push_back(duty);
    }
}

rounds::Job plainJob(const rounds::WeekProblem &week, std::size_t place, rounds::Minute length,
                     std::int32_t load) {
    rounds::Job job;
    job.patient = PatientId(static_cast<std::int64_t>(place));
    job.place = static_cast<std::int32_t>(place);
    job.length = length;
    job.notes = 0;
    job.points = 0;
    job.load = load;
    job.allowedDays.assign(static_cast<std::size_t>(week.days), true);
    job.windows.resize(static_cast<std::size_t>(week.days));
    return job;
}

} // namespace kitround::bench
