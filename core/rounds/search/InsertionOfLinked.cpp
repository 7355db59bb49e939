// Visits of a plan with links: every place is bounded by its travel and its own lateness, and the most
// promising are timed with all that hangs on them. A linked pair is placed together.
#include "core/rounds/search/Insertion.h"

#include "core/base/Index.h"

#include <algorithm>
#include <array>

namespace kitround::rounds {

void Inserter::findLinkedPlaces(std::int32_t job, Blink blink, std::vector<LinkedPlace> &places) const {
    const LinkedClock &clock = plan_.linkedClock();
    const Job &j = p_.jobs[at(job)];
    const Minute *in = plan_.travelTo(j.place);
    const Minute *out = plan_.travelFrom(j.place);
    places.clear();
    for (const std::int32_t duty : plan_.dutiesFor(job)) {
        if (plan_.isSpare(duty) || !plan_.hasRoom(duty, job) ||
            !plan_.seriesAllows(job, p_.duties[at(duty)].day))
            continue;
        const Route &r = plan_.route(duty);
        for (std::size_t i = 0; i < r.gaps.size(); ++i) {
            if (blink.now())
                continue;
            const Gap &gap = r.gaps[i];
            LinkedPlace place;
            place.duty = duty;
            place.position = static_cast<std::int32_t>(i);
            place.before = i == 0 ? -1 : r.jobs[i - 1];
            place.start = clock.leastStart(job, duty, place.before);
            place.fixedCost =
                p_.weights.travelMinute * (in[gap.before] + out[gap.after] - (r.jobs.empty() ? 0 : gap.leg)) +
                plan_.fit(job, duty);
            place.bound = place.fixedCost + p_.weights.softWindowMinute * clock.offSoft(job, place.start);
            places.push_back(place);
        }
    }
    std::ranges::sort(places, {},
                      [](const LinkedPlace &p) { return std::tuple(p.bound, p.duty, p.position); });
}

Insertion Inserter::bestLinked(std::int32_t job, Blink blink, double *second) {
    LinkedClock &clock = plan_.linkedClock();
    const std::int32_t mate = clock.partner(job);
    const bool isPair = mate >= 0;
    findLinkedPlaces(job, blink, linkedPlaces_);
    if (isPair)
        findLinkedPlaces(mate, blink, matePlaces_);
    Insertion best;
    double least = kImpossible;
    const double always = -plan_.unplacedCost(job) - (isPair ? plan_.unplacedCost(mate) : 0);
    const double late = p_.weights.softWindowMinute;
    for (const LinkedPlace &a : linkedPlaces_) {
        if (a.bound >= least)
            break;
        if (!isPair) {
            const std::array<LinkedClock::Place, 1> places{{{job, a.duty, a.before}}};
            const double cost = a.fixedCost + clock.price(places, least - a.fixedCost);
            if (cost < least) {
                least = cost;
                best = {cost, a.duty, at(a.position), -1, 0, -1};
            }
            continue;
        }
        for (const LinkedPlace &b : matePlaces_) {
            if (a.bound + b.bound >= least)
                break;
            if (p_.duties[at(a.duty)].nurse == p_.duties[at(b.duty)].nurse ||
                p_.duties[at(a.duty)].day != p_.duties[at(b.duty)].day)
                continue;
            Minute startA = a.start, startB = b.start;
            clock.heedLink(job, startA, mate, startB);
            const double fixed = a.fixedCost + b.fixedCost;
            if (fixed + late * (clock.offSoft(job, startA) + clock.offSoft(mate, startB)) >= least)
                continue;
            const std::array<LinkedClock::Place, 2> places{
                {{job, a.duty, a.before}, {mate, b.duty, b.before}}};
            const double cost = fixed + clock.price(places, least - fixed);
            if (cost < least) {
                least = cost;
                best = {cost, a.duty, at(a.position), b.duty, at(b.position), -1};
            }
        }
    }
    best.cost += always;
    if (second)
        *second = kImpossible;
    return best;
}

} // namespace kitround::rounds
