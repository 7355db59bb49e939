#include "core/desk/paper/ClerkPapers.h"

#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/ExpiryView.h"
#include "core/desk/views/MonthView.h"
#include "core/desk/views/StartUpView.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>

namespace kitround::desk {

using namespace parts;

Paper expiryPaper(const StockPicture &stock) {
    const Agency &agency = *stock.agency;
    Paper paper = blankPaper(agency, Text::tr("Lots that fall due"), dayText(agency.today()), true);
    const std::string &currency = agency.settings().currency;
    std::vector<int> bands;
    const std::vector<ExpiryRow> rows = expiryRows(stock, PatientNamed::Initials);
    for (const ExpiryRow &row : rows)
        if (std::ranges::find(bands, row.line.band) == bands.end())
            bands.push_back(row.line.band);
    for (const int band : bands) {
        Table made =
            table({column(Text::tr("Last day")), column(Text::tr("Item")), column(Text::tr("Lot")),
                   column(Text::tr("Place")), column(Text::tr("Eaches"), Align::Right),
                   column(Text::tr("Used in time"), Align::Right), column(Text::tr("Lost"), Align::Right),
                   column(Text::tr("Loss in money"), Align::Right), column(Text::tr("What to do")),
                   column(Text::tr("Done"))});
        for (const ExpiryRow &row : rows)
            if (row.line.band == band)
                made.rows.push_back({dayText(row.line.at.expiresOn, Date()).toStdString(),
                                     row.item.toStdString(),
                                     row.lot.toStdString(),
                                     row.place.toStdString(),
                                     std::to_string(row.line.at.quantity.count()),
                                     shortNumber(row.line.expectedUse).toStdString(),
                                     shortNumber(row.line.expectedWaste).toStdString(),
                                     moneyText(row.line.wasteValue, currency).toStdString(),
                                     row.action.toStdString(),
                                     {}});
        QString heading = dueText(band);
        heading[0] = heading[0].toUpper();
        add(paper, heading, std::move(made));
    }
    if (rows.empty())
        addLines(paper, {}, {nothingDueText(agency.settings())});
    addLines(paper, {}, {expiryNote(), planningCaution()});
    return paper;
}

Paper monthPaper(const Agency &agency, const supply::MonthBooks &books) {
    Paper paper = blankPaper(agency, Text::tr("Supplies in %1").arg(monthText(books.close.month)),
                             monthState(agency, books), true);
    const std::string &currency = agency.settings().currency;
    addLines(paper, {}, monthFigures(agency, books.close));
    Table made =
        table({column(Text::tr("Item")), column(Text::tr("Opening"), Align::Right),
               column(Text::tr("Received"), Align::Right), column(Text::tr("Given back"), Align::Right),
               column(Text::tr("Issued"), Align::Right), column(Text::tr("Used"), Align::Right),
               column(Text::tr("Written off"), Align::Right), column(Text::tr("Counts"), Align::Right),
               column(Text::tr("Closing"), Align::Right), column(Text::tr("Cost")),
               column(Text::tr("Value"), Align::Right), column(Text::tr("Used in homes"), Align::Right)});
    for (const MonthRow &row : monthRows(agency, books.close)) {
        std::vector<std::string> cells{row.item.toStdString()};
        for (const Eaches eaches : {row.line.opening, row.line.received, row.line.returned, row.line.issued,
                                    row.line.used, row.line.wasted, row.line.adjusted, row.line.closing})
            cells.push_back(std::to_string(eaches.count()));
        cells.push_back(row.price.toStdString());
        cells.push_back(moneyText(row.value, currency).toStdString());
        cells.push_back(std::to_string(row.line.homeUsed.count()));
        made.rows.push_back(std::move(cells));
    }
    add(paper, Text::tr("By item, eaches"), std::move(made));
    addLines(paper, {}, monthNotes());
    return paper;
}

Paper startUpPaper(const StockPicture &stock) {
    const Agency &agency = *stock.agency;
    Paper paper = blankPaper(agency, Text::tr("First deliveries"), dayText(agency.today()), true);
    Table made =
        table({column(Text::tr("First drain")), column(Text::tr("Who")), column(Text::tr("Catheter")),
               column(Text::tr("To send")), column(Text::tr("How and when")),
               column(Text::tr("Missing or does not fit")), column(Text::tr("Done"))});
    for (const StartUpRow &row : startUpRows(stock))
        made.rows.push_back({row.start.firstDrain ? dayText(*row.start.firstDrain).toStdString()
                                                  : Text::tr("not known").toStdString(),
                             patientMark(agency, row.start.patient).toStdString(),
                             row.catheter.toStdString(),
                             row.items.toStdString(),
                             row.way.toStdString(),
                             row.gaps.toStdString(),
                             {}});
    add(paper, {}, std::move(made));
    addLines(paper, {}, {startUpNote(agency.settings())});
    return paper;
}

} // namespace kitround::desk
