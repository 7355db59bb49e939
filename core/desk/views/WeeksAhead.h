#pragma once
// The weeks ahead as ranges: visits that orders in force and expected referrals will ask for, against the
// minutes shifts will give. Nobody is taken to leave on time: every home stays or goes by its chance
// (forecast/ExitOutlook), an order that runs out before its patient leaves is taken as renewed at its last
// frequency, and room is judged by the upper end of the range.
//
// Referrals of a week ~ Poisson(r), r ~ Gamma(n + 1/2, 12 weeks) for n referrals seen in the last 12 weeks
// (Jeffreys' prior for a Poisson rate); each asks for what a present patient's first orders ask for. Ranges
// are the 10th, 50th and 90th of 100 in simulated weeks with a fixed seed.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"

#include <QString>

#include <algorithm>
#include <array>
#include <optional>
#include <vector>

namespace kitround::desk {

struct Spread { // 10, 50, 90 %
    double low = 0, middle = 0, high = 0;
};
// Tight: what is asked for fits, but no new start for sure. IfOnTime: only where exits come as expected.
enum class Room : std::uint8_t { Free, Tight, IfOnTime, Full };
struct WeekAhead {
    DateRange week;
    int inForce = 0;   // visits of orders that still run that week, everybody staying
    int ifRenewed = 0; // and of orders that run out before, renewed, everybody staying
    Spread exits;      // patients who left since today
    Spread referrals;  // that week
    Spread visits;     // to make, referrals' with them
    Spread minutes;    // visits, notes and travel
    Minutes capacity;
    std::array<double, 3> byArea{};       // mean visits by AreaKind
    std::array<Spread, 3> areaVisits;     // by AreaKind
    std::array<Spread, 3> areaMinutes;    // with notes and travel
    std::array<double, 3> startMinutes{}; // of a new start's first week there, by present cases
    Room room = Room::Free;
    int startsLeft = 0; // new starts that still fit at the upper end
    // Whether some home says how long a first week takes.
    bool knowsStarts() const {
        return std::ranges::any_of(startMinutes, [](double mean) { return mean > 0; });
    }
};
// The plan of one of these weeks beside what is ordered for it: the plan holds more kinds of visits.
struct PlanBeside {
    Date week;
    int ordered = 0;  // of visit orders, first visits and recertifications
    int byEvents = 0; // dressing checks, counts of supplies, follow-ups, returns from hospital
    int made = 0;     // of the week, made or missed already
};
struct WeeksAhead {
    std::vector<WeekAhead> weeks;
    std::optional<PlanBeside> plan; // of the week under review, where it is one of these
    int referralsSeen = 0;          // in the last 12 weeks
    double referralsAWeek = 0;
    std::int64_t exitsSeen = 0;
    bool exitsAreLearned = false;
    Minutes travelPerVisit;
    bool travelIsAssumed = true;
    bool travelIsMade = false; // of visits made in the weeks gone by
};
// `weeks` 1..8, from next week. `travelPerVisit`: of a week that has been planned; nothing: a stop's minutes
// and 15 on the road (assumed).
WeeksAhead weeksAhead(const Agency &agency, int weeks, std::optional<Minutes> travelPerVisit);
// `startsForSure`: new starts that fit at the upper end of the minutes; nothing: not known yet.
Room roomIn(double capacity, const Spread &minutes, std::optional<int> startsForSure);
QString words(Room room);
QString roomText(Room room, Minutes capacity, const Spread &minutes); // "nothing yet" without work and hours
Table weeksAheadTable(const WeeksAhead &ahead);

} // namespace kitround::desk
