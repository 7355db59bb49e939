#pragma once
// "What if" for the manager: one thing changed on a copy of the agency, the week planned again by the same
// planner, and both plans side by side. Pure; nothing is stored and the agency is never touched.
#include "core/caseload/Load.h"
#include "core/desk/views/WeekView.h"

#include <QString>
#include <QStringList>

#include <stop_token>
#include <vector>

namespace kitround::desk {

using kitround::WhatIfKind;
struct WhatIfQuestion {
    WhatIfKind kind = WhatIfKind::NurseAway;
    NurseId nurse;                   // NurseAway: who; NurseAdded: like whom; Shift: whose
    std::optional<DateRange> away;   // NurseAway: which days of the week; nothing: all
    int referrals = 5;               // Referrals: 1..kMostReferrals
    std::uint64_t seed = 1;          // Referrals: of the draw
    Date on;                         // Shift: a day of the week
    std::optional<Minutes> from, to; // Shift: the new hours; nothing: no work that day
    SettingKey setting = SettingKey::CostOvertimeMinute100; // Setting
    std::int64_t value = 0;
};
inline constexpr int kMostReferrals = 60;
DateRange weekHolding(const Agency &agency, Date day); // by the agency's week start
// Active nurses without an hour in the week: asking what happens without them asks nothing.
std::vector<NurseId> awayAllWeek(const Agency &agency, DateRange week);
QString shiftNowText(const Agency &agency, NurseId nurse, Date on); // "now 08:00 to 16:30", "now no shift"
QString whatIfTitle(const WhatIfQuestion &question, const Agency &agency); // "Tolland, Ruth away all week"

// The changed copy. Referrals are drawn, with putting back, from the active patients with a visit order: each
// is a new start of such a patient (same place, needs, orders from their first week on), referred on one of
// the first five days of the week. Errors: no nurse (Missing at "nurse_id"), an unknown one (UnknownRecord
// there), a number, hours or a setting outside their bounds (OutOfRange at "referrals", "value";
// EndBeforeStart at "to_time", "away_to_on"), a day outside the week (OutOfRange at "on_date",
// "away_from_on"), nobody to draw from (Infeasible at "referrals"), a value that is in force already
// (Duplicate at "value").
Result<AgencyPtr> changedAgency(const Agency &agency, DateRange week, const WhatIfQuestion &question);

struct WhatIfAnswer {
    WhatIfQuestion question;
    QString title;
    WeekPicturePtr before, after;
    WeekPicturePtr
        again; // as it is, searched on as much as `after` was: what differs from `before` is chance
    caseload::LoadReview reviewBefore, reviewAfter, reviewAgain;
    QStringList notes; // what a total would hide
};
double highestShare(const caseload::LoadReview &review); // of capacity, of the nurse with the most
// Over full, with visits still to make: what is made already is no plan's doing.
bool hasTooMuch(const caseload::NurseLoad &load, const WeekPicture &week);
int nursesWithTooMuch(const caseload::LoadReview &review, const WeekPicture &week);
bool takesCapacity(const WhatIfAnswer &answer); // fewer hours than before: nothing of it is told as better
// Before: the week planned as things are, starting from the plan in hand. After: the changed copy, starting
// from that same plan; never worse than it where it still keeps every rule, so that help cannot seem to harm.
// Where an added nurse gets no visit the plan without stands, and the notes say so.
// Errors besides the above: Cancelled where it was stopped.
Result<WhatIfAnswer> askWhatIf(const AgencyPtr &agency, Date anyDay,
                               const std::vector<supply::RefillProposal> *refills,
                               const WhatIfQuestion &question, const rounds::SolveOptions &options,
                               std::stop_token stop, const ProgressSink &progress);

enum class Turn : std::uint8_t { Same, Better, Worse };
struct WhatIfLine {
    QString what, before, after, change;
    Turn turn = Turn::Same; // for the agency as a whole: fewer unplaced, less overtime, more even
    // Of a nurse over full: "over full", or the visits of the day that make it so. Of the agency: why a
    // difference is told neither way.
    QString why{};
};
std::vector<WhatIfLine> whatIfLines(const WhatIfAnswer &answer);
QString whatIfTurnNote(const WhatIfAnswer &answer); // what the lines say of chance and of less capacity
// Share of capacity by nurse, in the order of names; "away" or "no shifts" where there is no capacity.
std::vector<WhatIfLine> whatIfNurseLines(const WhatIfAnswer &answer);
Table whatIfTable(const WhatIfAnswer &answer);

} // namespace kitround::desk
