#pragma once
// A table of row values with columns told by functions. Display text, a raw value to sort by (SortRole), a
// role colour and a tip; one class for every plain list of the program.
#include "ui/shared/Look.h"

#include <QAbstractTableModel>
#include <QSortFilterProxyModel>

#include <functional>
#include <optional>
#include <utility>
#include <vector>

namespace kitround::ui {

inline constexpr int kSortRole = Qt::UserRole + 1;

template <class Row>
struct RowsColumn {
    QString head;
    std::function<QString(const Row &)> text;
    std::function<QVariant(const Row &)> sortBy; // default: the text
    bool isNumber = false;                       // right-aligned
    std::function<std::optional<Role>(const Row &)> ink;
    std::function<QString(const Row &)> tip;
    std::function<QIcon(const Row &)> icon;
    QString headTip;
};

template <class Row>
class RowsModel : public QAbstractTableModel {
public:
    explicit RowsModel(std::vector<RowsColumn<Row>> columns, QObject *parent = nullptr)
        : QAbstractTableModel(parent), columns_(std::move(columns)) {}

    void setRows(std::vector<Row> rows) {
        beginResetModel();
        rows_ = std::move(rows);
        endResetModel();
    }
    const std::vector<Row> &rows() const { return rows_; }
    const Row &row(int index) const { return rows_[static_cast<std::size_t>(index)]; }

    int rowCount(const QModelIndex &parent = {}) const override {
        return parent.isValid() ? 0 : static_cast<int>(rows_.size());
    }
    int columnCount(const QModelIndex &parent = {}) const override {
        return parent.isValid() ? 0 : static_cast<int>(columns_.size());
    }
    QVariant data(const QModelIndex &index, int role) const override {
        if (!index.isValid())
            return {};
        const Row &r = row(index.row());
        const RowsColumn<Row> &c = columns_[static_cast<std::size_t>(index.column())];
        switch (role) {
        case Qt::DisplayRole:
        case Qt::AccessibleTextRole:
            return c.text(r);
        case kSortRole:
            return c.sortBy ? c.sortBy(r) : QVariant(c.text(r));
        case Qt::TextAlignmentRole:
            return QVariant::fromValue(Qt::Alignment(Qt::AlignVCenter) |
                                       (c.isNumber ? Qt::AlignRight : Qt::AlignLeft));
        case Qt::ForegroundRole:
            if (c.ink)
                if (const auto ink = c.ink(r))
                    return Look::colour(*ink);
            return {};
        case Qt::ToolTipRole:
            return c.tip ? QVariant(c.tip(r)) : QVariant();
        case Qt::DecorationRole:
            return c.icon ? QVariant(c.icon(r)) : QVariant();
        default:
            return {};
        }
    }
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override {
        if (orientation != Qt::Horizontal || section < 0 || section >= columnCount())
            return {};
        const RowsColumn<Row> &c = columns_[static_cast<std::size_t>(section)];
        if (role == Qt::DisplayRole)
            return c.head;
        if (role == Qt::ToolTipRole && !c.headTip.isEmpty())
            return c.headTip;
        if (role == Qt::TextAlignmentRole)
            return QVariant::fromValue(Qt::Alignment(Qt::AlignVCenter) |
                                       (c.isNumber ? Qt::AlignRight : Qt::AlignLeft));
        return {};
    }

private:
    std::vector<RowsColumn<Row>> columns_;
    std::vector<Row> rows_;
};

// Sorts by the raw value and filters on any column's text.
class RowsProxy : public QSortFilterProxyModel {
public:
    explicit RowsProxy(QAbstractItemModel *source, QObject *parent = nullptr)
        : QSortFilterProxyModel(parent) {
        setSourceModel(source);
        setSortRole(kSortRole);
        setFilterKeyColumn(-1);
        setFilterCaseSensitivity(Qt::CaseInsensitive);
    }
};

} // namespace kitround::ui
