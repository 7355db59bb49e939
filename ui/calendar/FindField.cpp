#include "ui/calendar/FindField.h"

#include "ui/shared/ElidedLabel.h"
#include "ui/shared/Look.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLineEdit>
#include <QToolButton>

namespace kitround::ui {
namespace {

constexpr int kWidest = 180, kClearButton = 36;

} // namespace

FindField::FindField(QWidget *parent) : QWidget(parent) {
    setObjectName(QStringLiteral("findField"));
    auto *row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(Look::kInside);
    button_ = new QToolButton(this);
    button_->setObjectName(QStringLiteral("findOpen"));
    button_->setText(tr("Find"));
    button_->setToolTip(tr("Find a visit (Ctrl+F)"));
    button_->setMinimumHeight(Look::kHit);
    row->addWidget(button_);
    edit_ = new QLineEdit(this);
    edit_->setObjectName(QStringLiteral("findText"));
    edit_->setAccessibleName(tr("Find a visit by patient, nurse or kind"));
    edit_->setPlaceholderText(tr("Find a visit…"));
    edit_->setToolTip(tr("A patient's name, code or initials, a nurse or a kind of visit (Ctrl+F).\n"
                         "Return or F3 goes to the next, with Shift back; Escape leaves."));
    edit_->setClearButtonEnabled(true);
    edit_->setMinimumWidth(edit_->fontMetrics().horizontalAdvance(edit_->placeholderText()) + kClearButton);
    edit_->setMaximumWidth(kWidest);
    edit_->installEventFilter(this);
    row->addWidget(edit_, 2);
    found_ = new ElidedLabel(this);
    found_->setObjectName(QStringLiteral("findFound"));
    Look::setInk(found_, Role::FaintInk);
    row->addWidget(found_, 1);
    connect(button_, &QToolButton::clicked, this, &FindField::open);
    connect(edit_, &QLineEdit::textChanged, this, [this] {
        if (!text().isEmpty())
            setOpen(true);
        Q_EMIT sought(text());
    });
    setOpen(false);
}

QString FindField::text() const {
    return edit_->text().simplified();
}

void FindField::open() {
    setOpen(true);
    edit_->setFocus(Qt::ShortcutFocusReason);
    edit_->selectAll();
}

void FindField::leave() {
    edit_->clear();
    setOpen(false);
}

void FindField::setRoomy(bool on) {
    isRoomy_ = on;
    setOpen(isOpen_);
}

void FindField::tell(const QString &found) {
    found_->setText(found);
}

QString FindField::told() const {
    return found_->text();
}

void FindField::setOpen(bool on) {
    const bool isNew = on != isOpen_;
    isOpen_ = on;
    edit_->setVisible(on || isRoomy_);
    found_->setVisible(on || isRoomy_);
    button_->setVisible(!on && !isRoomy_);
    if (isNew)
        Q_EMIT opened(on);
}

bool FindField::keyPressed(int key, bool hasShift) {
    switch (key) {
    case Qt::Key_Return:
    case Qt::Key_Enter:
        Q_EMIT stepAsked(hasShift ? -1 : 1);
        return true;
    case Qt::Key_Down:
        Q_EMIT cardsAsked();
        return true;
    case Qt::Key_Escape:
        Q_EMIT cardsAsked(); // before the field goes
        leave();
        return true;
    default:
        return false;
    }
}

bool FindField::eventFilter(QObject *watched, QEvent *event) {
    if (watched == edit_ && event->type() == QEvent::KeyPress) {
        const auto *pressed = static_cast<QKeyEvent *>(event);
        if (keyPressed(pressed->key(), pressed->modifiers().testFlag(Qt::ShiftModifier)))
            return true;
    }
    if (watched == edit_ && event->type() == QEvent::FocusOut && text().isEmpty())
        setOpen(false);
    return QWidget::eventFilter(watched, event);
}

} // namespace kitround::ui
