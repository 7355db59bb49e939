#pragma once
// The one home of sentences: what a Problem, a caution, a reason or a date says to a person. Plain English,
// translatable through Qt's tr; a problem says what to do; no blame, no exclamation mark.
#include "core/base/Problem.h"
#include "core/caseload/Load.h"
#include "core/forecast/HomeForecast.h"
#include "core/records/Snapshot.h"
#include "core/records/Users.h"
#include "core/supply/Refills.h"

#include <QString>
#include <QStringList>

#include <functional>

namespace kitround::desk {

// What is wrong, where, and what to do: "Volume: 20000 is outside 0 to 6000. Enter a number in that range."
// A problem of an import starts with its row, column and machine name. Further problems are counted, not
// told.
QString words(const Problem &problem);
// The same in a form, with the form's own names of its fields; empty for a field it does not have.
using FieldNaming = std::function<QString(const std::string &field)>;
QString words(const Problem &problem, const FieldNaming &named);
QStringList allWords(const Problem &problem); // one line a problem
// An open file could not be read anew. `isSaved`: a change was saved since it was read last.
QString notUpToDateText(const Problem &problem, bool isSaved);
// "above the common limit of 1,000 mL a session for the chest (common practice)"; the limit is core/safety's.
QString commonLimitText(Millilitres limit, CavitySite site);
// The store's own words on a failed step, for whoever looks into it; empty where there are none.
QString technicalDetail(const Problem &problem);
QString words(CautionKind kind);
QString words(Symptom symptom);
QString words(VisitKind kind);
QString words(VisitStatus status);
QString words(CareStatus status);
QString words(CavitySite site);
QString words(Side side);
QString words(HoldKind kind);
QString words(Material material);
// "latex, iodine"; "none known (asked Tue 3 Nov)"; "NOT ASKED".
QString allergiesText(const Patient &patient, Date reference);
QString words(Skill skill);
QString words(Credential credential);
QString words(Competence competence);
QString words(Acuity acuity);
QString words(std::optional<Acuity> acuity); // "not assessed" until somebody has judged
QString words(DeliveryStatus status);
QString words(DeliveryWay way);
QString words(UserRole role);
QString words(PurchaseStatus status);
QString words(LotState state);
QString words(MissReason reason);
QString words(Reached reached);
QString words(DrainOutcome outcome);
QString words(EntrySource source);
// "every 2 days from Mon 2 Mar", with the year where it is not `reference`'s.
QString words(const DrainPattern &pattern, Date reference);
QString words(CautionUrgency urgency);
QString words(EmergencyPriority priority);
QString words(std::optional<EmergencyPriority> priority);
QString words(PlaceKind place);
QString words(RecallAnswer answer);
QString words(Approver approver);
QString words(Disposition disposition);
QString words(TimeOffKind kind);
QString words(LeaveStatus status);
QString words(AreaKind area);
QString words(Weekday day); // "Mon"
QString words(caseload::LoadSign sign);
// "61 %, usual"; where one day's visits give the sign and not the share, these: "53 %, 7 on one day".
QString shareText(const caseload::NurseLoad &load);
// The share with its sign, and what that rests on: "53 %, nearly full: 7 visits on one day".
QString loadText(const caseload::NurseLoad &load);
QString words(supply::RefillUrgency urgency);
QString words(forecast::StockKnowledge knowledge);
// The whole caution text of an item, with its numbers and whom to call.
QString cautionText(const CallItem &item);
// Whom to call about a reported sign.
QString callAdvice(Symptom symptom);
// Standing caution on every screen and paper with a forecast.
QString planningCaution();
QString inventedMark(); // said wherever the data are invented
QString label(SettingKey key);

QString shortDayText(Date date);            // "Mon 7", under a head that has the month
QString dayText(Date date);                 // "Mon 7 Dec"
QString dayText(Date date, Date reference); // with the year where it is not `reference`'s
QString monthText(Date day);                // "Oct 2026"
QString timeText(Minutes minuteOfDay);      // "09:30"
QString momentText(LocalTime at);           // "Mon 7 Dec 09:30"
QString chanceText(double probability);     // "1 in 20", "less than 1 in 1000", "certain"
QString moneyText(Money amount, const std::string &currency);
QString itemName(const SnapshotIndex &index, ItemId item); // "an unknown item" where it is not on record
QString personName(const Patient &patient);                // "Family, Given"
// With the reference where a namesake is on record: "Alder, Ada (Q-012)".
QString personName(const Patient &patient, const SnapshotIndex &agency);
QString personName(const Nurse &nurse);
// Over a form that changes care, never without the reference: "Okafor, Adaeze (Q-200)", "...: chest, left";
// empty where the record is unknown.
QString nameWithCode(const SnapshotIndex &agency, PatientId patient);
QString nameWithCode(const SnapshotIndex &agency, CatheterId catheter);
QString initials(const Patient &patient); // for cards that stand beside others
// How paper names a patient: "P.J. Q-146". Two may share initials and day; none shares the code.
QString patientMark(const Patient &patient);
// How a patient is named: in full where only the desk reads it, by initials on papers and in lists that leave
// the house.
enum class PatientNamed : std::uint8_t { Initials, InFull };
QString catheterText(const Catheter &catheter); // "chest, right"
QString fieldName(const std::string &field);    // "volume_ml" -> "Volume"

} // namespace kitround::desk
