#pragma once
// Who is on call when, what each turn is paid as, how evenly the turns fall, and turns and late shifts that
// are followed by a day's work without the rest between.
//
//   units of a turn = the setting of its kind / 100;  holiday before weekend before weekday night
//   even share      = units of all / nurses who take turns
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::caseload {

enum class CallKind : std::uint8_t { WeekdayNight, Weekend, Holiday };
struct CallDuty {
    NurseId nurse;
    Date on;
    Minutes from, to; // `to` beyond 1440: into the next day
    CallKind kind = CallKind::WeekdayNight;
    double units = 0;
    // Rest between its end and the nurse's next working shift that begins within a day, or within the rest
    // the setting asks for where that is longer; nothing: none begins.
    std::optional<Minutes> restAfter;
    bool isTooShort = false; // less than the setting asks for
};
// By day, then start, then nurse. A federal or own holiday, by its own day or as observed, is Holiday.
std::vector<CallDuty> callDuties(const Snapshot &agency, DateRange days);

// Days of these on which no turn begins, and through which none that began before runs to the end.
std::vector<Date> daysWithoutCall(const std::vector<CallDuty> &duties, DateRange days);

// A turn on call or a late shift, and work that begins before the rest the setting asks for is over. Parts of
// one day's work are no rest to speak of.
struct ShortRest {
    Shift before, work;
    Minutes rest;
};
// Of work that begins in these days, at most one a stretch of work (the shortest); by day, then nurse.
std::vector<ShortRest> shortRests(const Snapshot &agency, DateRange days);

struct CallShare {
    NurseId nurse;
    int nights = 0, weekends = 0, holidays = 0;
    double units = 0;
    double beyondEven = 0; // units above (below: negative) the even share
    int tooShort = 0;
};
struct CallFairness {
    DateRange days;
    std::vector<CallShare> shares; // who takes turns, most units first
    double evenShare = 0;
    double gini = 0;                   // of units over those nurses
    std::vector<NurseId> withoutTurns; // active, none in these days
};
CallFairness callFairness(const Snapshot &agency, DateRange days);

} // namespace kitround::caseload
