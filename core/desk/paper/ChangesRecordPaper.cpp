#include "core/desk/paper/PaperParts.h"
#include "core/desk/words/Text.h"

#include <algorithm>

namespace kitround::desk {

// An audit's sample is looked at years later, so its moments carry the year.
Paper changesRecordPaper(const Table &changes, const QString &asked, const Agency &agency) {
    Paper paper = parts::blankPaper(agency, Text::tr("Record of changes"),
                                    asked.isEmpty() ? Text::tr("The newest") : asked, true);
    Table told = changes;
    const auto at = std::ranges::find(told.columns, "at", &Column::key);
    const auto column = static_cast<std::size_t>(at - told.columns.begin());
    for (std::vector<std::string> &cells : told.rows)
        if (const auto moment = column < cells.size() ? localTimeFromIso(cells[column]) : std::nullopt)
            cells[column] = QStringLiteral("%1 %2 %3")
                                .arg(dayText(moment->date), QString::number(moment->date.year()),
                                     timeText(moment->minute))
                                .toStdString();
    parts::add(paper, {}, std::move(told));
    return paper;
}

} // namespace kitround::desk
