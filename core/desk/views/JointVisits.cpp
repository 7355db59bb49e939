#include "core/desk/views/JointVisits.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"

#include <algorithm>
#include <tuple>

namespace kitround::desk {
namespace {

// What the visit itself asks for, as the planner has it: the patient's record may be of another day.
bool isByTwo(const Visit &visit) {
    return visit.kind != VisitKind::Phone && (visit.twoNurses || visit.secondNurse);
}

QString whyTwo(const Visit &visit, const Agency &agency) {
    const Patient *patient = agency.index().patient(visit.patient);
    if (visit.twoNurses && patient && patient->needsTwoNurses)
        return Text::tr("the patient's record asks for two nurses");
    const auto orders = agency.index().visitOrdersOf(visit.patient);
    if (visit.order && std::ranges::any_of(orders, [&](const VisitOrder *order) {
            return order->id == *visit.order && order->twoNurses;
        }))
        return Text::tr("the visit order asks for two nurses");
    if (visit.twoNurses)
        return Text::tr("this visit asks for two nurses");
    return visit.kind == VisitKind::Supervisory ? Text::tr("one nurse supervises the other")
                                                : Text::tr("a second nurse was named for it");
}

std::optional<JointVisit> jointOf(const Visit &visit, const Agency &agency) {
    const std::optional<Date> day = visit.day();
    const bool isDone = visit.status == VisitStatus::Done;
    const bool isPlanned = visit.status == VisitStatus::Drafted || visit.status == VisitStatus::Published;
    if (!day || !visit.nurse || !(isDone || isPlanned) || !isByTwo(visit))
        return std::nullopt;
    const Date today = agency.today();
    if (isDone ? *day < today.plusDays(-7 * kJointWeeksBack) : *day < today)
        return std::nullopt;
    JointVisit joint;
    joint.visit = visit.id;
    joint.patient = visit.patient;
    joint.on = *day;
    joint.at = visit.startedAt ? std::optional(visit.startedAt->minute) : visit.startAt;
    joint.nurse = *visit.nurse;
    joint.with = visit.secondNurse;
    joint.isDone = isDone;
    joint.why = whyTwo(visit, agency);
    return joint;
}

} // namespace

std::vector<JointVisit> jointVisits(const Agency &agency) {
    std::vector<JointVisit> found;
    for (const Visit &visit : agency.snapshot().visits)
        if (auto joint = jointOf(visit, agency))
            found.push_back(std::move(*joint));
    std::ranges::stable_sort(found, {}, [](const JointVisit &j) {
        const std::int64_t minute = j.at ? j.at->count() : 0;
        const std::int64_t order = j.on.dayNumber() * 24 * 60 + minute;
        return std::tuple(j.isDone, j.isDone ? -order : order);
    });
    return found;
}

Table jointVisitTable(const std::vector<JointVisit> &visits, const Agency &agency, PatientNamed named) {
    Table table;
    table.title = Text::tr("Visits by two nurses").toStdString();
    table.key = "joint_visits";
    table.columns = {textColumn(Text::tr("When"), "when"),       textColumn(Text::tr("State"), "state"),
                     textColumn(Text::tr("Nurse"), "nurse"),     textColumn(Text::tr("With"), "with"),
                     textColumn(Text::tr("Patient"), "patient"), textColumn(Text::tr("Why"), "why")};
    std::int64_t alone = 0;
    for (const JointVisit &j : visits) {
        alone += j.with ? 0 : 1;
        const std::string when = j.at ? toIso(LocalTime{j.on, *j.at}) : j.on.toIso();
        table.rows.push_back({when, cell(j.isDone ? Text::tr("made") : Text::tr("planned")),
                              nurseOf(agency.index(), j.nurse),
                              j.with ? nurseOf(agency.index(), *j.with) : cell(Text::tr("NOBODY")),
                              patientOf(agency.index(), j.patient, named), cell(j.why)});
    }
    if (alone > 0)
        table.notes.push_back(counted(alone, Text::tr("1 of them asks for two nurses and has one alone."),
                                      Text::tr("%1 of them ask for two nurses and have one alone."))
                                  .toStdString());
    return table;
}

} // namespace kitround::desk
