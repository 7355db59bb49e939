#include "ui/stock/UseColumns.h"

#include "core/desk/words/Words.h"

namespace kitround::ui {

using desk::UseRow;

std::vector<RowsColumn<UseRow>> useColumns() {
    const auto tr = [](const char *text) { return QObject::tr(text); };
    const auto number = [](const QString &head, auto get, const QString &tip = {}) {
        return RowsColumn<UseRow>{.head = head,
                                  .text = [get](const UseRow &r) { return QString::number(get(r)); },
                                  .sortBy = [get](const UseRow &r) { return QVariant(double(get(r))); },
                                  .isNumber = true,
                                  .headTip = tip};
    };
    return {
        {.head = tr("Patient"), .text = [](const UseRow &r) { return r.who; }},
        {.head = tr("Kit"), .text = [](const UseRow &r) { return r.item; }},
        {.head = tr("Use"),
         .text = [](const UseRow &r) { return r.verdict; },
         .ink =
             [](const UseRow &r) {
                 return r.line.verdict == supply::UseVerdict::AsOrdered ? std::nullopt
                                                                        : std::optional(Role::Watch);
             }},
        number(
            tr("Planned"), [](const UseRow &r) { return r.line.planned; },
            tr("Drains on the order's plan, holds left out")),
        number(
            tr("Logged"), [](const UseRow &r) { return r.line.logged; }, tr("Drains done")),
        number(
            tr("Kits"), [](const UseRow &r) { return qRound64(r.line.used); }, tr("Opened or lost")),
        {.head = tr("Last entry"),
         .text =
             [](const UseRow &r) {
                 return r.line.lastEntry ? desk::dayText(*r.line.lastEntry) : QObject::tr("none");
             },
         .sortBy =
             [](const UseRow &r) {
                 return QVariant(r.line.lastEntry ? qlonglong(r.line.lastEntry->dayNumber()) : 0);
             }},
        {.head = tr("For the nurse to ask"),
         .text = [](const UseRow &r) { return r.advice; },
         .tip = [](const UseRow &r) { return r.advice; }},
    };
}

} // namespace kitround::ui
