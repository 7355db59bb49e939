#include "ui/today/ListDialog.h"

#include "ui/shared/DenseTable.h"
#include "ui/shared/DialogSize.h"
#include "ui/shared/Look.h"
#include "ui/shared/RowsModel.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include <utility>

namespace kitround::ui {

ListDialog::ListDialog(const QString &name, const QString &title, Session &session, QWidget *parent)
    : QDialog(parent), session_(session), head_(new QLabel(this)), name_(name) {
    setObjectName(name + QStringLiteral("Dialog"));
    setWindowTitle(title);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    head_->setObjectName(name + QStringLiteral("Head"));
    head_->setWordWrap(true);
    top_ = new QHBoxLayout;
    top_->addWidget(head_, 1);
    layout->addLayout(top_);
    middle_ = new QVBoxLayout;
    layout->addLayout(middle_, 1);
    foot_ = new QHBoxLayout;
    layout->addLayout(foot_);
    const QSize over = parent ? parent->window()->size() : QSize();
    keepSize(*this, (over * 4 / 5).expandedTo(QSize(1000, 560)));
    connect(&session, &Session::closed, this, &QDialog::reject);
}

void ListDialog::addChoice(QComboBox *choice, const QString &name, const QString &accessibleName) {
    choice->setObjectName(name);
    choice->setAccessibleName(accessibleName);
    top_->addWidget(choice, 0, Qt::AlignTop);
}

DenseTable *ListDialog::makeTable(const QString &name, QAbstractItemModel *rows,
                                  const QString &accessibleName) {
    auto *table = new DenseTable(name, accessibleName, this);
    table->setModel(new RowsProxy(rows, this));
    return table;
}

void ListDialog::setRows(QAbstractItemModel *rows, const QString &accessibleName) {
    table_ = makeTable(name_ + QStringLiteral("Table"), rows, accessibleName);
    middle_->addWidget(table_, 3);
}

DenseTable *ListDialog::addRowsBelow(QLabel *head, QAbstractItemModel *rows, const QString &name,
                                     const QString &accessibleName) {
    DenseTable *table = makeTable(name, rows, accessibleName);
    middle_->addWidget(head);
    middle_->addWidget(table, 1);
    return table;
}

QPushButton *ListDialog::addStep(const QString &name, const QString &text, std::function<void()> step,
                                 const QKeySequence &keys) {
    auto *button = new QPushButton(text, this);
    button->setObjectName(name);
    button->setAutoDefault(false);
    if (!keys.isEmpty()) {
        button->setShortcut(keys);
        button->setToolTip(keys.toString(QKeySequence::NativeText));
    }
    connect(button, &QPushButton::clicked, this, std::move(step));
    foot_->addWidget(button);
    return button;
}

void ListDialog::addRoom() {
    foot_->addStretch(1);
}

void ListDialog::addClose(const QString &name) {
    addStep(name, tr("Close"), [this] { reject(); });
}

} // namespace kitround::ui
