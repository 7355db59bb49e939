#include "ui/load/WhatIfColumns.h"

#include "ui/load/PlainTable.h"

#include <QObject>

namespace kitround::ui {

std::vector<RowsColumn<desk::WhatIfLine>> whatIfColumns(const QString &first) {
    const auto ink = [](const desk::WhatIfLine &l) -> std::optional<Role> {
        if (l.turn == desk::Turn::Worse)
            return Role::Act;
        if (l.turn == desk::Turn::Better)
            return Role::Good;
        return std::nullopt;
    };
    const auto number = [&](const QString &head, QString desk::WhatIfLine::*text) {
        return RowsColumn<desk::WhatIfLine>{
            .head = head,
            .text = [text](const desk::WhatIfLine &l) { return l.*text; },
            .sortBy = [text](const desk::WhatIfLine &l) { return sortedByNumber(l.*text); },
            .isNumber = true};
    };
    RowsColumn<desk::WhatIfLine> change = number(QObject::tr("Change"), &desk::WhatIfLine::change);
    change.text = [](const desk::WhatIfLine &l) {
        if (l.turn == desk::Turn::Same && !l.change.isEmpty() && !l.why.isEmpty())
            return QObject::tr("%1, %2").arg(l.change, l.why);
        if (l.change.isEmpty() || l.turn == desk::Turn::Same)
            return l.change;
        return QObject::tr("%1, %2").arg(l.change, l.turn == desk::Turn::Worse ? QObject::tr("worse")
                                                                               : QObject::tr("better"));
    };
    change.ink = ink;
    return {{.head = first, .text = [](const desk::WhatIfLine &l) { return l.what; }},
            number(QObject::tr("As it is, planned anew"), &desk::WhatIfLine::before),
            number(QObject::tr("What if"), &desk::WhatIfLine::after),
            change};
}

std::vector<RowsColumn<desk::WhatIfLine>> whatIfNurseColumns() {
    auto made = whatIfColumns(QObject::tr("Share of capacity by nurse"));
    made[3].text = [](const desk::WhatIfLine &l) {
        return l.turn != desk::Turn::Worse ? l.change
               : l.change.isEmpty()        ? l.why
                                           : QObject::tr("%1, %2").arg(l.change, l.why);
    };
    return made;
}

} // namespace kitround::ui
