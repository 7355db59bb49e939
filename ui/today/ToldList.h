#pragma once
// What was told and written down, the newest first: one list for nurses and for homes. What was put back
// stays in it in faint ink; the row chosen stays chosen, by its record, when the rows are read again.
#include "core/base/Date.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/RowsModel.h"

#include <QObject>

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

namespace kitround::ui {

// Row: a record `told`, when it was (`at`), and how it was put back (`putBack`).
template <class Row>
class ToldList {
public:
    // `own`: what stands between when it was and what was said; the last of them gets the room that is left.
    explicit ToldList(std::vector<RowsColumn<Row>> own)
        : stretched_(static_cast<int>(own.size())), model_(around(std::move(own))) {}

    QAbstractItemModel *model() { return &model_; }
    void showIn(DenseTable *table) { table_ = table; }

    void setRows(std::vector<Row> rows) {
        const int before = table_->currentSourceRow();
        const auto chosen = before >= 0 ? std::optional(model_.row(before).told.id) : std::nullopt;
        model_.setRows(std::move(rows));
        table_->fitColumns(stretched_);
        if (isEmpty())
            return;
        const auto same =
            std::ranges::find_if(model_.rows(), [&](const Row &row) { return row.told.id == chosen; });
        table_->selectSourceRow(same == model_.rows().end() ? 0
                                                            : static_cast<int>(same - model_.rows().begin()));
    }
    bool isEmpty() const { return model_.rows().empty(); }
    // A row that counts and can be put back: a copy, as on the screen, whatever is refreshed meanwhile.
    std::optional<Row> counting(int row) const {
        const bool isThere = row >= 0 && row < model_.rowCount();
        return isThere && !model_.row(row).told.isTakenBack() ? std::optional(model_.row(row)) : std::nullopt;
    }
    bool isChosenCounting() const { return counting(table_->currentSourceRow()).has_value(); }

private:
    static std::optional<Role> inkOf(const Row &row) {
        return row.told.isTakenBack() ? std::optional(Role::FaintInk) : std::nullopt;
    }
    static std::vector<RowsColumn<Row>> around(std::vector<RowsColumn<Row>> own) {
        std::vector<RowsColumn<Row>> columns{
            {.head = QObject::tr("When"),
             .text = [](const Row &row) { return row.at; },
             .sortBy = [](const Row &row) { return QVariant(QString::fromStdString(toIso(row.told.at))); },
             .ink = inkOf}};
        for (RowsColumn<Row> &column : own) {
            column.ink = inkOf;
            columns.push_back(std::move(column));
        }
        columns.push_back(
            {.head = QObject::tr("What was said"),
             .text = [](const Row &row) { return QString::fromStdString(row.told.note).simplified(); },
             .ink = inkOf});
        columns.push_back(
            {.head = QObject::tr("Put back"), .text = [](const Row &row) { return row.putBack; }});
        return columns;
    }

    int stretched_;
    RowsModel<Row> model_;
    DenseTable *table_ = nullptr;
};

} // namespace kitround::ui
