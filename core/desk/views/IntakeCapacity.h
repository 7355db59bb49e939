#pragma once
// What the agency can take on: by kind of area and week, as ranges, with what the manager has closed; and the
// referrals that wait. A new start fits for sure where it fits at the upper end of what present homes may ask
// for: nobody is counted on to leave on time.
//
//   hours given to an area = each nurse's capacity x the share of her visits of the last four weeks there
//                            (no visits: all to the area of her base)
//   starts that fit        = (capacity - minutes asked for) / minutes of a new start's first week there
#include "core/desk/views/DeadlineList.h"
#include "core/desk/views/WeeksAhead.h"

namespace kitround::desk {

inline constexpr int kIntakeWeeks = 4;

struct AreaWeek {
    AreaKind area = AreaKind::Urban;
    DateRange week;
    Spread visits, minutes;
    Minutes capacity;
    int startsForSure = 0, startsAtBest = 0; // at the upper and at the lower end of the minutes
    bool knowsStarts = false;                // some home says how long a first week takes
    Room room = Room::Free;
    std::optional<IntakeClosure> closed; // on any day of the week
};
struct WaitingReferral { // waitsForFirstVisit
    PatientId patient;
    AreaKind area = AreaKind::Urban;
    Days waiting;
    std::optional<LocalTime> firstVisitDue;
    bool isLate = false;
    bool isAreaClosed = false; // today
    bool hasNurse = false;     // a main nurse is named
};
struct IntakeCapacity {
    std::vector<AreaWeek> areas; // by area, then week; areas without homes, nurses or referrals left out
    std::vector<WaitingReferral> waiting; // without a first visit, longest first
    std::vector<IntakeClosure> closures;  // in force or to come
};
// No first visit is planned, whether or not a main nurse is named.
bool waitsForFirstVisit(const Agency &agency, const Patient &patient);
IntakeCapacity intakeCapacity(const Agency &agency, const WeeksAhead &ahead);
// The closing that covers the area on the day.
const IntakeClosure *closureOf(const Agency &agency, AreaKind area, Date day);
QString
closedText(const IntakeClosure &closure); // "The rural area is closed to referrals from ... : reason."

Table intakeTable(const IntakeCapacity &intake);
Table waitingTable(const IntakeCapacity &intake, const Agency &agency,
                   PatientNamed named = PatientNamed::Initials);
Table closureTable(const IntakeCapacity &intake);

} // namespace kitround::desk
