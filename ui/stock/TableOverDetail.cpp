#include "ui/stock/TableOverDetail.h"

#include "ui/shared/DenseTable.h"
#include "ui/shared/Look.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QSplitter>
#include <QVBoxLayout>

namespace kitround::ui {

TableOverDetail::TableOverDetail(QWidget *parent) : QWidget(parent) {
    body_ = new QVBoxLayout(this);
    body_->setContentsMargins(0, Look::kInside, 0, 0);
    body_->setSpacing(Look::kInside);
    steps_ = new QHBoxLayout;
    body_->addLayout(steps_);
}

QPushButton *TableOverDetail::addStep(const QString &objectName, const QString &text) {
    auto *button = new QPushButton(text, this);
    button->setObjectName(objectName);
    steps_->addWidget(button);
    return button;
}

void TableOverDetail::addTable(const QString &objectName, const QString &title, const QString &nameOfChosen) {
    splitter_ = new QSplitter(Qt::Vertical, this);
    splitter_->setChildrenCollapsible(false);
    table_ = new DenseTable(objectName, title, splitter_);
    splitter_->addWidget(table_);
    auto *below = new QWidget(splitter_);
    detail_ = new QVBoxLayout(below);
    detail_->setContentsMargins(0, 0, 0, 0);
    detail_->setSpacing(4);
    name_ = new QLabel(below);
    name_->setObjectName(nameOfChosen);
    name_->setFont(Look::strongFont());
    detail_->addWidget(name_);
    splitter_->addWidget(below);
    body_->addWidget(splitter_, 1);
    instead_ = new QLabel(this);
    instead_->setObjectName(objectName + QStringLiteral("Instead"));
    instead_->setWordWrap(true);
    instead_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    instead_->hide();
    body_->addWidget(instead_, 1);
}

void TableOverDetail::sayInstead(const QString &text) {
    instead_->setText(text);
    instead_->setHidden(text.isEmpty());
    splitter_->setHidden(!text.isEmpty());
}

void TableOverDetail::takeFocus() {
    table_->setFocus(Qt::OtherFocusReason);
}

} // namespace kitround::ui
