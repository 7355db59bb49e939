#include "core/desk/paper/RecallPaper.h"

#include "core/desk/paper/PaperParts.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {

using namespace parts;

Paper recallPaper(const Agency &agency, const RecallView &view) {
    Paper paper = blankPaper(agency, Text::tr("Calls about a lot"),
                             Text::tr("%1, lot %2, %3").arg(view.itemName, view.number, view.state), true);
    Table stops =
        table({column(Text::tr("Where")), column(Text::tr("Received"), Align::Right),
               column(Text::tr("There now"), Align::Right), column(Text::tr("Found and set aside"))});
    for (const RecallStopRow &row : view.stops)
        stops.rows.push_back({row.place.toStdString(),
                              std::to_string(row.received.count()),
                              std::to_string(row.there.count()),
                              {}});
    add(paper, Text::tr("With us"), std::move(stops));
    Table homes =
        table({column(Text::tr("Who")), column(Text::tr("Phone")), column(Text::tr("Care")),
               column(Text::tr("Received"), Align::Right), column(Text::tr("There, at most"), Align::Right),
               column(Text::tr("Used"), Align::Right), column(Text::tr("Reached, when, what they said"))});
    for (const RecallHomeRow &row : view.homes)
        homes.rows.push_back({initialsOf(agency, row.patient).toStdString(),
                              row.phone.toStdString(),
                              row.standing.toStdString(),
                              std::to_string(row.received.count()),
                              std::to_string(row.there.count()),
                              std::to_string(row.used.count()),
                              {}});
    add(paper, Text::tr("Homes"), std::move(homes));
    addLines(
        paper, {},
        {Text::tr("Ask each home to put what is left aside, unopened. Ask about symptoms; those go to the "
                  "nurse. Replacement goes first to the home that will run dry first.")});
    return paper;
}

} // namespace kitround::desk
