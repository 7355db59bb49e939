// What the manager's meeting and the rota are printed from.
#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/Incidents.h"
#include "core/desk/views/LeavePlan.h"
#include "core/desk/views/ManagerReview.h"
#include "core/desk/views/QualityView.h"
#include "core/desk/views/WatchList.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {
namespace {

using namespace parts;

Table inWords(Table table) {
    for (std::vector<std::string> &row : table.rows)
        for (std::string &text : row)
            text = readable(text).toStdString();
    return table;
}

ShareBars loadBars(const LoadHeat &heat, Date today) {
    ShareBars bars;
    for (const DateRange &week : heat.weeks)
        bars.columns << heatWeekText(week, today);
    for (const LoadHeat::Row &row : heat.rows) {
        ShareBars::Row made{row.name, {}};
        for (const HeatCell &cell : row.cells)
            made.bars.push_back({cell.share(), heatText(cell)});
        bars.rows.push_back(std::move(made));
    }
    bars.key = Text::tr("Points, and of how full a week; the line is a full week by contract.");
    return bars;
}

Table watchRows(const std::vector<WatchRow> &rows, const Agency &agency) {
    Table made = table({column(Text::tr("Urgency")), column(Text::tr("Who")), column(Text::tr("Why")),
                        column(Text::tr("State")), column(Text::tr("Owner")), column(Text::tr("Next step")),
                        column(Text::tr("By"))});
    for (const WatchRow &row : rows)
        made.rows.push_back(
            {words(row.urgency).toStdString(), patientMark(agency, row.patient).toStdString(),
             reasonsText(row).toStdString(), words(row.state).toStdString(), row.owner.toStdString(),
             row.entry ? row.entry->nextStep : std::string(),
             row.entry && row.entry->nextOn ? dayText(*row.entry->nextOn).toStdString() : std::string()});
    return made;
}

Table openIncidents(const Agency &agency) {
    std::vector<IncidentRow> rows = incidentList(agency);
    std::erase_if(rows, [](const IncidentRow &row) { return row.state == IncidentState::Closed; });
    return incidentTable(rows);
}

} // namespace

Paper loadPaper(const WeekPicture &week, const caseload::LoadReview &review) {
    Paper paper = blankPaper(*week.agency, Text::tr("Load review"),
                             Text::tr("Week of %1").arg(dayText(review.week.from)), true);
    const Agency &agency = *week.agency;
    const ManagerReview all = managerReview(std::make_shared<const WeekPicture>(week));
    add(paper, Text::tr("Nurses"), loadTable(week, review));
    add(paper, Text::tr("Load by nurse and week"), heatTable(all.heat, agency), true);
    paper.sections.back().bars = loadBars(all.heat, agency.today());
    add(paper, Text::tr("Travel by area"), areaTable(all.areas), true);
    add(paper, Text::tr("Weeks ahead"), inWords(weeksAheadTable(all.ahead)));
    add(paper, Text::tr("Room for referrals"), inWords(intakeTable(all.intake)));
    add(paper, Text::tr("Referrals that wait"), inWords(waitingTable(all.intake, agency)));
    add(paper, Text::tr("Ordered visits made, four weeks"), inWords(complianceTable(all.compliance, agency)));
    add(paper, Text::tr("Missed visits"), inWords(missedTable(all.compliance, agency)));
    add(paper, Text::tr("Deadlines"), inWords(deadlineTable(all.deadlines, agency)));
    add(paper, Text::tr("Skills by nurse"), inWords(skillTable(all.skills, agency)));
    add(paper, Text::tr("Incidents"), inWords(openIncidents(agency)));
    add(paper, Text::tr("Watch list"), watchRows(watchList(agency).rows, agency));
    add(paper, Text::tr("Leave"), inWords(leaveListTable(agency)));
    add(paper, Text::tr("On call, four weeks"), inWords(onCallTable(all.onCall.duties, agency)));
    add(paper, Text::tr("On-call turns by nurse"), callFairnessTable(all.onCall.fairness, agency));
    add(paper, Text::tr("Quality by month"), inWords(qualityTable(all.quality)));
    add(paper, Text::tr("Who sees whom"), continuityTable(week, review));
    addLines(paper, {}, {planningCaution()});
    return paper;
}

Paper onCallRota(const Agency &agency) {
    const OnCallReview review = onCallReview(agency);
    Paper paper = blankPaper(agency, Text::tr("On-call rota"),
                             Text::tr("From %1, four weeks").arg(dayText(agency.today())), true);
    add(paper, Text::tr("Turns"), inWords(onCallTable(review.duties, agency)));
    add(paper, Text::tr("Turns by nurse"), callFairnessTable(review.fairness, agency));
    return paper;
}

Paper workPaper(const Agency &agency, const std::vector<Table> &tables) {
    Paper paper = blankPaper(agency, Text::tr("Productivity and cost"), dayText(agency.today()), true);
    for (const Table &table : tables)
        add(paper, fromStd(table.title), table);
    return paper;
}

Paper watchPaper(const Agency &agency) {
    Paper paper = blankPaper(agency, Text::tr("Watch list"), dayText(agency.today()), true);
    const WatchList list = watchList(agency);
    add(paper, Text::tr("On the list"), watchRows(list.rows, agency));
    add(paper, Text::tr("Put off"), watchRows(list.snoozed, agency));
    addLines(paper, {}, {planningCaution()});
    return paper;
}

} // namespace kitround::desk
