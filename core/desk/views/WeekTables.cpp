#include "core/desk/views/Cells.h"
#include "core/desk/views/WaysOut.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/views/WeekView.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>

namespace kitround::desk {
namespace {

const rounds::Duty &dutyAt(const WeekPicture &week, std::int32_t duty) {
    return week.problem.duties[static_cast<std::size_t>(duty)];
}

std::string nurseOn(const WeekPicture &week, std::int32_t duty) {
    if (duty < 0)
        return {};
    const auto nurse = static_cast<std::size_t>(dutyAt(week, duty).nurse);
    return nurseOf(week.agency->index(), week.problem.nurses[nurse].id);
}

std::string locksOf(const Visit &visit) {
    QStringList parts;
    if (visit.dayIsLocked)
        parts << Text::tr("day");
    if (visit.nurseIsLocked)
        parts << Text::tr("nurse");
    if (visit.timeIsLocked)
        parts << Text::tr("time");
    return cell(parts.join(u' '));
}

void addInvented(Table &table, const WeekPicture &week) {
    if (week.agency->settings().isInvented)
        table.notes.push_back(inventedMark().toStdString());
}

} // namespace

Table weekTable(const WeekPicture &week) {
    const SnapshotIndex &index = week.agency->index();
    Table table;
    table.title = Text::tr("Week of %1")
                      .arg(dayText(week.week.from) + u' ' + QString::number(week.week.from.year()))
                      .toStdString();
    table.key = "week";
    table.columns = {
        textColumn(Text::tr("Day"), "date"),         textColumn(Text::tr("Nurse"), "nurse"),
        textColumn(Text::tr("Start"), "start"),      textColumn(Text::tr("End"), "end"),
        textColumn(Text::tr("Patient"), "patient"),  textColumn(Text::tr("Initials"), "initials"),
        textColumn(Text::tr("Visit"), "kind"),       numberColumn(Text::tr("Travel, min"), "travel_min"),
        textColumn(Text::tr("With"), "other_nurse"), textColumn(Text::tr("Carries"), "carries"),
        textColumn(Text::tr("Locked"), "locked")};
    for (const PlacedJob &p : placedJobs(week)) {
        const auto job = static_cast<std::size_t>(p.job);
        const rounds::Placement &at = week.plan.placements[job];
        const std::int32_t other = at.duty == p.duty ? at.secondDuty : at.duty;
        const bool carries = std::ranges::find(week.plan.riderJob, p.job) != week.plan.riderJob.end();
        const Visit &visit = week.due[job].visit;
        table.rows.push_back(
            {week.week.from.plusDays(dutyAt(week, p.duty).day).toIso(), nurseOn(week, p.duty),
             clockText(Minutes::of(p.start)), clockText(Minutes::of(p.end)), codeOf(index, visit.patient),
             initialsOf(index, visit.patient), cell(words(visit.kind)), cell(std::int64_t{p.travel}),
             nurseOn(week, other), yesNo(carries && at.duty == p.duty), locksOf(visit)});
    }
    const auto open = static_cast<std::int64_t>(unplacedJobs(week).size());
    const auto all = static_cast<std::int64_t>(week.due.size());
    table.notes.push_back(Text::tr("%1 of %2 visits placed.").arg(all - open).arg(all).toStdString());
    table.notes.push_back(costText(week.evaluation.parts).toStdString());
    if (!week.broken.empty())
        table.notes.push_back(counted(static_cast<std::int64_t>(week.broken.size()),
                                      Text::tr("1 hard rule is broken; it is listed apart."),
                                      Text::tr("%1 hard rules are broken; they are listed apart."))
                                  .toStdString());
    for (const QString &line : undecidedLeave(week))
        table.notes.push_back(line.toStdString());
    if (week.problem.pointIsGuessed)
        table.notes.push_back(
            Text::tr(
                "Some addresses have no coordinates: their travel is a guess from the middle of the area.")
                .toStdString());
    addInvented(table, week);
    return table;
}

Table unplacedTable(const WeekPicture &week) {
    const SnapshotIndex &index = week.agency->index();
    Table table;
    table.title = Text::tr("Visits not placed").toStdString();
    table.key = "unplaced";
    table.columns = {
        textColumn(Text::tr("Patient"), "patient"),   textColumn(Text::tr("Initials"), "initials"),
        textColumn(Text::tr("Visit"), "kind"),        textColumn(Text::tr("Priority"), "priority"),
        textColumn(Text::tr("Due from"), "due_from"), textColumn(Text::tr("Due by"), "due_by"),
        textColumn(Text::tr("Why"), "reason"),        textColumn(Text::tr("Ways out"), "ways_out")};
    for (const std::int32_t job : unplacedJobs(week)) {
        const Visit &visit = week.due[static_cast<std::size_t>(job)].visit;
        QStringList ways;
        for (const Suggestion &way : waysOutOf(week, job, CostSaid::Here))
            ways << way.text;
        table.rows.push_back(
            {codeOf(index, visit.patient), initialsOf(index, visit.patient), cell(words(visit.kind)),
             cell(words(week.problem.jobs[static_cast<std::size_t>(job)].priority)), cell(visit.dueFrom),
             cell(visit.dueTo.plusDays(-1)),
             cell(reason(rounds::whyUnplaced(week.problem, week.plan, job), week.problem, index)),
             cell(ways.isEmpty() ? Text::tr("none found") : ways.join(u' '))});
    }
    addInvented(table, week);
    return table;
}

Table costTable(const WeekPicture &week) {
    Table table;
    table.title = Text::tr("Weighted minutes of the plan").toStdString();
    table.key = "cost";
    table.columns = {textColumn(Text::tr("Part"), "part"), textColumn(Text::tr("What it is"), "name"),
                     numberColumn(Text::tr("Weighted minutes"), "weighted_minutes")};
    for (const CostLine &line : costLines(week.evaluation.parts))
        table.rows.push_back({line.key, cell(line.name), cell(line.minutes, 1)});
    table.rows.push_back({"total", cell(Text::tr("all together")), cell(week.evaluation.parts.total(), 1)});
    return table;
}

Table brokenRulesTable(const WeekPicture &week) {
    const SnapshotIndex &index = week.agency->index();
    Table table;
    table.title = Text::tr("Hard rules the plan breaks").toStdString();
    table.key = "broken";
    table.columns = {textColumn(Text::tr("Patient"), "patient"), textColumn(Text::tr("Rule"), "rule"),
                     textColumn(Text::tr("What"), "reason")};
    for (const rounds::RuleBreak &b : week.broken) {
        const bool hasJob = b.job >= 0 && static_cast<std::size_t>(b.job) < week.due.size();
        table.rows.push_back(
            {hasJob ? codeOf(index, week.due[static_cast<std::size_t>(b.job)].visit.patient) : std::string(),
             cell(words(b.rule)), cell(reason(b, week.problem, index))});
    }
    return table;
}

} // namespace kitround::desk
