#pragma once
// One day of the week's plan on a time line: each nurse on duty with visits, travel, break and the hours in
// which each visit may start, beside what is over already; and where the homes are, for drawing the rounds.
// Pure.
#include "core/desk/views/WeekBoard.h"

namespace kitround::desk {

struct TimeSpan {
    Minutes from, to;
    friend bool operator==(const TimeSpan &, const TimeSpan &) = default;
};
struct DayStop {
    VisitCard card;
    std::vector<TimeSpan> mayStart; // hard windows of that day; empty: any time of the duty
    std::optional<GeoPoint> point;  // of the home; nothing where it is not known
};
struct DayRound {
    NurseId nurse;
    QString name;
    bool isOnCall = false;
    bool hasDuty = true; // else nothing may come here: it is there for what is over
    Minutes from, to;    // the duty; without one what is over
    std::optional<TimeSpan> breakTime;
    std::vector<TimeSpan> blocked; // the nurse's own appointments
    std::vector<VisitCard> past;   // done, missed, called off or not recorded: to see, not to plan
    std::vector<DayStop> stops;    // in start order
    Minutes leave, back;           // from the start place, at the end place; equal where there is no visit
    Minutes travel;
    Metres distance;
    std::optional<GeoPoint> start, end;
};
struct DayBoard {
    Date on;
    DistanceUnit unit = DistanceUnit::Miles; // the agency's
    QString note;                            // holiday's name, what to mind of the rounds; or empty
    Minutes from, to;                        // whole hours around every duty
    std::vector<DayRound> rounds;            // who is on duty, by name; then who is not any more
    QStringList away;                        // "Dana Lindqvist: leave"
    std::vector<VisitCard> tray;             // not placed and allowed on this day, most urgent first
    bool hasUnplaced = false;                // some visit of the week has no place, whatever its days
};
// Precondition: `on` lies in the week.
DayBoard dayBoardOf(const WeekPicture &week, Date on);

} // namespace kitround::desk
