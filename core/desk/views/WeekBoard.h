#pragma once
// The week as a board of nurses x days with cards, for the calendar: what each card says, what a move by hand
// would do, and why a visit stands where it stands. Pure; a move gives a new picture and stores nothing.
#include "core/caseload/Load.h"
#include "core/desk/views/WeekView.h"

#include <QString>
#include <QStringList>

#include <optional>
#include <vector>

namespace kitround::desk {

struct VisitCard {
    std::int32_t job = -1;
    VisitId visit; // its record, where it has one; what is over has no job
    PatientId patient;
    QString name, kind;
    QString code, initials; // the patient's; initials without points
    VisitStatus status = VisitStatus::Due;
    Minutes start, end, travelBefore;
    bool isLocked = false; // day, nurse or time
    QString lockText;      // "Locked"; "Begun 09:10, stays"
    bool needsTwo = false;
    bool carriesSupplies = false;
    bool breaksRule = false;
    QStringList broken; // which, in words
    bool isUrgent = false;
    QString dueText;           // in the tray: why and by when it is owed
    bool isUnrecorded = false; // published for a day gone by, and nobody has said what happened
};
struct BoardDay {
    Date on;
    bool hasDuty = false;
    bool isOnCall = false;
    Minutes from, to;
    QString absence; // "leave", "sick", ... where time off covers the day
    QString sign;    // small, below the cards: "on call", "leave asked for"; signTip in full
    QString signTip;
    std::vector<VisitCard> past;  // done, missed, called off or not recorded, no later than today: to see
    std::vector<VisitCard> cards; // in start order
};
struct BoardRow {
    NurseId nurse;
    QString name;
    caseload::NurseLoad load;
    std::vector<BoardDay> days; // of the week shown
};
struct WeekBoard {
    std::vector<BoardRow> rows;    // by name
    std::vector<VisitCard> tray;   // not placed in any week of the picture, most urgent first
    std::vector<QString> dayNotes; // by day: holiday's name or empty
    double mainNurseShare = 0;     // of the visits placed, mean over patients
};
// `shown`: one week of the picture.
WeekBoard boardOf(const WeekPicture &week, DateRange shown);

struct MoveOffer {
    WeekPicturePtr after; // nullptr where there is no duty to move to
    double addedCost = 0; // weighted minutes; negative is better
    Minutes travelAdded;
    QStringList broken; // hard rules it would break, in words; empty = it may be done
    QString summary;    // one line: "+12 min driving, adds 9 weighted minutes", or what it breaks
    bool isAllowed() const { return after && broken.isEmpty(); }
};
// To a nurse's day, at a start or at the best time there.
MoveOffer offerMove(const WeekPicture &week, std::int32_t job, NurseId nurse, Date on,
                    std::optional<Minutes> start = std::nullopt);
// Two nurses' days exchanged, on the same day or on two; refused where no visit would change.
MoveOffer offerSwap(const WeekPicture &week, NurseId one, Date onOne, NurseId other, Date onOther);
MoveOffer offerRemoval(const WeekPicture &week, std::int32_t job); // refused where it has begun

// Where a way out is taken: by letting go of a lock and placing the visit, or where the rule stands; None: in
// the agency's settings.
enum class WayStep : std::uint8_t { None, Unlock, NurseRecord, PatientRecord };
struct Suggestion {   // a place for a visit, with its price
    QString text;     // "Marsh, Owen on Mon 23 Nov at 09:10"; of a way out the whole sentence
    QStringList more; // "adds 9 weighted minutes", "+14 min driving, not the main nurse", "overtime +4, ..."
    QString tip;      // how many weighted minutes it adds, and what these are
    WayStep step = WayStep::None;
    QString change; // what to change in the patient's record: "allow Tue in the order Routine visit 2W4 ..."
    Locks kept;     // what stays locked where a lock is let go
    NurseId nurse;
    Date on;
    std::optional<Minutes> start;
    bool isAllowed = true; // false: needs a rule to be relaxed first (said in the text)
};
struct VisitReasons {
    QString title;     // "Alder, Rosa: routine visit"
    QStringList facts; // when, who, length, what it carries, why it is owed
    QString noLocks;   // why nothing may be locked or unlocked here; empty where it may
    QStringList why;   // unplaced: what stands in the way
    std::vector<Suggestion> waysOut;
    std::vector<Suggestion> alternatives; // cheapest other places, at most five
};
VisitReasons reasonsOf(const WeekPicture &week, std::int32_t job);
// Of a visit that is over: what is on record of it, or that nobody has recorded what happened.
VisitReasons reasonsOfOver(const WeekPicture &week, const Visit &visit);

} // namespace kitround::desk
