// What a new agency enters first, in the order in which one thing needs the other; and later that nobody can
// be sent to the patients there are.
#include "core/desk/views/AttentionParts.h"
#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>

namespace kitround::desk::parts {
namespace {

bool hasShifts(const Snapshot &s, NurseId nurse) {
    return std::ranges::any_of(s.shiftPatterns,
                               [&](const ShiftPattern &p) {
                                   return p.nurse == nurse && (!p.validTo || s.asOf < *p.validTo);
                               }) ||
           std::ranges::any_of(s.extraShifts,
                               [&](const ExtraShift &e) { return e.nurse == nurse && e.on >= s.asOf; });
}

// Until one nurse can be sent somewhere; empty then.
QString nursesLacking(const Snapshot &s) {
    QString lacking;
    for (const Nurse &nurse : s.nurses) {
        if (!nurse.isActive)
            continue;
        const bool hasSkill = skillsOn(nurse, s.asOf) != SkillSet();
        const bool hasShift = hasShifts(s, nurse.id);
        if (hasSkill && hasShift)
            return {};
        if (!lacking.isEmpty())
            continue;
        const QString name = personName(nurse);
        lacking =
            hasSkill || hasShift
                ? (hasSkill ? Text::tr("Under Nurses: %1 has no shift yet (Shifts, Add).").arg(name)
                            : Text::tr("Under Nurses: %1 has no skill in force (Edit the nurse, Skills).")
                                  .arg(name))
                : Text::tr("Under Nurses: %1 has no skill (Edit the nurse, Skills) and no shift yet "
                           "(Shifts, Add).")
                      .arg(name);
    }
    if (!lacking.isEmpty())
        return Text::tr("%1 Only then can a week be planned.").arg(lacking);
    return Text::tr(
        "Under Nurses: each with skills, the place the day starts from and the weekly shifts; or as a "
        "list from a spreadsheet (File menu). Only then can a week be planned.");
}

// People are looked after and nobody can be sent to them: no record of a nurse may exist to ask for it.
void addNoNurse(Items &items, const Snapshot &s) {
    const bool hasCare =
        std::ranges::any_of(s.patients, [](const Patient &p) { return isOnService(p.status); });
    const QString lacking = hasCare ? nursesLacking(s) : QString();
    if (lacking.isEmpty())
        return;
    AttentionItem item;
    item.kind = AttentionKind::UnknownFact;
    item.harm = Harm::Soon;
    item.workplace = "nurses";
    item.title = Text::tr("No nurse can be sent yet");
    item.detail = lacking;
    items.push_back(std::move(item));
}

} // namespace

void addFirstSteps(Items &items, const Agency &agency) {
    const Snapshot &s = agency.snapshot();
    if (!s.patients.empty()) { // from here on the records themselves ask for what they lack
        addNoNurse(items, s);
        return;
    }
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
    const QString odd = oddStoreroomText(agency.settings());
    add(agency.settings().storeroom.point && odd.isEmpty(), "settings", Text::tr("where the storeroom is"),
        odd.isEmpty()
            ? Text::tr("Under Settings, Agency and users: its address and its place on the map. Rounds that "
                       "start there, and travel, are worked out from it.")
            : Text::tr("Under Settings, Agency and users. %1").arg(odd));
    const QString lacking = nursesLacking(s);
    add(lacking.isEmpty(), "nurses", Text::tr("the nurses"), lacking);
    add(!s.items.empty(), "catalogue", Text::tr("the items"),
        Text::tr("Under Items and suppliers: each kit and bottle with how many a case holds, then what is on "
                 "the shelf, counted under Stock forecast."));
    add(!s.suppliers.empty(), "suppliers", Text::tr("a supplier"),
        Text::tr("Under Items and suppliers: who delivers, on which days orders go out, how long they take, "
                 "and which items at what price."));
    add(false, "patients", Text::tr("the patients"),
        Text::tr(
            "Under Patients: the referral, then its catheter, the drain order and the visit order; or all of "
            "them as a list from a spreadsheet (File menu). Visits due, the home's supplies and what needs "
            "doing then appear by themselves."));
}

} // namespace kitround::desk::parts
