#pragma once
// Who is on call when, counted by nurse, and nights that are followed by a day's work without the rest
// between.
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::caseload {

inline constexpr Minutes kRestAfterCall = Minutes::of(10 * 60); // common practice

struct CallDuty {
    NurseId nurse;
    Date on;
    Minutes from, to; // `to` beyond 1440: into the next day
    bool isWeekend = false;
    // Rest between its end and the nurse's next working shift that begins within a day; nothing: none begins.
    std::optional<Minutes> restAfter;
    bool isTooShort() const { return restAfter && *restAfter < kRestAfterCall; }
};
// By day, then start, then nurse.
std::vector<CallDuty> callDuties(const Snapshot &agency, DateRange days);

} // namespace kitround::caseload
