#pragma once
// Which visits a week, or several planned together, owes: from visit orders (the trade's weeks), less what
// was done, planned or missed already; and from events: start of care, resumption after hospital,
// recertification (in its window, or at once where that passed unmet), dressing check, follow-up of a
// reported symptom, supply count where the home's stock is unknown. Pure: nothing is stored until accepted.
#include "core/base/Date.h"
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::rounds {

enum class DueCause : std::uint8_t {
    VisitOrder,
    StartOfCare,
    Resumption,
    Recertification,
    DressingCheck,
    SymptomFollowUp,
    SupplyCount,
    Existing
};
struct DueVisit {
    Visit visit; // id set where the visit is stored already (drafted or published for this week)
    DueCause cause = DueCause::VisitOrder;
    int ordinal = 0;                 // k-th of the order's visits in its week, from 1
    int ofWeek = 1;                  // of so many
    std::optional<Instant> deadline; // 48-hour clocks
    std::optional<Days> leastGap; // to the neighbouring visits of the same order, or of one it took over from
    std::optional<Days> mostGap;
    std::vector<Date>
        fixedNeighbours; // visits of these orders already done or planned outside the days asked about
};
// Published for today, and its time has come: it has begun, and the plan has no say in it any more. Also
// where a hold began since: the visit of the morning of an admission was made.
bool isUnderWay(const Snapshot &agency, const Visit &visit);
// Published, and its day is gone by: as good as made until somebody says otherwise.
bool isGoneBy(const Snapshot &agency, const Visit &visit);
// Gone by, and nobody has recorded what happened; of a telephone visit nobody is asked, though its minutes
// were worked.
bool isUnrecorded(const Snapshot &agency, const Visit &visit);
// Whether the agency visits on the day: its visiting days, less its own and (unless worked) federal holidays.
bool isVisitingDay(const AgencySettings &settings, Date on);
// What a visit of the kind asks of the nurse, given the patient's catheters in place.
SkillSet skillsFor(VisitKind kind, const SnapshotIndex &agency, PatientId patient);

// `days`: whole weeks from the first day, or one shorter range. By patient, then week, then order, then
// ordinal; dueFrom and dueTo lie in the visit's week, but for what may stand in two (a recertification window
// over the week's end). Patients on hold for a whole allowed range and exited patients have
// none; a hold inside the week narrows dueFrom/dueTo. Visits Done this week count against the owed number;
// Missed ones are owed again unless the reason says otherwise (Hospital). Of a range ("2-3W4") the least is
// planned. Where the week is under way only what is left of it is due; planned visits of days gone by count
// as done until somebody says otherwise. Telephone visits need no nurse on the road and are not listed.
// Events come after the patient's orders. An open hold (no known return) leaves nothing due.
std::vector<DueVisit> visitsDue(const SnapshotIndex &agency, DateRange days);

} // namespace kitround::rounds
