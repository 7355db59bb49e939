#include "tests/bench/world/HomeLife.h"

#include <algorithm>
#include <cmath>

namespace kitround::bench {
namespace {

struct Traits { // of one home
    double adherence = 0.9;
    double logVolume = 6;
    double spread = 0.35;
    double drift = 0; // of the log volume, a day
    double wander = 0.012;
    double loss = 0.03;
    double beyond = 0;  // drains a day beyond the order
    double late = 0.08; // a planned drain slips to the next day
    double asNeeded = 0.3;
    double frailty = 1;
    std::optional<int> procedure;
    double afterProcedure = 1; // of the volume
    std::optional<int> thinned;
};

Traits traitsOf(WorldKind world, const AgencyTraits &agency, const HomeLife &home, Draws &draws) {
    Traits t;
    const bool chest = home.site == CavitySite::Chest;
    t.adherence = 1 / (1 + std::exp(-(2.3 + agency.adherenceShift + 0.8 * draws.normal())));
    t.logVolume = std::log(agency.volumeFactor * (chest ? 340 : 950)) + (chest ? 0.5 : 0.35) * draws.normal();
    t.spread = draws.between(0.2, 0.5);
    t.loss = 0.025 * std::exp(0.6 * draws.normal());
    t.beyond = draws.chance(0.1) ? draws.between(0.01, 0.06) : 0;
    t.frailty = std::exp(0.4 * draws.normal() - 0.08);
    if (world == WorldKind::ModelLike) {
        t.wander = 0;
        t.beyond = 0;
        t.frailty = 1;
        t.spread = 0.45;
    }
    if (world == WorldKind::VolumeTrend)
        t.drift = draws.chance(0.6) ? draws.between(-0.025, 0) : draws.between(0, 0.012);
    if (world == WorldKind::Exits)
        t.frailty = std::exp(0.8 * draws.normal() - 0.32);
    if (world == WorldKind::RegimeChange && draws.chance(0.7)) {
        t.procedure = draws.whole(-60, -4);
        t.afterProcedure = draws.between(0.15, 0.6);
        if (draws.chance(0.4))
            t.thinned = *t.procedure + draws.whole(3, 14);
    }
    return t;
}

DrainPattern patternOf(Draws &draws, Date start) {
    DrainPattern p;
    p.anchor = start;
    const double kind = draws.uniform();
    if (kind < 0.25)
        p.everyDays = 1;
    else if (kind < 0.57)
        p.everyDays = 2;
    else if (kind < 0.67)
        p.everyDays = 3;
    else {
        p.kind = kind < 0.92 ? DrainPatternKind::TimesAWeek : DrainPatternKind::AsNeeded;
        if (kind < 0.79) {
            p.timesAWeek = 3;
            p.weekdays = {Weekday::Monday, Weekday::Wednesday, Weekday::Friday};
        } else if (kind < 0.92) {
            p.timesAWeek = kind < 0.87 ? 3 : 2;
        } else {
            p.mostPerDay = 1;
            p.mostPerWeek = draws.whole(2, 4);
        }
    }
    return p;
}

// The published hazards of leaving a day (settings name their sources), by how often the order drains.
double exitHazard(const HomeLife &home) {
    if (home.site == CavitySite::Abdomen)
        return 0.0158;
    const DrainPattern &p = home.orders.front().pattern;
    const bool isDaily = p.kind == DrainPatternKind::EveryNDays && p.everyDays == 1;
    const bool isRare =
        p.kind == DrainPatternKind::AsNeeded || (p.kind == DrainPatternKind::TimesAWeek && p.timesAWeek < 3);
    return (isDaily ? 0.0099 : isRare ? 0.0024 : 0.0041) + 0.0053;
}

class Living {
public:
    Living(WorldKind world, const AgencyTraits &agency, HomeLife &home, Date today, Draws &draws)
        : world_(world), home_(home), today_(today), draws_(draws),
          traits_(traitsOf(world, agency, home, draws)), hazard_(agency.exitFactor * exitHazard(home)) {
        if (world == WorldKind::ModelLike)
            hazard_ = exitHazard(home);
        traits_.asNeeded =
            draws.between(0.4, 0.9) * home.orders.front().pattern.mostPerWeek.value_or(2) / 7.0;
    }
    void live(int end) {
        double level = traits_.logVolume;
        for (int day = home_.start; day < end; ++day) {
            if (day > home_.start && draws_.chance(std::min(1.0, exitChance(day)))) {
                home_.exit = day;
                return;
            }
            level += traits_.drift + traits_.wander * draws_.normal();
            turnTheWeather();
            considerProcedure(day);
            if (isAway(day))
                continue;
            int drains = plannedDrains(day);
            if (draws_.chance(traits_.beyond + (isFlare_ ? 0.12 : 0.0)))
                ++drains;
            for (int i = 0; i < drains; ++i)
                drain(day, level);
        }
    }

private:
    double exitChance(int day) const {
        double h = hazard_ * traits_.frailty;
        if (world_ == WorldKind::Exits)
            h *= day - home_.start < 21 ? 3.0 : 1.6;
        return h;
    }
    void turnTheWeather() {
        if (world_ != WorldKind::Bursts)
            return;
        if (isFlare_ ? draws_.chance(1.0 / 12) : draws_.chance(1.0 / 35))
            isFlare_ = !isFlare_;
        if (isWeak_ ? draws_.chance(1.0 / 6) : draws_.chance(1.0 / 30))
            isWeak_ = !isWeak_;
    }
    void considerProcedure(int day) {
        if (traits_.thinned && day == *traits_.thinned && home_.orders.size() == 1) {
            DrainPattern p = home_.orders.front().pattern;
            if (p.kind == DrainPatternKind::EveryNDays) {
                p.everyDays += 1;
                p.anchor = today_.plusDays(day);
                home_.orders.push_back({day, p});
            }
        }
    }
    bool isAway(int day) {
        if (!home_.stays.empty() && day < home_.stays.back().to)
            return true;
        const double perDay = world_ == WorldKind::ModelLike       ? 0.0
                              : world_ == WorldKind::HospitalStays ? 0.006
                                                                   : 0.001;
        if (!draws_.chance(perDay))
            return false;
        home_.stays.push_back({day, day + draws_.geometric(1.0 / 7)});
        return true;
    }
    double adherenceOn(int day) const {
        double p = traits_.adherence;
        const Weekday weekday = today_.plusDays(day).weekday();
        if (world_ == WorldKind::Weekday)
            p = weekday == Weekday::Saturday || weekday == Weekday::Sunday ? 0.55 * p
                                                                           : std::min(0.99, p * 1.04);
        if (isWeak_)
            p *= 0.6;
        return p;
    }
    int plannedDrains(int day) {
        const Date on = today_.plusDays(day);
        const DrainPattern &p = home_.orders.back().pattern;
        int drains = slipped_;
        slipped_ = 0;
        if (p.kind == DrainPatternKind::AsNeeded)
            return asNeededDrains(on, p);
        bool isDue = false;
        if (p.kind == DrainPatternKind::EveryNDays)
            isDue = (on - p.anchor).count() % p.everyDays == 0;
        else if (!p.weekdays.isEmpty())
            isDue = p.weekdays.contains(on.weekday());
        else
            isDue = isChosenDay(on, p.timesAWeek);
        if (!isDue)
            return drains;
        if (!draws_.chance(adherenceOn(day)))
            home_.missed.push_back({day});
        else if (p.kind == DrainPatternKind::EveryNDays && p.everyDays > 1 && draws_.chance(traits_.late))
            slipped_ = 1;
        else
            ++drains;
        return drains;
    }
    int asNeededDrains(Date on, const DrainPattern &p) {
        if (on.weekday() == Weekday::Sunday)
            thisWeek_ = 0;
        if (thisWeek_ >= p.mostPerWeek.value_or(7) || !draws_.chance(traits_.asNeeded))
            return 0;
        ++thisWeek_;
        return 1;
    }
    // A home that chooses its days: any `times` of the seven, drawn as the week goes (selection sampling).
    bool isChosenDay(Date on, int times) {
        const int weekday = static_cast<int>(on.weekday());
        if (weekday == 0)
            thisWeek_ = 0;
        if (!draws_.chance(static_cast<double>(times - thisWeek_) / (7 - weekday)))
            return false;
        ++thisWeek_;
        return true;
    }
    void drain(int day, double level) {
        TrueSession s;
        s.day = day;
        double log = level + traits_.spread * draws_.normal();
        if (isFlare_)
            log += 0.6;
        if (traits_.procedure && day >= *traits_.procedure)
            log += std::log(traits_.afterProcedure);
        s.millilitres = std::clamp(static_cast<int>(std::lround(std::exp(log) / 10)) * 10, 0, home_.mostMl);
        s.extras = std::max(0, (s.millilitres - 1) / home_.bottleMl);
        s.kitsLost = lostBefore(1);
        s.extrasLost = lostBefore(s.extras);
        home_.sessions.push_back(s);
    }
    int lostBefore(int opened) {
        int lost = 0;
        for (int i = 0; i < opened; ++i)
            while (lost < 3 && draws_.chance(traits_.loss))
                ++lost;
        return lost;
    }

    WorldKind world_;
    HomeLife &home_;
    Date today_;
    Draws &draws_;
    Traits traits_;
    double hazard_;
    bool isFlare_ = false, isWeak_ = false;
    int slipped_ = 0;
    int thisWeek_ = 0;
};

} // namespace

HomeLife liveHome(WorldKind world, const AgencyTraits &agency, int start, int end, Date today, Draws &draws) {
    HomeLife home;
    home.site = draws.chance(0.75) ? CavitySite::Chest : CavitySite::Abdomen;
    home.hasLargeKit = home.site == CavitySite::Abdomen || draws.chance(0.2);
    home.bottleMl = home.hasLargeKit ? 1000 : 500;
    home.mostMl = home.site == CavitySite::Chest ? 1000 : 2000;
    home.start = start;
    home.orders.push_back({start, patternOf(draws, today.plusDays(start))});
    Living(world, agency, home, today, draws).live(end);
    return home;
}

} // namespace kitround::bench
