#include "ui/reorders/ReorderModel.h"

#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"
#include "ui/shared/RowsModel.h"

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr int kMostCases = 9999;

QString signs(const supply::ReorderLine &line) {
    QStringList all;
    if (line.cause != supply::ReorderCause::BelowLevel)
        all << desk::words(line.cause);
    if (const QString toppedUp = desk::toppedUpText(line); !toppedUp.isEmpty())
        all << toppedUp;
    for (const supply::ReorderFlag flag : line.flags)
        all << desk::words(flag);
    return all.join(QStringLiteral(", "));
}

} // namespace

ReorderModel::ReorderModel(QObject *parent) : QAbstractTableModel(parent) {}

void ReorderModel::setPicture(desk::StockPicturePtr picture) {
    beginResetModel();
    const std::vector<Row> before = std::move(rows_);
    const desk::StockPicturePtr old = std::exchange(picture_, std::move(picture));
    rows_.clear();
    if (picture_)
        for (const supply::SupplierReorder &reorder : picture_->reorders)
            for (const supply::ReorderLine &line : reorder.lines) {
                Row row{&line, {reorder.supplier, line.item, line.cases, false}};
                for (const Row &b : before) {
                    const bool isSame = b.edit.supplier == reorder.supplier && b.edit.item == line.item;
                    if (isSame && (b.edit.isLeftOut || b.edit.cases != b.line->cases))
                        row.edit = b.edit;
                }
                rows_.push_back(row);
            }
    endResetModel();
}

std::vector<desk::ReorderEdit> ReorderModel::edits() const {
    std::vector<desk::ReorderEdit> all;
    for (const Row &row : rows_)
        all.push_back(row.edit);
    return all;
}

bool ReorderModel::isEdited() const {
    return std::ranges::any_of(
        rows_, [](const Row &r) { return r.edit.isLeftOut || r.edit.cases != r.line->cases; });
}

void ReorderModel::forget() {
    for (Row &row : rows_)
        row.edit = {row.edit.supplier, row.line->item, row.line->cases, false};
    if (!rows_.empty())
        Q_EMIT dataChanged(index(0, 0), index(rowCount() - 1, ColumnCount - 1));
    Q_EMIT edited();
}

int ReorderModel::rowCount(const QModelIndex &parent) const {
    return parent.isValid() ? 0 : static_cast<int>(rows_.size());
}
int ReorderModel::columnCount(const QModelIndex &parent) const {
    return parent.isValid() ? 0 : ColumnCount;
}

Money ReorderModel::total(const Row &row) const {
    return desk::pricePerCase(*picture_, row.edit.supplier, *row.line, row.edit.cases) *
           row.edit.cases.count();
}

QVariant ReorderModel::text(const Row &row, int column) const {
    const SnapshotIndex &index = picture_->agency->index();
    switch (column) {
    case Item: {
        const auto *item = index.item(row.line->item);
        return item ? QString::fromStdString(item->name) : tr("an unknown item");
    }
    case Supplier: {
        const auto *supplier = index.supplier(row.edit.supplier);
        return supplier ? QString::fromStdString(supplier->name) : tr("nobody offers it");
    }
    case CasesColumn:
        return row.edit.cases == row.line->cases ? desk::numberText(row.edit.cases.count())
                                                 : tr("%1 (proposed %2)")
                                                       .arg(desk::numberText(row.edit.cases.count()),
                                                            desk::numberText(row.line->cases.count()));
    case EachesColumn:
        return desk::numberText(toEaches(row.edit.cases, row.line->pack).count());
    case Total:
        return row.edit.isLeftOut ? tr("left out")
                                  : desk::moneyText(total(row), picture_->agency->settings().currency);
    case Arrives:
        return desk::dayText(row.line->expectedOn);
    case Signs:
        return signs(*row.line);
    default:
        return {};
    }
}

