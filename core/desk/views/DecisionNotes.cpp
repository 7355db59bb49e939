#include "core/desk/views/DecisionNotes.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <tuple>

namespace kitround::desk {

QString words(DecisionKind kind) {
    switch (kind) {
    case DecisionKind::Rebalance:
        return Text::tr("rebalance");
    case DecisionKind::IntakeFrozen:
        return Text::tr("intake frozen");
    case DecisionKind::PerDiem:
        return Text::tr("per-diem");
    case DecisionKind::Hire:
        return Text::tr("hire");
    case DecisionKind::Other:
        return Text::tr("other");
    }
    return {};
}

QString stateText(const DecisionRow &row) {
    if (row.note.closedOn)
        return Text::tr("closed");
    if (row.weeksOpen == 0)
        return Text::tr("open");
    return counted(row.weeksOpen, Text::tr("open for 1 week"), Text::tr("open for %1 weeks"));
}

std::vector<DecisionRow> allDecisions(const Agency &agency) {
    std::vector<DecisionRow> rows;
    for (const DecisionNote &note : agency.snapshot().decisionNotes) {
        DecisionRow row{note, fromStd(userOf(agency.index(), note.by)), 0};
        if (!note.closedOn)
            row.weeksOpen = std::max<std::int64_t>(0, (agency.today() - note.at.date).count() / 7);
        rows.push_back(std::move(row));
    }
    std::ranges::stable_sort(rows, {}, [](const DecisionRow &row) {
        const DecisionNote &n = row.note;
        const std::int64_t order = n.closedOn ? -n.closedOn->dayNumber() : n.at.date.dayNumber();
        return std::tuple(n.closedOn.has_value(), order);
    });
    return rows;
}

std::vector<DecisionRow> decisionsFor(const Agency &agency, DateRange week) {
    std::vector<DecisionRow> rows = allDecisions(agency);
    std::erase_if(rows, [week](const DecisionRow &row) {
        return row.note.closedOn && !week.contains(row.note.weekStart);
    });
    return rows;
}

int openDecisions(const Agency &agency) {
    return static_cast<int>(std::ranges::count_if(agency.snapshot().decisionNotes,
                                                  [](const DecisionNote &note) { return !note.closedOn; }));
}

Table decisionTable(const std::vector<DecisionRow> &rows) {
    Table table;
    table.title = Text::tr("Decisions of the review").toStdString();
    table.key = "decisions";
    table.columns = {textColumn(Text::tr("State"), "state"),      textColumn(Text::tr("Week of"), "week"),
                     textColumn(Text::tr("What"), "kind"),        textColumn(Text::tr("Decided"), "text"),
                     textColumn(Text::tr("By"), "noted_by"),      textColumn(Text::tr("Noted"), "noted_at"),
                     textColumn(Text::tr("Closed"), "closed_on"), textColumn(Text::tr("Outcome"), "outcome")};
    for (const DecisionRow &row : rows) {
        const DecisionNote &n = row.note;
        table.rows.push_back({cell(stateText(row)), cell(n.weekStart), cell(words(n.kind)), n.text,
                              cell(row.who), toIso(n.at), cell(n.closedOn), n.outcome});
    }
    return table;
}

} // namespace kitround::desk
