#include "ui/shared/ListEditor.h"

#include "ui/shared/Look.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {

ListEditor::ListEditor(const QString &addText, std::vector<Column> columns, QWidget *parent)
    : QWidget(parent), columns_(std::move(columns)) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(4);
    auto *heads = new QHBoxLayout;
    for (const Column &column : columns_) {
        auto *head = new QLabel(column.name, this);
        head->setFont(Look::smallFont());
        head->setFixedWidth(column.width);
        heads->addWidget(head);
    }
    heads->addStretch(1);
    layout->addLayout(heads);
    list_ = new QVBoxLayout;
    list_->setSpacing(4);
    layout->addLayout(list_);
    auto *add = new QPushButton(addText, this);
    add->setObjectName(QStringLiteral("listAdd"));
    add->setAutoDefault(false);
    layout->addWidget(add, 0, Qt::AlignLeft);
    setFocusProxy(add);
    connect(add, &QPushButton::clicked, this, [this] {
        addRow({});
        rows_.back().fields.front()->setFocus(Qt::OtherFocusReason);
    });
}

QWidget *ListEditor::makeField(const Column &column, const QString &value, QWidget *parent) const {
    if (column.choices.empty()) {
        auto *edit = new QLineEdit(value, parent);
        edit->setAccessibleName(column.name);
        edit->setFixedWidth(column.width);
        return edit;
    }
    auto *box = new QComboBox(parent);
    box->setAccessibleName(column.name);
    box->setFixedWidth(column.width);
    for (const Choice &choice : column.choices)
        box->addItem(choice.text, choice.value);
    box->setCurrentIndex(value.isEmpty() ? 0 : box->findData(value.toLongLong()));
    return box;
}

void ListEditor::addRow(const QStringList &values) {
    Row row;
    row.widget = new QWidget(this);
    auto *layout = new QHBoxLayout(row.widget);
    layout->setContentsMargins(0, 0, 0, 0);
    for (std::size_t i = 0; i < columns_.size(); ++i) {
        row.fields.push_back(makeField(columns_[i], values.value(static_cast<int>(i)), row.widget));
        layout->addWidget(row.fields.back());
    }
    auto *remove = new QPushButton(tr("Remove"), row.widget);
    remove->setObjectName(QStringLiteral("listRemove"));
    remove->setAutoDefault(false);
    layout->addWidget(remove);
    layout->addStretch(1);
    list_->addWidget(row.widget);
    connect(remove, &QPushButton::clicked, this, [this, widget = row.widget] { removeRow(widget); });
    rows_.push_back(std::move(row));
}

void ListEditor::removeRow(QWidget *widget) {
    std::erase_if(rows_, [widget](const Row &row) { return row.widget == widget; });
    widget->hide();
    widget->deleteLater();
    setFocus(Qt::OtherFocusReason);
}

QString ListEditor::text(int row, int column) const {
    const QWidget *field = rows_[static_cast<std::size_t>(row)].fields[static_cast<std::size_t>(column)];
    if (const auto *edit = qobject_cast<const QLineEdit *>(field))
        return edit->text().trimmed();
    return qobject_cast<const QComboBox *>(field)->currentText();
}

qint64 ListEditor::choice(int row, int column) const {
    const QWidget *field = rows_[static_cast<std::size_t>(row)].fields[static_cast<std::size_t>(column)];
    return qobject_cast<const QComboBox *>(field)->currentData().toLongLong();
}

} // namespace kitround::ui
