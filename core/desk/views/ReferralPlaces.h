#pragma once
// "Who can take this referral?": every nurse with her first possible day and her cheapest one over this and
// next week, costed by the planner, or what stands in the way. Pure; nothing is stored.
#include "core/caseload/Load.h"
#include "core/desk/views/WeekView.h"

#include <QString>
#include <QStringList>

#include <stop_token>
#include <vector>

namespace kitround::desk {

struct ReferralSlot {
    Date on;
    Minutes start;
    double addedCost = 0; // weighted minutes, beside leaving the rest of the plan as it is
    bool isInTime = true; // before the first-visit deadline, or there is none
};
inline constexpr int kManyStarts =
    2; // within 14 days: the next goes to somebody else first (common practice)
// The same weeks for every nurse, so that one is read beside the other.
struct ReferralWeek {
    DateRange week;
    caseload::NurseLoad load;
    double shareAfter = 0;   // with the visit and its notes where `cheapest` falls in the week, else as it is
    bool isOverFull = false; // by the load review's own rule; in the week of the visit with it
    bool hasVisit = false;
};
QString weekShareText(const ReferralWeek &week); // "84 to 91 %", "106 %, over full", "away"
struct ReferralPlace {
    NurseId nurse;
    QString name;
    std::optional<ReferralSlot> first, cheapest; // both or neither; in time where any is
    double shareBefore = 0, shareAfter = 0; // of capacity in the week of `cheapest`, with the visit and notes
    std::vector<ReferralWeek> weeks;        // this week and next, whether or not she can
    bool isOverFull = false;                // in one of them, with the visit: the next visits fall there too
    int ownPatients = 0;                    // as main nurse
    int newStarts = 0; // patients she is main nurse of, started within 14 days: not all to the newest
    QString note;      // why not; or what to know
    bool isPossible() const { return first.has_value(); }
    bool hasManyStarts() const { return newStarts >= kManyStarts; }
};
struct ReferralAnswer {
    PatientId patient;
    VisitKind kind = VisitKind::StartOfCare; // what was placed: the first visit, or one more routine visit
    std::optional<LocalTime> deadline;       // of the first visit, by clock hours
    DateRange days;
    // In time first, then those who are not over full, then those without several new starts of late, then by
    // cost; those who cannot last, by name. Leave of the first weeks is told and ranks nobody.
    std::vector<ReferralPlace> places;
    QStringList notes;
};
// The next best who can go there, for when the main nurse can't.
std::optional<NurseId> backupFor(const ReferralAnswer &answer, NurseId main);
// Why this nurse, with her backup, in a sentence to keep with the assignment.
QString assignmentReason(const ReferralPlace &main, const QString &backup, const ReferralAnswer &answer);
// What is still to be done once the nurse is named: "The first visit is not planned yet; it is due by ...".
QString firstVisitOpenText(const ReferralAnswer &answer);
// The plan in hand with the first visit where it was found to fit, its day and nurse held, for a draft. Null
// where the week has no plan on record yet, owes no such visit, has placed it, or has no room there any more.
WeekPicturePtr withFirstVisit(const WeekPicture &week, PatientId patient, NurseId nurse,
                              const ReferralSlot &slot);
// Each week is taken as its plan in hand stands; one that nobody planned yet is planned first, on a copy.
// Errors: an unknown patient or one who left (UnknownRecord at "patient_id"); Cancelled.
Result<ReferralAnswer> whoCanTake(const AgencyPtr &agency, PatientId patient,
                                  const std::vector<supply::RefillProposal> *refills,
                                  const rounds::SolveOptions &options, std::stop_token stop,
                                  const ProgressSink &progress);

} // namespace kitround::desk
