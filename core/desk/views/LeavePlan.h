#pragma once
// Before leave is approved: whose owed visits fall into it and who else could make them, and what skill is
// left in the nurse's kind of area day by day. Pure; the planner's own answer is a what-if (NurseAway) of
// each week that the leave touches.
#include "core/desk/views/WhatIf.h"

namespace kitround::desk {

struct LeaveVisit { // of the nurse's own patients, or planned for her, with no day to make it outside the
                    // leave
    PatientId patient;
    VisitKind kind = VisitKind::Routine;
    DateRange days;                // the days of the leave on which it may be made
    std::optional<NurseId> backup; // the patient's backup, where at work then and able
    int others = 0;                // further nurses at work then and able
    bool isCovered() const { return backup || others > 0; }
};
struct AreaCover { // of the nurse's area, one drain skill
    Skill skill = Skill::DrainChest;
    int competent = 0;   // active nurses of the area with the skill, she included
    int mostOff = 0;     // of those, off on the worst of her working days, she included
    int leastAtWork = 0; // of those, at work on the worst of her working days
    Date worst;
    std::vector<NurseId> alsoOff; // others of the area with the skill, on approved leave in these days
    bool isFlagged() const { return mostOff >= 2 || leastAtWork == 0; }
};
// Of a week the leave touches: owed visits that have other days, and whether those hold them all together.
struct LeaveWeek {
    Date week;
    int moved = 0;          // visits not bound to the leave
    Minutes work;           // of those, notes included, driving not
    Minutes left;           // of the nurse's shifts on the other days, less the visits that stand there
    bool isPlanned = false; // there is a plan of the week
    bool fits() const { return work <= left; }
};
struct LeavePlan {
    TimeOff request;
    AreaKind area = AreaKind::Suburban;
    int visitingDays = 0;           // days of the leave on which she would work
    std::vector<LeaveVisit> visits; // without cover first, then by day
    std::vector<AreaCover> cover;   // the drain skills she holds
    std::vector<LeaveWeek> moves;   // the weeks with visits that move, by day
    std::vector<Date> weeks;        // that the leave touches and that are not over: for the what-if
    std::vector<Date> unplanned;    // of those: nobody knows yet which visits a plan will give her there
    int uncovered() const;
    bool allMovedFit() const;
    bool isFlagged() const;
};
// Errors: UnknownRecord at "id".
Result<LeavePlan> leavePlan(const Agency &agency, TimeOffId request);
// The what-if of one of its weeks.
WhatIfQuestion leaveQuestion(const LeavePlan &plan, DateRange week);

// What has to be known before it is approved, the worst first; empty: nothing stands against it.
QStringList leaveWarnings(const LeavePlan &plan, const Agency &agency);
// What was counted: the visits bound to the leave, those that may move, and what is not known yet.
QString leaveCountedText(const LeavePlan &plan);
// The warnings in one text; where nothing stands against it, that is said as far as it is known.
QString leaveVerdict(const LeavePlan &plan, const Agency &agency, QChar between);
// Said once it is approved: how many visits planned for the nurse fall into it, which nobody makes now.
QString approvedLeaveText(const LeavePlan &plan, const Agency &agency);
int plannedInLeave(const LeavePlan &plan, const Agency &agency);
// The visits that move to other days and fit there, a line a week; those that do not are warnings.
QStringList leaveMoves(const LeavePlan &plan);
QString noLeaveVisitsText(const LeavePlan &plan); // in place of an empty table of visits
Table leaveVisitTable(const LeavePlan &plan, const Agency &agency);
Table leaveCoverTable(const LeavePlan &plan, const Agency &agency);

// Leave that is not over: what is asked for first, then by day and name.
std::vector<TimeOff> leaveList(const Agency &agency);
// The same for the meeting: who, when, and of a request what stands against it. Neither kind nor note: they
// may tell of an illness.
Table leaveListTable(const Agency &agency);

} // namespace kitround::desk
