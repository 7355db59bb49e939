#include "core/desk/paper/RecallPaper.h"

#include "core/desk/paper/PaperParts.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {

using namespace parts;

Paper recallPaper(const Agency &agency, const RecallView &view) {
    Paper paper = blankPaper(agency, Text::tr("Calls about a lot"),
                             Text::tr("%1, lot %2, %3").arg(view.itemName, view.number, view.state), true);
    Table stops = table({column(Text::tr("Where")), column(Text::tr("Received"), Align::Right),
                         column(Text::tr("There now"), Align::Right), column(Text::tr("To do")),
                         column(Text::tr("Found and set aside"))});
    for (const RecallStopRow &row : view.stops)
        stops.rows.push_back({row.place.toStdString(),
                              std::to_string(row.received.count()),
                              std::to_string(row.there.count()),
                              row.todo.toStdString(),
                              {}});
    add(paper, Text::tr("With us"), std::move(stops));
    Table homes =
        table({column(Text::tr("Who")), column(Text::tr("Phone")), column(Text::tr("Care")),
               column(Text::tr("Received"), Align::Right), column(Text::tr("There, at most"), Align::Right),
               column(Text::tr("Used"), Align::Right), column(Text::tr("Reached, when, what they said"))});
    for (const RecallHomeRow &row : view.homes)
        homes.rows.push_back({nameWithCode(agency.index(), row.patient).toStdString(),
                              row.phone.toStdString(), row.standing.toStdString(),
                              std::to_string(row.received.count()), std::to_string(row.there.count()),
                              std::to_string(row.used.count()), row.outcome.toStdString()});
    add(paper, Text::tr("Homes: %1").arg(view.reachedText()), std::move(homes));
    QStringList how{
        Text::tr("Ask each home to put what is left aside, unopened. Ask about symptoms; those go to the "
                 "nurse. Replacement goes first to the home that will run dry first.")};
    if (!view.passed.isEmpty())
        how.prepend(view.passed);
    if (const std::string &phone = agency.settings().phone; !phone.empty())
        how << Text::tr("Number to call back: %1").arg(fromStd(phone));
    addLines(paper, {}, how);
    return paper;
}

Paper recallReply(const Agency &agency, const RecallView &view) {
    Paper paper = blankPaper(agency, Text::tr("Reply about a recalled lot"),
                             Text::tr("%1, lot %2").arg(view.itemName, view.number), false);
    QStringList notice{Text::tr("The lot here is: %1.").arg(view.state)};
    if (!view.reason.isEmpty())
        notice << Text::tr("Reason on record: %1.").arg(view.reason);
    addLines(paper, Text::tr("Notice"), notice);
    Table counts = table({column(Text::tr("What")), column(Text::tr("Eaches"), Align::Right)});
    const auto line = [&](const QString &what, Eaches eaches) {
        counts.rows.push_back({what.toStdString(), std::to_string(eaches.count())});
    };
    line(Text::tr("Received from suppliers"), view.fromSupplier);
    line(Text::tr("In our quarantine"), view.quarantined);
    line(Text::tr("Set aside in homes, unopened"), view.setAside);
    line(Text::tr("Used or opened before the notice was known"), view.used);
    line(Text::tr("Written off, or taken back and not with us any more"), view.gone);
    line(Text::tr("Still out, at most"), view.stillOut);
    line(Text::tr("Count differences (with a minus: more was found than came)"), view.notFound());
    line(Text::tr("Replaced in homes"), view.replaced);
    add(paper, Text::tr("Where it is"), std::move(counts));
    addLines(paper, Text::tr("Homes"),
             {view.reachedText(),
              Text::tr("The lines from quarantine to count differences add up to what was received; what was "
                       "replaced in homes is apart from them."),
              Text::tr("What is still out is an upper estimate where counts at home did not name lots.")});
    QStringList end{Text::tr("For the agency: ______________________    Date: ______________")};
    if (const QString call = callUs(agency); !call.isEmpty())
        end << call;
    addLines(paper, {}, end);
    return paper;
}

} // namespace kitround::desk
