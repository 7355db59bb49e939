#pragma once
// The one home of sentences: what a Problem, a caution, a reason or a date says to a person. Plain English,
// translatable through Qt's tr; a problem says what to do; no blame, no exclamation mark.
#include "core/base/Problem.h"
#include "core/records/Snapshot.h"

#include <QString>

namespace kitround::desk {

QString words(const Problem &problem);        // "Volume (volume_ml): 20000 is more than 6000. Enter ..."
QString words(CautionKind kind);
QString words(Symptom symptom);
QString words(VisitKind kind);
QString words(VisitStatus status);
QString words(CareStatus status);
QString words(CavitySite site);
QString words(Side side);
QString words(HoldKind kind);
QString words(Material material);
QString words(Skill skill);
QString words(Credential credential);
QString words(Competence competence);
QString words(Acuity acuity);
QString words(DeliveryStatus status);
QString words(DeliveryWay way);
QString words(PurchaseStatus status);
QString words(LotState state);
QString words(MissReason reason);
QString words(DrainOutcome outcome);
QString words(EntrySource source);
QString words(const DrainPattern &pattern);   // "every 2 days from Mon 2 Mar"
QString words(CautionUrgency urgency);
// The whole caution text of an item, with its numbers and whom to call.
QString cautionText(const CallItem &item);
// Standing caution on every screen and paper with a forecast.
QString planningCaution();
QString label(SettingKey key);

QString dayText(Date date);                   // "Mon 7 Dec", with the year where it is not `reference`'s
QString dayText(Date date, Date reference);
QString timeText(Minutes minuteOfDay);        // "09:30"
QString momentText(LocalTime at);             // "Mon 7 Dec 09:30"
QString chanceText(double probability);       // "1 in 20", "less than 1 in 1000", "certain"
QString moneyText(Money amount, const std::string &currency);
QString personName(const Patient &patient);   // "Family, Given"
QString initials(const Patient &patient);     // for paper and cards
QString catheterText(const Catheter &catheter); // "chest, right"
QString fieldName(const std::string &field);  // "volume_ml" -> "Volume"

} // namespace kitround::desk
