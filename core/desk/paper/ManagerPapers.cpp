// What the manager's meeting and the rota are printed from.
#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/DecisionNotes.h"
#include "core/desk/views/Incidents.h"
#include "core/desk/views/LeavePlan.h"
#include "core/desk/views/ManagerReview.h"
#include "core/desk/views/QualityView.h"
#include "core/desk/views/WatchList.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <functional>

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
    bars.key =
        Text::tr("Points of the week, and in brackets their share of a full week by contract, less time off "
                 "and holidays; the line is a full week. Over full goes by minutes and visits a day. It is "
                 "not the share of minutes in the table of nurses.");
    return bars;
}

// The bars tell every nurse's figures; below them stands what is of the whole week.
Table belowBars(Table table, const LoadHeat &heat) {
    table.rows.erase(table.rows.begin(), table.rows.begin() + static_cast<std::ptrdiff_t>(heat.rows.size()));
    table.columns.front().name = Text::tr("Evenness").toStdString();
    return table;
}

constexpr std::size_t kMostOnPaper = 40; // lines of a part; a meeting reads no further (assumed)

enum class Keep : std::uint8_t { First, Last };

// A list of every patient is read in the program; the paper holds its worst lines.
Table cut(Table table, Keep keep = Keep::First) {
    if (table.rows.size() <= kMostOnPaper)
        return table;
    const auto more = static_cast<std::int64_t>(table.rows.size() - kMostOnPaper);
    const auto kept = static_cast<std::ptrdiff_t>(kMostOnPaper);
    if (keep == Keep::First)
        table.rows.erase(table.rows.begin() + kept, table.rows.end());
    else
        table.rows.erase(table.rows.begin(), table.rows.end() - kept);
    table.notes.insert(table.notes.begin(),
                       (keep == Keep::First ? Text::tr("and %1 more: see the program or its CSV.")
                                            : Text::tr("and %1 more before: see the program or its CSV."))
                           .arg(numberText(more))
                           .toStdString());
    return table;
}

// The weeks that fell shortest come first.
Table worstWeeks(caseload::Compliance compliance, const Agency &agency) {
    std::ranges::stable_sort(compliance.weeks, std::ranges::greater(), &caseload::PatientWeek::shortBy);
    return cut(inWords(complianceTable(compliance, agency)));
}

// The share as the screen tells it: with the day that made a nurse's week too full.
Table nurseRows(const WeekPicture &week, const caseload::LoadReview &review) {
    Table table = loadTable(week, review);
    for (std::size_t n = 0; n < review.nurses.size() && n < table.rows.size(); ++n)
        table.rows[n].back() = (review.nurses[n].isAboveFullPoints()
                                    ? Text::tr("%1; points above full").arg(loadText(review.nurses[n]))
                                    : loadText(review.nurses[n]))
                                   .toStdString();
    table.notes.push_back(loadOrderText().toStdString());
    const auto share = std::ranges::find(table.columns, "share_percent", &Column::key);
    if (share == table.columns.end())
        return table;
    const auto at = share - table.columns.begin();
    table.columns.erase(share);
    for (std::vector<std::string> &row : table.rows)
        row.erase(row.begin() + at);
    return table;
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
    paper.about = review.week.from;
    const Agency &agency = *week.agency;
    const ManagerReview all = managerReview(std::make_shared<const WeekPicture>(week));
    caseload::LoadReview ordered = review; // as on the screen
    ordered.nurses = overloadedFirst(review);
    add(paper, Text::tr("Nurses"), nurseRows(week, ordered));
    if (!review.left.empty())
        add(paper, Text::tr("Not placed or missed in this week"), cut(inWords(leftTable(review, agency))));
    add(paper, Text::tr("Decisions: open ones, and this week's"),
        cut(inWords(decisionTable(decisionsFor(agency, review.week)))));
    add(paper, Text::tr("Load by nurse and week"), belowBars(heatTable(all.heat, agency), all.heat), true);
    paper.sections.back().bars = loadBars(all.heat, agency.today());
    add(paper, Text::tr("Travel by area"), areaTable(all.areas), true);
    add(paper, Text::tr("Weeks ahead"), inWords(weeksAheadTable(all.ahead)));
    add(paper, Text::tr("Room for referrals"), inWords(intakeTable(all.intake)));
    add(paper, Text::tr("Referrals that wait"), cut(inWords(waitingTable(all.intake, agency))));
    add(paper, Text::tr("Ordered visits made, four weeks"), worstWeeks(all.compliance, agency));
    add(paper, Text::tr("Missed visits"), cut(inWords(missedTable(all.compliance, agency)), Keep::Last));
    add(paper, Text::tr("Deadlines"), cut(inWords(deadlineTable(all.deadlines, agency))));
    add(paper, Text::tr("Skills by nurse"), inWords(skillTable(all.skills, agency)));
    add(paper, Text::tr("Visits by two nurses"), cut(inWords(jointVisitTable(all.joint, agency))));
    add(paper, Text::tr("Incidents"), cut(inWords(openIncidents(agency))));
    add(paper, Text::tr("Watch list"), cut(watchRows(watchList(agency).rows, agency)));
    add(paper, Text::tr("Leave"), inWords(leaveListTable(agency)));
    add(paper, Text::tr("On call, four weeks"), inWords(onCallTable(all.onCall, agency)));
    add(paper, Text::tr("On-call turns by nurse"), inWords(callFairnessTable(all.onCall.fairness, agency)));
    add(paper,
        all.trend.isByMonth ? Text::tr("Quality, the last months") : Text::tr("Quality, the last weeks"),
        qualityTrendTable(all.trend));
    add(paper, Text::tr("Quality by month"), inWords(qualityTable(all.quality)));
    add(paper, Text::tr("Who sees whom"), cut(continuityTable(week, review)));
    addLines(paper, {}, {planningCaution()});
    return paper;
}

Paper onCallRota(const Agency &agency) {
    const OnCallReview review = onCallReview(agency);
    Paper paper = blankPaper(agency, Text::tr("On-call rota"),
                             Text::tr("From %1, four weeks").arg(dayText(agency.today())), true);
    paper.about = agency.today();
    add(paper, Text::tr("Turns"), inWords(onCallTable(review, agency)));
    add(paper, Text::tr("Turns by nurse"), inWords(callFairnessTable(review.fairness, agency)));
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
