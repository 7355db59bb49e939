#pragma once
#include "core/caseload/Load.h"
#include "core/desk/Table.h"
#include "core/desk/views/WeekView.h"
#include "core/desk/words/Words.h"

#include <QString>

#include <vector>

namespace kitround::desk {

caseload::LoadReview loadReview(const WeekPicture &week);
caseload::LoadReview loadReview(const WeekPicture &week, DateRange days); // one week of several
// The one rule for over full is the load's sign: minutes, or visits of one day.
int nursesOverFull(const caseload::LoadReview &review);
// Over full, nearly full, then the rest; each by share, equal ones by name.
std::vector<caseload::NurseLoad> overloadedFirst(const caseload::LoadReview &review);
// What the week comes to in a line or two; what is not there yet is said so.
QString loadHeadline(const caseload::LoadReview &review);
QString evennessText(const caseload::LoadReview &review, int decimals);
// Points have the same decimals wherever they are read.
inline constexpr int kPointsDecimals = 1;
QString pointsText(double points);                         // "13.4"
QString pointsText(const caseload::NurseLoad &load);       // "13.4 of 12.5"
QString pointsMarkedText(const caseload::NurseLoad &load); // "13.4 of 12.5, over" where they are
// A nurse's week has two shares, and they differ: what each divides by what.
QString minutesShareText();
QString overtimeCountsText(); // what overtime counts, beside a share above 100 %
QString loadOrderText();      // how overloadedFirst sorts
QString pointsShareText();
// Which visits say who sees whom: "Visits made and planned from Mon 7 Sep to Sat 12 Dec."
QString continuityDaysText(const caseload::LoadReview &review, Date today);
QString mainNurseText(); // who counts as main nurse
// The visits of the week that are not placed or were missed: one row for each that the headline counts.
Table leftTable(const caseload::LoadReview &review, const Agency &agency,
                PatientNamed named = PatientNamed::Initials);
Table loadTable(const WeekPicture &week, const caseload::LoadReview &review);
// "Alder, Ada 3; Birch, Ben 1": who came, and how often.
QString seenByText(const caseload::Continuity &continuity, const SnapshotIndex &agency);
Table continuityTable(const WeekPicture &week, const caseload::LoadReview &review);

} // namespace kitround::desk
