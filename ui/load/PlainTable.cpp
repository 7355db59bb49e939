#include "ui/load/PlainTable.h"

#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/RowsModel.h"

#include <QLabel>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

using Row = std::vector<std::string>;

RowsColumn<Row> columnOf(const desk::Column &column, std::size_t at) {
    RowsColumn<Row> made;
    made.head = QString::fromStdString(column.name);
    made.text = [at](const Row &row) {
        const auto date = Date::fromIso(row[at]); // copies hold ISO days; people read weekdays
        return date ? desk::dayText(*date) : QString::fromStdString(row[at]);
    };
    made.isNumber = column.align == desk::Align::Right;
    if (column.isNumber)
        made.sortBy = [at](const Row &row) { return QVariant(QString::fromStdString(row[at]).toDouble()); };
    else
        made.sortBy = [at](const Row &row) { return QVariant(QString::fromStdString(row[at])); };
    return made;
}

} // namespace

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

void PlainTable::setTable(const desk::Table &table, int stretched, const QString &nothing) {
    std::vector<RowsColumn<Row>> columns;
    for (std::size_t c = 0; c < table.columns.size(); ++c)
        if (table.columns[c].shownIn != desk::ShownIn::CopiesOnly)
            columns.push_back(columnOf(table.columns[c], c));
    auto *rows = new RowsModel<Row>(std::move(columns), this);
    rows->setRows(table.rows);
    auto *proxy = new RowsProxy(rows, rows);
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
    table_->sortByColumn(-1, Qt::AscendingOrder); // as given, until somebody asks otherwise
    table_->fitColumns(stretched);
}

} // namespace kitround::ui
