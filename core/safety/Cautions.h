#pragma once
// From the order, the log and what was reported: the things to call about. Pure; the desk stores what is raised.
#include "core/records/Safety.h"
#include "core/records/Snapshot.h"

#include <span>
#include <vector>

namespace kitround::safety {

CautionUrgency urgencyOf(Symptom symptom);
// Whom to call, by local policy: who acts first on this kind.
enum class CallFirst : std::uint8_t { EmergencyNumber, NurseNow, NurseToday, Prescriber, Supply, Coordinator };
CallFirst callFirst(CautionKind kind, CautionUrgency urgency);

// What one new entry raises, given the catheter, the order in force that day (or nullptr) and the earlier
// entries of that catheter by time. Low output: `LowOutputRun` drains in a row below `LowOutputMl`, unless the
// fall is sudden (the drain before the run was above the sharp-change share): then SuddenDrop, which is not a
// taper until a nurse confirms. A dry tap counts as 0 mL; an unknown volume breaks no run and starts none.
// TooSoon: fewer than (interval) days since the last drain for EveryN (N >= 2); for named weekdays, a second
// drain the same day; for as-needed, above the day's or week's maximum.
std::vector<CallItem> cautionsOf(const DrainEntry &entry, const Catheter &catheter, const DrainOrder *order,
                                 std::span<const DrainEntry> earlier, const AgencySettings &settings);

// What the state of the agency raises today by itself: silence in the log beyond the longest gap of the order
// plus SilenceDaysBeyond (not on hold, not exited, not before the first drain is due), orders without a
// maximum, catheters without an order, recalled lots standing in homes. Items already open or closed with the
// same subject are left out. By urgency, then patient.
std::vector<CallItem> standingCautions(const SnapshotIndex &agency);

} // namespace kitround::safety
