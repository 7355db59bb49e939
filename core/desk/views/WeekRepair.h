#pragma once
// The plan of a week, or of several as one, after something went otherwise than planned, and what changed
// against what people were told: whom to phone. Pure; nothing is stored.
#include "core/desk/views/WeekView.h"

#include <QString>
#include <QStringList>

#include <stop_token>
#include <vector>

namespace kitround::desk {

VisitPlace placeIn(const WeekPicture &week, const rounds::Placement &placement);
// The job at a place of another plan; not placed where the nurse has no duty in the picture that day.
rounds::Placement placementAt(const WeekPicture &week, std::int32_t job, const VisitPlace &place);
// "Mon 23 Nov 09:10, Marsh, Owen and Bell, Ada"; "not planned".
QString placeText(const WeekPicture &week, const VisitPlace &place);
QString shiftText(const VisitPlace &was, const VisitPlace &now); // "by 25 minutes"

// One visit that stands elsewhere than before, in words.
struct PlanChange {
    std::int32_t job = -1;
    PatientId patient;
    QString who, phone, kind;
    QString was, now;        // "Mon 23 Nov 09:10, Marsh, Owen"; "not planned", "taken out, no day left"
    bool isUnplaced = false; // somebody has to decide
    bool isSmall = false;    // as agreed (desk/views/PlanNews), though not to the minute
    bool isNew = false;      // it had no place, or its home does not expect it
    bool isGone = false;     // published, and not owed any more: `job` is -1
    QString note; // what to mind: whom to tell, a leave that is not decided, a packed parcel elsewhere
};
PlanChange planChangeOf(const Agency &agency, const Visit &visit); // who and what; no places yet
bool wasEverPublished(const WeekPicture &week);                    // one of its weeks that is not over
// Visits whose nurses, day or start are not what their homes were told last (desk/views/HomesTold), else not
// what is in force, whether the plan in hand, a saved draft or publishing again moved them; new visits among
// them. Those without a place first, then those to be called about, then those that are gone (the home is on
// hold, the visit was called off, it stands in another week), then small shifts. Empty where the week was
// never published.
std::vector<PlanChange> changesSincePublished(const WeekPicture &week);
// "2 visits moved; 1 visit is gone; within 30 minutes of the time told: 3 visits." One sentence for each kind
// there is; says so where there is none, or where nothing was published.
QString changesText(const WeekPicture &week, const std::vector<PlanChange> &changes);
// Leave that is asked for, not decided, and on whose days the plan has visits for that nurse: a request is
// shown, not obeyed. A sentence a request.
QStringList undecidedLeave(const WeekPicture &week);
// The week as it was last published, for comparing; nullptr where it never was.
WeekPicturePtr publishedPicture(const WeekPicture &week);
// Two plans of one week side by side: "travel: 738, then 760 (+22)", for each part of the cost that differs,
// and the total last. Empty where they cost the same.
QStringList costDifferences(const WeekPicture &before, const WeekPicture &after);
// The same in one sentence: "Weighted minutes 738, then 760 (+22): travel +22."
QString costChangeText(const WeekPicture &before, const WeekPicture &after);

struct CallOut {
    NurseId nurse;
    Date on;
    std::optional<Minutes> from; // nothing: the whole day
    TimeOffKind kind = TimeOffKind::Sick;
    std::optional<Date> lastDay{}; // away until then, that day included; nothing: on that day only
};
struct Repaired {
    WeekPicturePtr after;
    std::vector<PlanChange> changes; // those without a place first; then moved, by the new day and start
    double addedCost = 0;            // weighted minutes, by the week's own weights
    std::vector<PlanChange> shifted; // further visits that start within what counts as agreed, by their start
    QStringList toMind;              // of the whole: visits that wait for the nurse who is away
};
// "Within 30 minutes of the time told, which counts as agreed: 3 visits."
QString asAgreedText(std::int64_t visits);
// Each keeps the rest of the plan as it is as far as it can; what began before now does not move. Errors: a
// week that is over (OutOfRange at "week_start"), a nurse without duty that day (UnknownRecord at
// "nurse_id"), a visit that is not in the plan (UnknownRecord at "visit_id").
Result<Repaired> repairCallOut(const WeekPicture &week, const CallOut &out, std::stop_token stop);
Result<Repaired> repairOverrun(const WeekPicture &week, std::int32_t job, Minutes longer,
                               std::stop_token stop);
// Asked before that: one of the two is empty. Only a visit of today can be seen to run over.
struct OverrunAsk {
    QString question; // "By how many minutes does the visit to Alder, Rosa (...) run over?"
    QString refusal;  // why this visit cannot be the one that is meant
};
OverrunAsk overrunAsk(const WeekPicture &week, std::int32_t job);
// After the records changed (a hold, a referral, time off): what the plan breaks or leaves out gets a place.
Result<Repaired> repairToRecords(const WeekPicture &week, std::stop_token stop);

} // namespace kitround::desk
