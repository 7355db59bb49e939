#pragma once
// What the weekly look at the caseload decided: each note with its week, open until somebody says what came
// of it.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"

#include <QString>

#include <vector>

namespace kitround::desk {

struct DecisionRow {
    DecisionNote note;
    QString who;                // who noted it
    std::int64_t weeksOpen = 0; // whole ones since it was noted; 0 of a closed one
};
QString words(DecisionKind kind);
QString stateText(const DecisionRow &row); // "open for 3 weeks", "closed"

// Open ones first, the oldest of them first; then the closed ones, the newest first.
std::vector<DecisionRow> allDecisions(const Agency &agency);
// What a meeting about that week looks at: what is still open, and whatever the week itself has.
std::vector<DecisionRow> decisionsFor(const Agency &agency, DateRange week);
int openDecisions(const Agency &agency);
Table decisionTable(const std::vector<DecisionRow> &rows);

} // namespace kitround::desk
