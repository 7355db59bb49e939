#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/PlanComparison.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {

Paper comparisonPaper(const PlanComparison &comparison, const WeekPicture &week) {
    using namespace parts;
    // The title is the file's name, too: it says which week.
    Paper paper = blankPaper(*week.agency,
                             Text::tr("Two plans of the week of %1").arg(dayText(week.week.from)), {}, true);
    addLines(paper, {},
             {Text::tr("First plan: %1").arg(comparison.first),
              Text::tr("Second plan: %1").arg(comparison.second), comparison.summary});
    Table visits = table({column(Text::tr("Who")), column(Text::tr("Visit")), column(Text::tr("First plan")),
                          column(Text::tr("Second plan")), column(Text::tr("Note"))});
    for (const PlanChange &change : comparison.visits)
        visits.rows.push_back({cell(patientMark(*week.agency, change.patient)), cell(change.kind),
                               cell(change.was), cell(change.now), cell(change.note)});
    add(paper, Text::tr("Visits that differ"), std::move(visits));
    Table figures =
        table({column({}), column(Text::tr("First plan"), Align::Right),
               column(Text::tr("Second plan"), Align::Right), column(Text::tr("Difference"), Align::Right)});
    for (const PlanFigure &figure : comparison.figures)
        figures.rows.push_back({cell(figure.name), cell(figure.first), cell(figure.second),
                                cell(signedText(figure.second - figure.first))});
    add(paper, Text::tr("Figures"), std::move(figures));
    return paper;
}

} // namespace kitround::desk
