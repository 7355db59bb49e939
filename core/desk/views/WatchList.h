#pragma once
// The clinical watch list: patients a nurse keeps an eye on, with the reasons in words, an owner, the next
// step and its day. No score: the most urgent reason comes first, then the oldest. What was put off is left
// out until its day, or until something new is found (so that a list too long is still read); a matter closed
// with its outcome does not come back by itself. The list defers to prescriber and nurse and never suggests a
// change of an order.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"
#include "core/safety/Cautions.h"

#include <QString>

namespace kitround::desk {

struct WatchReason {
    std::string subject; // the same as long as it is about the same
    CautionUrgency urgency = CautionUrgency::Soon;
    Date since;
    QString text; // "a sharp change in volume (chest, right), Mon 2 Mar"
};
// What speaks for watching the patient today, the most urgent first, then the oldest; what was closed with an
// outcome is left out. Open cautions about the patient's state, silence, repeated trouble calls, a long
// dwell.
std::vector<WatchReason> watchReasons(const Agency &agency, PatientId patient);

enum class WatchState : std::uint8_t { NoOwner, New, Overdue, Waiting, Snoozed, Closed };
struct WatchRow {
    PatientId patient;
    QString who;
    std::vector<WatchReason> reasons;
    CautionUrgency urgency = CautionUrgency::Soon; // of the first reason
    std::optional<Date> since;                     // of the oldest reason of that urgency
    std::optional<WatchEntry> entry;               // somebody took the watch
    QString owner;
    WatchState state = WatchState::NoOwner;
};
struct WatchList {
    std::vector<WatchRow> rows;    // to look at
    std::vector<WatchRow> snoozed; // put off, by the day they come back
    std::vector<WatchRow> closed;  // the newest first
};
WatchList watchList(const Agency &agency);
QString words(WatchState state);
// The reasons, one after the other: "a; b".
QString reasonsText(const WatchRow &row);
Table watchTable(const WatchList &list, const Agency &agency); // patients by code and initials

} // namespace kitround::desk