QVariant ReorderModel::sortBy(const Row &row, int column) const {
    switch (column) {
    case CasesColumn:
        return qlonglong(row.edit.cases.count());
    case EachesColumn:
        return qlonglong(toEaches(row.edit.cases, row.line->pack).count());
    case Total:
        return qlonglong(total(row).count());
    case Arrives:
        return qlonglong(row.line->expectedOn.dayNumber());
    default:
        return text(row, column);
    }
}

QVariant ReorderModel::data(const QModelIndex &index, int role) const {
    if (!index.isValid() || !picture_)
        return {};
    const Row &row = rows_[static_cast<std::size_t>(index.row())];
    const bool isNumber =
        index.column() == CasesColumn || index.column() == EachesColumn || index.column() == Total;
    switch (role) {
    case Qt::DisplayRole:
        return text(row, index.column());
    case Qt::AccessibleTextRole:
        return index.column() == Item && row.edit.isLeftOut
                   ? tr("%1, left out").arg(text(row, Item).toString())
                   : text(row, index.column());
    case Qt::EditRole:
        return index.column() == CasesColumn ? QVariant(static_cast<int>(row.edit.cases.count()))
                                             : text(row, index.column());
    case kSortRole:
        return sortBy(row, index.column());
    case Qt::CheckStateRole:
        return index.column() == Item ? QVariant(row.edit.isLeftOut ? Qt::Unchecked : Qt::Checked)
                                      : QVariant();
    case Qt::TextAlignmentRole:
        return QVariant::fromValue(Qt::Alignment(Qt::AlignVCenter) |
                                   (isNumber ? Qt::AlignRight : Qt::AlignLeft));
    case Qt::ForegroundRole:
        if (row.edit.isLeftOut)
            return Look::colour(Role::FaintInk);
        return index.column() == Signs && !row.line->flags.empty() ? QVariant(Look::colour(Role::Watch))
                                                                   : QVariant();
    case Qt::ToolTipRole:
        return desk::reason(*row.line, picture_->agency->index());
    default:
        return {};
    }
}

QVariant ReorderModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation != Qt::Horizontal)
        return {};
    if (role == Qt::TextAlignmentRole)
        return QVariant::fromValue(
            Qt::Alignment(Qt::AlignVCenter) |
            (section >= CasesColumn && section <= Total ? Qt::AlignRight : Qt::AlignLeft));
    if (role == Qt::ToolTipRole && section == Item)
        return tr("Ticked lines are ordered; the space bar leaves one out");
    if (role != Qt::DisplayRole)
        return {};
    const QStringList heads = {tr("Item"),  tr("Supplier"), tr("Cases"),     tr("Eaches"),
                               tr("Total"), tr("Arrives"),  tr("Why, signs")};
    return heads.value(section);
}

Qt::ItemFlags ReorderModel::flags(const QModelIndex &index) const {
    Qt::ItemFlags flags = QAbstractTableModel::flags(index);
    if (index.column() == Item)
        flags |= Qt::ItemIsUserCheckable;
    if (index.column() == CasesColumn)
        flags |= Qt::ItemIsEditable;
    return flags;
}

bool ReorderModel::setData(const QModelIndex &index, const QVariant &value, int role) {
    if (!index.isValid())
        return false;
    Row &row = rows_[static_cast<std::size_t>(index.row())];
    if (index.column() == Item && role == Qt::CheckStateRole)
        row.edit.isLeftOut = value.toInt() != Qt::Checked;
    else if (index.column() == CasesColumn && role == Qt::EditRole) {
        bool ok = false;
        const int cases = value.toInt(&ok);
        if (!ok || cases < 0 || cases > kMostCases)
            return false;
        row.edit.cases = Cases::of(cases);
    } else
        return false;
    rowChanged(index.row());
    return true;
}

void ReorderModel::toggle(int row) {
    if (row < 0 || row >= rowCount())
        return;
    bool &isLeftOut = rows_[static_cast<std::size_t>(row)].edit.isLeftOut;
    isLeftOut = !isLeftOut;
    rowChanged(row);
}

void ReorderModel::rowChanged(int row) {
    Q_EMIT dataChanged(index(row, 0), index(row, ColumnCount - 1));
    Q_EMIT edited();
}

} // namespace kitround::ui
