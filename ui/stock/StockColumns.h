#pragma once
// Columns that several tables of the stock page have.
#include "core/base/Date.h"
#include "core/desk/words/Text.h"
#include "ui/shared/RowsModel.h"

namespace kitround::ui {

// A day not known comes last.
inline qlonglong sortDay(const std::optional<Date> &day) {
    return day ? qlonglong(day->dayNumber()) : qlonglong(1) << 40;
}

template <class Row, class Get>
RowsColumn<Row> numberColumn(const QString &head, Get get, const QString &tip = {}) {
    return {.head = head,
            .text = [get](const Row &r) { return desk::numberText(get(r)); },
            .sortBy = [get](const Row &r) { return QVariant(qlonglong(get(r))); },
            .isNumber = true,
            .headTip = tip};
}
template <class Row, class Get>
RowsColumn<Row> decimalColumn(const QString &head, Get get) {
    return {.head = head,
            .text = [get](const Row &r) { return QString::number(get(r), 'f', 1); },
            .sortBy = [get](const Row &r) { return QVariant(get(r)); },
            .isNumber = true};
}

} // namespace kitround::ui
