#pragma once
// The manager's clocks: what is overdue or falls due soon, and of what was due in the last 12 weeks how much
// was in time, each with its count and denominator. Hours are clock hours and days calendar days; weekends
// and holidays count (42 CFR 484.55). Supervisory visits have no clock here: the rule differs by state.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"
#include "core/desk/words/Words.h"

#include <QString>

#include <vector>

namespace kitround::desk {

enum class DeadlineKind : std::uint8_t {
    FirstVisit,
    Assessment,
    Resumption,
    Recertification,
    Signature,
    Competence
};
inline constexpr int kDeadlineKindCount = 6;
struct DeadlineRow {
    DeadlineKind kind = DeadlineKind::FirstVisit;
    bool isOverdue = false;
    bool isClockKnown = true; // else nobody entered when it began, and `due` says nothing
    bool isUnplanned = false; // a visit is owed, none is planned, and no hold is the reason
    LocalTime due;            // the last moment; days end at 23:59
    QString who, detail;
    std::optional<PatientId> patient;
    std::optional<NurseId> nurse;
    // A home that nobody has seen yet, or not since the hospital, and nobody is going to see.
    bool isPressing() const {
        return isUnplanned && (kind == DeadlineKind::FirstVisit || kind == DeadlineKind::Resumption);
    }
};
struct DeadlineCount {
    DeadlineKind kind = DeadlineKind::FirstVisit;
    int overdue = 0, soon = 0; // open now
    int unplanned = 0;         // of those due soon: without a planned visit
    int due = 0, inTime = 0;   // fell due in the last 12 weeks; Competence: skills held, skills valid
    bool hasRecord = true;     // false: nothing in the records says when it was done (Assessment)
};
struct DeadlineList {
    std::vector<DeadlineRow> rows;     // the pressing ones, then overdue ones, then by due
    std::vector<DeadlineCount> counts; // in the order of the kinds
};
QString words(DeadlineKind kind);
QString overdueText();                            // how the table says so
QString unplannedText();                          // and of what falls due soon: "due soon, no visit planned"
QString clockNotKnownText();                      // of a referral without its time
QString onHoldText(const Hold &hold, Date today); // "On hold: in hospital since ...", why no visit is planned
DeadlineList deadlineList(const Agency &agency);
// With the clocks nobody can read and the pressing ones that are not overdue yet.
int overdueCount(const DeadlineList &list);
Table deadlineTable(const DeadlineList &list, const Agency &agency,
                    PatientNamed named = PatientNamed::Initials);

} // namespace kitround::desk
