#pragma once
// Whom publishing the plan in hand would touch, before it is done: the homes to be phoned
// (desk/views/PatientCalls) and the nurses to be told (desk/views/PlanNews) on the records as they would
// stand then, without those who wait for the same news already. Pure; nothing is stored.
#include "core/desk/views/WeekView.h"

#include <QStringList>

#include <set>

namespace kitround::desk {

struct PublishNews {
    QStringList patients; // to phone, the most urgent first
    QStringList nurses;   // to tell, by the first day that changes
    QStringList parcels;  // packed, and in the car of a nurse who does not come any more: a sentence each
    bool isAgain = false; // a week of the picture was published before
};
// A problem where the plan could not be stored either.
Result<PublishNews> publishNews(const WeekPicture &week);
// Who would have to be phoned then, those who wait already among them.
Result<std::set<PatientId>> homesToPhone(const WeekPicture &week);
// "1 patient to phone: Alder, Rosa." and "2 nurses to tell: Bell, Ada; Marsh, Owen."; that it is nobody,
// where the week is published again. Empty for a first version: everybody is told by that.
QStringList publishNewsLines(const PublishNews &news);

// "Alder, Rosa; Bell, Ada; 3 more": in a sentence many are counted.
QString fewNamesText(const QStringList &names);

} // namespace kitround::desk
