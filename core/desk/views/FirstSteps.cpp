// What a new agency enters first, in the order in which one thing needs the other.
#include "core/desk/views/AttentionParts.h"
#include "core/desk/words/Text.h"

#include <algorithm>

namespace kitround::desk::parts {

void addFirstSteps(Items &items, const Agency &agency) {
    const Snapshot &s = agency.snapshot();
    if (!s.patients.empty())
        return; // from here on the records themselves ask for what they lack
    int number = 0;
    const auto add = [&](bool isDone, const char *workplace, const QString &title, const QString &detail) {
        ++number;
        if (isDone)
            return;
        AttentionItem item;
        item.kind = AttentionKind::UnknownFact;
        item.harm = Harm::Soon;
        item.workplace = workplace;
        item.title = Text::tr("First steps, %1 of 5: %2").arg(QString::number(number), title);
        item.detail = detail;
        items.push_back(std::move(item));
    };
    add(agency.settings().storeroom.point.has_value(), "settings", Text::tr("where the storeroom is"),
        Text::tr("Under Settings, Agency and users: its address and its place on the map. Rounds that start "
                 "there, and travel, are worked out from it."));
    add(std::ranges::any_of(s.nurses, &Nurse::isActive), "nurses", Text::tr("the nurses"),
        Text::tr("Under Nurses: each with skills, the place the day starts from and the weekly shifts. Only "
                 "then can a week be planned."));
    add(!s.items.empty(), "catalogue", Text::tr("the items"),
        Text::tr("Under Items and suppliers: each kit and bottle with how many a case holds, then what is on "
                 "the shelf, counted under Stock."));
    add(!s.suppliers.empty(), "catalogue", Text::tr("a supplier"),
        Text::tr("Under Items and suppliers: who delivers, on which days orders go out, how long they take, "
                 "and which items at what price."));
    add(false, "patients", Text::tr("the patients"),
        Text::tr("Under Patients: the referral, then its catheter, the drain order and the visit order. "
                 "Visits due, the home's supplies and what needs doing then appear by themselves."));
}

} // namespace kitround::desk::parts
