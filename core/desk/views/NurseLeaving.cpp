#include "core/desk/views/NurseLeaving.h"

#include "core/desk/views/AttentionParts.h"
#include "core/desk/views/PlanAsStored.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <optional>
#include <set>

namespace kitround::desk {
namespace {

constexpr std::size_t kPatientsNamed = 5; // the others are counted

void countVisits(NurseAhead &ahead, const Agency &agency, NurseId nurse) {
    for (const Visit &visit : agency.snapshot().visits) {
        if (hasHappened(visit.status))
            continue;
        const VisitPlace told = agency.index().toldPlace(visit);
        const auto isHers = [nurse](const auto &place) {
            return place.nurse == nurse || place.secondNurse == nurse;
        };
        if (told.on && *told.on >= agency.today() && isHers(told))
            ++ahead.published;
        else if (visit.status == VisitStatus::Drafted && visit.on && *visit.on >= agency.today() &&
                 isHers(visit))
            ++ahead.drafted;
    }
}

QString namedPatients(const Agency &agency, const std::vector<PatientId> &patients) {
    QStringList names;
    for (std::size_t i = 0; i < std::min(patients.size(), kPatientsNamed); ++i)
        names << parts::shortName(agency, patients[i]);
    if (patients.size() > kPatientsNamed)
        names << Text::tr("%1 more").arg(patients.size() - kPatientsNamed);
    return names.join(QStringLiteral(", "));
}

QString leftTitle(const NurseAhead &ahead, const QString &name) {
    const QString what =
        ahead.mainOf.empty()
            ? counted(ahead.published + ahead.drafted, Text::tr("1 visit needs another nurse"),
                      Text::tr("%1 visits need another nurse"))
            : counted(std::ssize(ahead.mainOf), Text::tr("1 patient needs a main nurse"),
                      Text::tr("%1 patients need a main nurse"));
    return Text::tr("%1: %2 no longer works here").arg(what, name);
}

// Who is main nurse of somebody or has visits ahead, in one look: many have left over the years, and each of
// them would be a look at every visit.
std::set<NurseId> nursesNeeded(const Agency &agency) {
    std::set<NurseId> needed;
    const auto add = [&needed](const auto &place) {
        for (const std::optional<NurseId> &nurse : {place.nurse, place.secondNurse})
            if (nurse)
                needed.insert(*nurse);
    };
    for (const Patient &patient : agency.snapshot().patients)
        if (patient.primaryNurse && isOnService(patient.status))
            needed.insert(*patient.primaryNurse);
    for (const Visit &visit : agency.snapshot().visits)
        if (!hasHappened(visit.status)) {
            add(agency.index().toldPlace(visit));
            add(visit);
        }
    return needed;
}

void addLeft(parts::Items &items, const Agency &agency, const Nurse &nurse) {
    const NurseAhead ahead = nurseAhead(agency, nurse.id);
    if (ahead.mainOf.empty() && ahead.published + ahead.drafted == 0)
        return;
    AttentionItem item;
    item.kind = AttentionKind::MainNurseLeft;
    item.harm = ahead.published > 0 ? Harm::Today : Harm::Soon;
    item.nurse = nurse.id;
    item.title = leftTitle(ahead, personName(nurse));
    item.unnamed = Text::tr("Still with this nurse: %1").arg(aheadLines(ahead).join(QStringLiteral(", ")));
    item.detail = item.unnamed + u'.';
    if (!ahead.mainOf.empty())
        item.detail += u' ' + Text::tr("Name another main nurse under Patients, \"Who can visit?\": %1.")
                                  .arg(namedPatients(agency, ahead.mainOf));
    if (ahead.published + ahead.drafted > 0)
        item.detail += u' ' + Text::tr("Plan those weeks again, or mend them, in the caseload calendar.");
    items.push_back(std::move(item));
}

} // namespace

NurseAhead nurseAhead(const Agency &agency, NurseId nurse) {
    NurseAhead ahead;
    countVisits(ahead, agency, nurse);
    const Snapshot &s = agency.snapshot();
    ahead.turns = std::ranges::count_if(s.extraShifts, [&](const ExtraShift &shift) {
        return shift.nurse == nurse && shift.isOnCall && shift.on >= agency.today();
    });
    for (const Patient &patient : s.patients) {
        if (!isOnService(patient.status))
            continue;
        if (patient.primaryNurse == nurse)
            ahead.mainOf.push_back(patient.id);
        if (patient.backupNurse == nurse)
            ++ahead.second;
    }
    for (const StockBalance &balance : agency.index().balancesAt(Place::car(nurse)))
        if (balance.quantity.count() > 0)
            ahead.inCar += balance.quantity;
    return ahead;
}

QStringList aheadLines(const NurseAhead &ahead) {
    QStringList lines;
    const auto add = [&](std::int64_t count, const QString &one, const QString &many) {
        if (count > 0)
            lines << counted(count, one, many);
    };
    add(ahead.published, Text::tr("1 published visit"), Text::tr("%1 published visits"));
    add(ahead.drafted, Text::tr("1 visit of a draft"), Text::tr("%1 visits of drafts"));
    add(ahead.turns, Text::tr("1 turn on call"), Text::tr("%1 turns on call"));
    add(std::ssize(ahead.mainOf), Text::tr("main nurse of 1 patient"), Text::tr("main nurse of %1 patients"));
    add(ahead.second, Text::tr("second nurse of 1 patient"), Text::tr("second nurse of %1 patients"));
    add(ahead.inCar.count(), Text::tr("1 piece in the car"), Text::tr("%1 pieces in the car"));
    return lines;
}

QString leavingQuestion(const Agency &agency, const Nurse &nurse) {
    const NurseAhead ahead = nurseAhead(agency, nurse.id);
    if (ahead.isNothing())
        return {};
    return Text::tr(
               "Still with %1: %2.\n\nOnce saved, no visit is planned for this nurse any more, and what is "
               "not handed over by then shows under Today and at the patients. The record holds no last "
               "working day: where that is still to come, leave \"Works here now\" ticked, and enter the "
               "days after it as time off.")
        .arg(personName(nurse), aheadLines(ahead).join(QStringLiteral(", ")));
}

QString nurseWithState(const Nurse &nurse) {
    return nurse.isActive ? personName(nurse) : Text::tr("%1 (no longer works here)").arg(personName(nurse));
}

void parts::addNursesWhoLeft(Items &items, const Agency &agency) {
    const std::set<NurseId> needed = nursesNeeded(agency);
    for (const Nurse &nurse : agency.snapshot().nurses)
        if (!nurse.isActive && needed.contains(nurse.id))
            addLeft(items, agency, nurse);
}

} // namespace kitround::desk
