#include "core/desk/views/CheckView.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>

namespace kitround::desk {

bool isRemark(const Problem &found) {
    return found.code == ProblemCode::Negative && found.field == "stock_movement";
}

bool hasFault(const Problems &found) {
    return std::ranges::any_of(found, [](const Problem &p) { return !isRemark(p); });
}

Table checkTable(const Problems &found) {
    Table table;
    table.title = Text::tr("Check of the file").toStdString();
    table.key = "check";
    table.columns = {textColumn(Text::tr("Kind"), "kind"), textColumn(Text::tr("Where"), "where"),
                     textColumn(Text::tr("What was found"), "what")};
    for (const Problem &p : found)
        table.rows.push_back(
            {cell(isRemark(p) ? Text::tr("remark") : Text::tr("fault")), p.field, cell(words(p))});
    table.notes.push_back(
        cell(hasFault(found)
                 ? Text::tr("The file has faults. Keep it as it is, and work on with the newest backup.")
                 : Text::tr("No fault was found.")));
    return table;
}

} // namespace kitround::desk
