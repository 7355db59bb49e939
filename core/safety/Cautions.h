#pragma once
// From the order, the log and what was reported: the things to call about. Pure; the desk stores what is
// raised. None of it diagnoses or advises a change; each item says what was found beside what was ordered or
// usual, and the words (desk/words) say whom to call under local policy.
//
// Evidence, in order (numbers as decimal text, dates as ISO text, "" = unknown), then the subject:
// - OverPrescribedMaximum: volume mL, prescribed maximum mL; entry:<id>:over-max
// - OverCommonMaximum: volume mL, common maximum mL; entry:<id>:over-common
// - TooSoon: measure, found, ordered, date of the last drain; entry:<id>:too-soon. The measure is "gap" (days
//   since the last drain, days between drains), "day" or "week" (drains in it with this one, drains ordered).
// - LowOutputRun: drains in the run, threshold mL, their volumes oldest first with ", " between (at most the
//   last five); low-run:<id of the run's first entry>
// - SuddenDrop: volume before mL, first low volume mL, its date, low drains since with it;
//   sudden-drop:<id of the first low entry>
// - SharpChange: volume before mL, this volume mL, change in % of the larger; entry:<id>:sharp-change
// - SymptomEmergency, SymptomNow, SymptomToday: the code word of each symptom (codeOf);
//   entry:<id>:symptom-emergency, -now, -today
// - Silence: date of the last log entry or "", days since it, days that may pass (without one, both count
//   from the first drain that was due); silence:<catheter>:<that date or "none">
// - NoMaximumOnOrder: "session" or "as-needed", start of the order; no-max:<order>, no-as-needed-max:<order>
// - NoOrder: last day of the last order or ""; no-order:<catheter>:<that day or "none">
// - RecalledLotAtHome: item name, lot number, quantity by the ledger, reason; recall:<lot>:<catheter>
// An entry that is not stored yet has id 0 in its subject: good for a preview; store it before keeping items.
#include "core/records/Safety.h"
#include "core/records/Snapshot.h"

#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace kitround::safety {

// Which symptom asks for which haste: general clinical practice, from memory; local policy comes first. The
// four emergency words: Emergency. New blood or colour, a moved, showing or damaged tube, trouble during a
// drain: Now. Signs of infection, leaks, no flow, sudden fall, and the signs of fluid lost too fast: Today.
CautionUrgency urgencyOf(Symptom symptom);
std::string_view codeOf(Symptom symptom); // stable, snake_case
bool isInfectionSign(Symptom symptom);    // general clinical practice, from memory; no diagnosis
std::optional<Symptom> symptomNamed(std::string_view code);

// Whom to call, by local policy: who acts first on this kind.
enum class CallFirst : std::uint8_t {
    EmergencyNumber,
    NurseNow,
    NurseToday,
    Prescriber,
    Supply,
    Coordinator
};
CallFirst callFirst(CautionKind kind, CautionUrgency urgency);
// May a patient be left off the watch list for some days? Not while something asks for a call now.
bool maySnooze(CautionUrgency urgency);
// About the patient's state: what a nurse keeps an eye on. The rest is about records and supplies.
bool isClinical(CautionKind kind);

// What one new entry raises, given the catheter, the order in force that day (or nullptr) and the earlier
// entries of that catheter by time. Void entries, the one it corrects and later ones among `earlier` are
// passed over. An entry of a drain that was not done raises its symptoms only.
//
// Volume: above the prescribed maximum; where no maximum is prescribed, above the common one.
// TooSoon: fewer than N days since the last drain for EveryN (daily: a second one the same day); for n a week
// a second drain the same day, and on free days more than n in the agency's week; for as-needed, above the
// day's or week's maximum. Low output: `LowOutputRun` drains in a row below `LowOutputMl`, unless the fall is
// sudden: the first of the run lies more than `SharpChangePercent` below the drain before it. That is raised
// as SuddenDrop from the first low drain on and is not a taper until a nurse confirms. A dry tap counts as 0
// mL; an unknown volume breaks no run and starts none. SharpChange: from the last known volume by more than
// `SharpChangePercent` of the larger of the two, up or down, unless both are low or it is raised as
// SuddenDrop.
std::vector<CallItem> cautionsOf(const DrainEntry &entry, const Catheter &catheter, const DrainOrder *order,
                                 std::span<const DrainEntry> earlier, const AgencySettings &settings);

// What the state of the agency raises today by itself: silence in the log, orders without a maximum,
// catheters without an order now or later, recalled lots standing in homes (also of people who left). Items
// already open or closed with the same subject are left out. By urgency, then patient, then subject.
//
// Silence: no entry of any outcome since the later of (last entry + longest gap of the order) and (first
// drain day of the order in force after its start, the catheter's insertion and the last hold), plus
// `SilenceDaysBeyond` days. Never on hold, after exit or removal, for as-needed orders. A missing log is not
// a missed drain.
std::vector<CallItem> standingCautions(const SnapshotIndex &agency);

} // namespace kitround::safety
