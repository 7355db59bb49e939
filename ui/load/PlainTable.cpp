#include "ui/load/PlainTable.h"

#include "core/desk/views/Cells.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/RowsModel.h"

#include <QHeaderView>
#include <QLabel>
#include <QRegularExpression>
#include <QVBoxLayout>

#include <algorithm>
#include <limits>

namespace kitround::ui {
namespace {

using Row = std::vector<std::string>;

// Of words that stand mostly behind a number ("12 (8–15)", "9.5 h") it is the number that is compared. Days
// and clock times go by their text: cells hold them in a form that sorts.
bool isByNumber(const desk::Table &table, std::size_t at) {
    if (table.columns[at].isNumber)
        return true;
    std::size_t filled = 0, numbers = 0;
    for (const Row &row : table.rows)
        if (!row[at].empty()) {
            ++filled;
            numbers += leadingNumber(QString::fromStdString(row[at])) ? 1U : 0U;
        }
    return 2 * numbers > filled;
}

// `urgent`: words that are inked where the cell holds one of them.
RowsColumn<Row> columnOf(const desk::Table &table, std::size_t at, const QStringList &urgent, Role ink) {
    const desk::Column &column = table.columns[at];
    RowsColumn<Row> made;
    made.head = QString::fromStdString(column.name);
    made.text = [at](const Row &row) { return desk::readable(row[at]); };
    made.isNumber = column.align == desk::Align::Right;
    if (!urgent.isEmpty())
        made.ink = [at, urgent, ink](const Row &row) {
            const QString text = QString::fromStdString(row[at]);
            const bool isUrgent =
                std::ranges::any_of(urgent, [&](const QString &w) { return text.contains(w); });
            return isUrgent ? std::optional(ink) : std::nullopt;
        };
    if (isByNumber(table, at))
        made.sortBy = [at](const Row &row) { return sortedByNumber(QString::fromStdString(row[at])); };
    else
        made.sortBy = [at](const Row &row) { return QVariant(QString::fromStdString(row[at])); };
    return made;
}

// The sum stands last, whichever way the others are sorted.
class SummedProxy : public RowsProxy {
public:
    using RowsProxy::RowsProxy;

    QVariant data(const QModelIndex &index, int role) const override {
        if (role == Qt::FontRole && mapToSource(index).row() == sourceModel()->rowCount() - 1)
            return Look::strongFont();
        return RowsProxy::data(index, role);
    }

protected:
    bool lessThan(const QModelIndex &left, const QModelIndex &right) const override {
        const int last = sourceModel()->rowCount() - 1;
        if (left.row() == last || right.row() == last)
            return left.row() != right.row() && (right.row() == last) == (sortOrder() == Qt::AscendingOrder);
        return RowsProxy::lessThan(left, right);
    }
};

} // namespace

std::optional<double> leadingNumber(const QString &text) {
    static const QRegularExpression number(QStringLiteral("^([+\\-\u2212]?\\d+(?:\\.\\d+)?)(?![\\d:.-])"));
    const QRegularExpressionMatch match = number.match(text);
    if (!match.hasMatch())
        return std::nullopt;
    return match.captured(1).replace(QChar(0x2212), u'-').toDouble();
}

QVariant sortedByNumber(const QString &text) {
    return leadingNumber(text).value_or(-std::numeric_limits<double>::infinity());
}

PlainTable::PlainTable(const QString &objectName, const QString &accessibleName, QWidget *parent)
    : QWidget(parent) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    layout->setSpacing(Look::kInside);
    notes_ = new QLabel(this);
    notes_->setObjectName(objectName + QStringLiteral("Notes"));
    notes_->setWordWrap(true);
    layout->addWidget(notes_);
    nothing_ = new QLabel(this);
    nothing_->setWordWrap(true);
    nothing_->hide();
    layout->addWidget(nothing_);
    table_ = new DenseTable(objectName, accessibleName, this);
    layout->addWidget(table_, 1);
    layout->addStretch(0);
    connect(table_, &DenseTable::opened, this, &PlainTable::opened);
}

void PlainTable::setUrgent(const std::string &key, const QStringList &words, Role ink) {
    urgentKey_ = key;
    urgentWords_ = words;
    urgentInk_ = ink;
}

void PlainTable::setTable(const desk::Table &table, int stretched, const QString &nothing) {
    std::vector<RowsColumn<Row>> columns;
    for (std::size_t c = 0; c < table.columns.size(); ++c)
        if (table.columns[c].shownIn != desk::ShownIn::CopiesOnly)
            columns.push_back(columnOf(
                table, c, table.columns[c].key == urgentKey_ ? urgentWords_ : QStringList(), urgentInk_));
    auto *rows = new RowsModel<Row>(std::move(columns), this);
    rows->setRows(table.rows);
    auto *proxy = table.endsWithSum ? new SummedProxy(rows, rows) : new RowsProxy(rows, rows);
    const QHeaderView *head = table_->horizontalHeader();
    const int sorted =
        table.key == key_ ? head->sortIndicatorSection() : -1; // as given, until asked otherwise
    const Qt::SortOrder order = head->sortIndicatorOrder();
    key_ = table.key;
    table_->setModel(proxy);
    delete model_; // the proxy with it
    model_ = rows;
    QStringList notes;
    for (const std::string &note : table.notes)
        notes << QString::fromStdString(note);
    notes_->setText(notes.join(QLatin1Char('\n')));
    notes_->setVisible(!notes.isEmpty());
    const bool isEmpty = table.rows.empty();
    nothing_->setText(nothing);
    nothing_->setVisible(isEmpty && !nothing.isEmpty());
    table_->setVisible(!isEmpty);
    table_->sortByColumn(sorted, order);
    table_->fitColumns(stretched);
}

} // namespace kitround::ui
