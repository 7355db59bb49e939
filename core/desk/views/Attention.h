#pragma once
// The start page: what needs doing today, ordered by harm. Emergencies and calls first, then homes about to
// run dry, clocks that run out, then the rest; unknown facts are on the list because unknown is not zero.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"
#include "core/desk/views/StockView.h"
#include "core/desk/views/WeekView.h"

#include <QString>

#include <set>
#include <string>
#include <vector>

namespace kitround::desk {

// In order of harm within one Harm.
enum class AttentionKind : std::uint8_t {
    CallAbout,
    RunOut,
    RefillCall,
    PlanChanged,
    FirstVisitDue,
    RecertDue,
    VisitNotPlaced,
    UnknownStock,
    UnknownFact,
    LogSilent,
    DeliveryDue,
    OrderLate,
    LotExpiring,
    LotRecalled,
    HoldOverdue,
    SkillExpiring,
    PlanNotPublished,
    ReorderDue,
    UnsignedOrder,
    SubstitutionDue,
    OrderToConfirm,
    HandOverWaiting,
    LeaveWaiting,
    WatchDue,
    PatientsToPhone,
    IncidentReport,
    ShortRest,
    VisitsUnrecorded,
    MissUntold,
    MaximumToConfirm,
    WelfareCall,
    MainNurseLeft
}; // new ones at the end: a hand-over keeps the number
inline constexpr int kAttentionKindCount = 32;
enum class Harm : std::uint8_t { Emergency, Today, Soon, Tidy };
// The form that settles a line, where one does.
enum class NextForm : std::uint8_t { None, Count, FirstDelivery, Allergies };
// Of an UnknownFact: which; lines that ask for the same fact may be told as one.
enum class MissingFact : std::uint8_t {
    None,
    Referral,
    Address,
    StartOfDay,
    Connector,
    InsertedOn,
    FirstLog,
    LikelyPlace // it is entered, and lies where it can hardly be meant
};
struct AttentionItem {
    AttentionKind kind = AttentionKind::CallAbout;
    Harm harm = Harm::Tidy;
    QString title;  // "Call about P. Alder: over the prescribed maximum"
    QString detail; // caution text or numbers, what to do
    std::optional<Date> dueOn;
    std::optional<PatientId> patient;
    std::optional<NurseId> nurse;
    std::optional<ItemId> item;
    std::optional<CallItemId> callItem;   // set where it is stored
    std::optional<CallItem> toStore;      // a standing caution, stored when it is handled
    std::optional<PhoneCallId> phoneCall; // an open call taken, closed with what was done
    std::optional<PlanTold> toTell;       // a changed round: kept, with who told her, once she was told
    std::optional<DrainOrderId> order;    // OrderToConfirm, MaximumToConfirm: what the prescriber is asked
                                          // about; UnsignedOrder: what is to be signed
    std::optional<IncidentId> incident;   // IncidentReport
    std::optional<VisitId> visit;         // MissUntold, WelfareCall
    std::optional<UserRole> forRole;      // whose matter it is, and the owner's; none: anybody's
    std::optional<UserId> owner;          // who has it by name: took it on, or accepted it from a shift;
                                          // nobody who does not work with the file any more
    NextForm form = NextForm::None;
    std::optional<PatientId> formOf;    // whose; of a line about several the first
    std::optional<CatheterId> firstFor; // FirstDelivery: the new catheter
    std::string workplace = {};         // of a first step: where it is done; "suppliers": their form
    MissingFact fact = MissingFact::None;
    std::optional<Date> weekOf = {};        // VisitNotPlaced, PlanNotPublished: the week's first day
    std::vector<AttentionItem> folded = {}; // the lines this one stands for, in the order they had
    QString unnamed = {};                // for copies, where the detail names people; of such a line always
    std::optional<PhoneCall> toLog = {}; // WelfareCall: kept, with what was heard, once somebody was reached
};
QString words(AttentionKind kind);
QString words(Harm harm);
// By harm, then kind (first the homes to be phoned about visits of today that changed, a recalled lot before
// all else but calls, then what else moved: the door is waited at before the shelf is empty), due date,
// title; what can wait by due date first, emergencies with the newest. What is overdue is at least for today.
// `stock`, `week` (the next one) and `thisWeek` may be nullptr: those lines are then left out.
std::vector<AttentionItem> attention(const Agency &agency, const StockPicture *stock, const WeekPicture *week,
                                     const WeekPicture *thisWeek = nullptr);
// Where more than a handful of a kind wait for the same step, one line tells how many and which is the first;
// what hurts somebody by itself today keeps a line each, up to a bound. What somebody has by name, and what
// is no daily routine, is never folded. `shown`: keys of those that stay a line each. No line is lost.
std::vector<AttentionItem> foldedLines(std::vector<AttentionItem> items, const Agency &agency,
                                       const std::set<std::string> &shown = {});
std::string foldKey(const AttentionItem &item); // empty where it is always a line of its own
// "Mon 7 Dec"; of a day that has passed "overdue since ..." or, where it is the day something arose, "open
// since ..."; with the number of days where it is more than one. Empty without a day.
QString dueWords(const AttentionItem &item, Date today);
// What somebody of that role looks at first: an emergency always, and what is that role's own work.
bool isFirstFor(UserRole role, const AttentionItem &item);
// What is shown to that user: all but what is another role's and not the user's by name. Where nobody of that
// other role works with the file it is everybody's. For a supply clerk what is first (above) comes first,
// each part in the order it had.
std::vector<AttentionItem> attentionFor(UserId user, std::vector<AttentionItem> items, const Agency &agency);
// What is that user's own, in the order it had: an emergency always; what somebody has by name is that
// person's alone; of the rest the work of the user's role. Where nobody of a role works with the file its
// work is everybody's, as is what no role has for itself; care is a supply clerk's only where nobody but
// supply clerks does.
std::vector<AttentionItem> mineOf(UserId user, std::vector<AttentionItem> items, const Agency &agency);
// "Everything: 12 to do today, 122 in all. 5 more are another role's alone."; of one's own "Of yours: ...".
QString countsText(const std::vector<AttentionItem> &items, bool isOwn, std::size_t ofOthers);
QString formText(const AttentionItem &item, const Agency &agency); // "Record a count…"; empty without a form
QString ownerText(const AttentionItem &item, const Agency &agency); // "Kim has it."; empty where nobody has
// On paper and in files: what a caller said may name people.
QString detailInCopies(const AttentionItem &item);
// Patients by code and initials; no names.
Table attentionTable(const std::vector<AttentionItem> &items, const Agency &agency);

} // namespace kitround::desk
