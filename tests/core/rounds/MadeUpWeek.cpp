#include "tests/core/rounds/MadeUpWeek.h"

#include <algorithm>

namespace kitround::rounds::testing {
namespace {

Minute fiveMinutes(Random &random, int least, int most) {
    return static_cast<Minute>(5 * random.between(least / 5, most / 5));
}

TravelPlace somewhere(Random &random) {
    TravelPlace place;
    place.point = GeoPoint{40.0 + 0.18 * random.uniform(), -75.0 + 0.24 * random.uniform()};
    return place;
}

void addNurses(WeekProblem &p, const MadeUp &wish, Random &random) {
    for (int n = 0; n < wish.nurses; ++n) {
        NurseInfo nurse;
        nurse.id = NurseId(n + 1);
        nurse.carSpaceMl = random.chance(0.8) ? 200000 : 0;
        nurse.contractMinutes = 480 * wish.weekdaysOfNurse;
        nurse.skills = SkillSet::fromBits(0x3f);
        if (n % 4 == 3)
            nurse.skills = SkillSet::fromBits(0x3f & ~(1U << unsigned(Skill::Assess)));
        p.nurses.push_back(nurse);
        p.places.push_back(somewhere(random));
        const auto home = static_cast<std::int32_t>(p.places.size()) - 1;
        const auto firstFree = static_cast<int>(random.below(7));
        for (int d = 0; d < wish.days; ++d) {
            if ((d + firstFree) % 7 >= wish.weekdaysOfNurse)
                continue;
            Duty duty;
            duty.nurse = n;
            duty.day = d;
            duty.from = 480;
            duty.to = 1020;
            duty.startPlace = home;
            duty.endPlace = home;
            duty.skills = nurse.skills;
            if (wish.hasBreaks) {
                duty.breakLength = 30;
                duty.breakFrom = 660;
                duty.breakTo = 840;
            }
            if (wish.hasBlocks && random.chance(0.3)) {
                const Minute from = fiveMinutes(random, 540, 900);
                duty.blocked.push_back({from, from + 60, true});
            }
            p.duties.push_back(duty);
        }
    }
}

void addWindows(WeekProblem &p, Job &job, const MadeUp &wish, Random &random) {
    if (random.chance(wish.windowShare))
        for (int d = 0; d < p.days; ++d) {
            const Minute from = fiveMinutes(random, 480, 840);
            job.windows[static_cast<std::size_t>(d)].push_back({from, from + 120, true});
            if (random.chance(0.2))
                job.windows[static_cast<std::size_t>(d)].push_back({from + 180, from + 240, true});
        }
    if (random.chance(wish.softShare))
        for (int d = 0; d < p.days; ++d)
            job.windows[static_cast<std::size_t>(d)].push_back({600, 720, false});
}

void addVisits(WeekProblem &p, int patient, const MadeUp &wish, Random &random) {
    const int visits = static_cast<int>(random.between(1, std::max(1, 2 * wish.visitsPerPatient - 1)));
    p.places.push_back(somewhere(random));
    Job job;
    job.patient = PatientId(patient + 1);
    job.place = static_cast<std::int32_t>(p.places.size()) - 1;
    if (wish.sharedShare > 0 && patient > 0 && random.chance(wish.sharedShare)) {
        job.patient = p.jobs.back().patient;
        job.place = p.jobs.back().place;
    }
    job.length = fiveMinutes(random, 30, 75);
    job.priority = static_cast<Priority>(random.below(4));
    job.needs = random.chance(0.2) ? SkillSet{Skill::Assess} : SkillSet{Skill::DrainChest};
    job.allowedDays.assign(static_cast<std::size_t>(p.days), true);
    job.windows.resize(static_cast<std::size_t>(p.days));
    addWindows(p, job, wish, random);
    job.twoNurses = random.chance(wish.twoNurseShare);
    job.primaryNurse = random.chance(0.7) ? static_cast<std::int32_t>(random.below(p.nurses.size())) : -1;
    if (random.chance(0.1))
        job.barredNurses.push_back(static_cast<std::int32_t>(random.below(p.nurses.size())));
    if (job.primaryNurse < 0)
        job.knownNurses.push_back(static_cast<std::int32_t>(random.below(p.nurses.size())));
    job.series = static_cast<std::int32_t>(p.series.size());
    Series series;
    series.leastGap = std::max(1, std::min(2, (p.days - 1) / std::max(1, visits - 1)));
    series.mostGap = visits > 1 ? 3 : 7;
    if (random.chance(0.3))
        series.fixedDays.push_back(-static_cast<std::int32_t>(random.between(1, 4)));
    for (int k = 0; k < visits; ++k) {
        Job one = job;
        if (!p.duties.empty() && random.chance(wish.lockShare)) {
            const Duty &duty = p.duties[random.below(p.duties.size())];
            one.lockedNurse = duty.nurse;
            if (random.chance(0.5))
                one.lockedDay = duty.day;
        }
        if (!p.duties.empty() && random.chance(wish.publishedShare)) {
            const Duty &duty = p.duties[random.below(p.duties.size())];
            one.publishedNurse = duty.nurse;
            one.publishedDay = duty.day;
            one.publishedStart = fiveMinutes(random, 480, 900);
        }
        series.jobs.push_back(static_cast<std::int32_t>(p.jobs.size()));
        p.jobs.push_back(one);
    }
    p.series.push_back(series);
    if (random.chance(wish.riderShare)) {
        Rider rider;
        rider.patient = job.patient;
        rider.spaceMl = 20000;
        rider.earliestDay = 0;
        rider.latestDay = static_cast<std::int32_t>(random.between(0, p.days - 1));
        rider.courierPossible = random.chance(0.8);
        p.riders.push_back(rider);
    }
}

// Between the first visits of neighbouring patients: the solver does not ask whose they are.
void addFollows(WeekProblem &p, const MadeUp &wish, Random &random) {
    for (std::size_t s = 0; s + 1 < p.series.size(); s += 2) {
        if (!random.chance(wish.followShare))
            continue;
        const std::int32_t first = p.series[s].jobs.front(), second = p.series[s + 1].jobs.front();
        const auto length = p.jobs[static_cast<std::size_t>(first)].length;
        const bool isForTwo = p.jobs[static_cast<std::size_t>(first)].twoNurses ||
                              p.jobs[static_cast<std::size_t>(second)].twoNurses;
        const bool byAnother = random.chance(0.5);
        if (random.chance(0.5) || isForTwo)
            p.follows.push_back({first, second, GapUnit::Day, 1, 3, byAnother});
        else
            p.follows.push_back({first, second, GapUnit::Minute, length, length + 60, byAnother});
    }
}

} // namespace

WeekProblem madeUpWeek(const MadeUp &wish, std::uint64_t seed) {
    Random random(seed);
    WeekProblem p;
    p.firstDay = Date::of(2026, 11, 22);
    p.days = wish.days;
    addNurses(p, wish, random);
    for (int i = 0; i < wish.patients; ++i)
        addVisits(p, i, wish, random);
    if (wish.followShare > 0)
        addFollows(p, wish, random);
    p.travel = travelTable(p.places, AgencySettings());
    return p;
}

} // namespace kitround::rounds::testing
