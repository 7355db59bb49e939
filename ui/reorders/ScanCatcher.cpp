#include "ui/reorders/ScanCatcher.h"

#include "ui/shared/Page.h"
#include "ui/shared/ScanField.h"

#include <QApplication>
#include <QKeyEvent>
#include <QRegularExpression>

namespace kitround::ui {
namespace {

constexpr QChar kSeparator(0x1d);
constexpr qsizetype kShortestLabel = 16; // an article number with its key; no lot or quantity begins like one

bool isModifier(int key) {
    return key == Qt::Key_Shift || key == Qt::Key_Control || key == Qt::Key_Alt || key == Qt::Key_AltGr ||
           key == Qt::Key_Meta || key == Qt::Key_CapsLock;
}

bool isEnter(const QKeyEvent &key) {
    return (key.key() == Qt::Key_Return || key.key() == Qt::Key_Enter) &&
           !key.modifiers().testFlag(Qt::ControlModifier);
}

// What the key writes; nothing for a command.
QString written(const QKeyEvent &key) {
    const bool isControl = key.modifiers().testFlag(Qt::ControlModifier);
    if (key.text() == kSeparator || (isControl && key.key() == Qt::Key_BracketRight))
        return kSeparator;
    const bool isCommand = isControl || key.modifiers().testFlag(Qt::AltModifier);
    return isCommand || key.text().isEmpty() || !key.text().front().isPrint() ? QString() : key.text();
}

bool mayBeginLabel(const QString &text) {
    const QChar first = text.isEmpty() ? QChar() : text.front();
    return first.isDigit() || first == u'(' || first == u']';
}

bool isLabel(const QString &text) {
    // As labels begin; a remark in brackets is no label.
    static const QRegularExpression begins(
        QStringLiteral("^(\\][A-Za-z][0-9]|\\([0-9]{2,4}\\)|0[12][0-9]{14})"));
    return text.size() >= kShortestLabel && begins.match(text).hasMatch();
}

} // namespace

ScanCatcher::ScanCatcher(QWidget &area, ScanField &field) : QObject(&area), area_(area), field_(field) {
    qApp->installEventFilter(this);
}

bool ScanCatcher::eventFilter(QObject *watched, QEvent *event) {
    if (event->type() != QEvent::KeyPress || !watched->isWidgetType() || !area_.isVisible() ||
        !area_.isEnabled())
        return false;
    auto &key = *static_cast<QKeyEvent *>(event);
    if (watched == &field_) {
        isPassing_ = isPassing_ && isSending_; // the keyboard is here: nothing is left to be passed
        return false;
    }
    if (isModifier(key.key()) || !isInside(*static_cast<QWidget *>(watched)))
        return false;
    auto *edit = qobject_cast<QLineEdit *>(watched);
    return edit ? typedInto(*edit, key) : typedAt(key);
}

// The whole page the area is on, the lists that open over it too; no dialog.
bool ScanCatcher::isInside(const QWidget &widget) const {
    const QWidget *page = &area_;
    while (page->parentWidget() && !qobject_cast<const Page *>(page))
        page = page->parentWidget();
    for (const QWidget *at = &widget; at; at = at->parentWidget()) {
        if (at == page)
            return true;
        if (at->isWindow() && at->windowType() != Qt::Popup)
            return false;
    }
    return false;
}

// What is typed may be meant for the field; a label shows itself at its end.
bool ScanCatcher::typedInto(QLineEdit &edit, const QKeyEvent &key) {
    isPassing_ = false;
    if (isEnter(key) && edit_ == &edit && isLabel(typed_)) {
        const QString label = typed_;
        typed_.clear();
        edit.setText(before_);
        field_.setFocus(Qt::OtherFocusReason);
        field_.setText(label);
        Q_EMIT field_.scanned(label);
        return true;
    }
    const QString text = written(key);
    if (text.isEmpty() || edit_ != &edit)
        typed_.clear();
    if (typed_.isEmpty()) {
        edit_ = &edit;
        before_ = edit.text();
    }
    typed_ += text;
    return false;
}

bool ScanCatcher::typedAt(QKeyEvent &key) {
    typed_.clear();
    if (!isPassing_) {
        if (!mayBeginLabel(written(key)))
            return false;
        if (QWidget *list = QApplication::activePopupWidget())
            list->close();
        field_.setFocus(Qt::OtherFocusReason);
        field_.clear();
        isPassing_ = true;
    }
    pass(key);
    isPassing_ = isPassing_ && !isEnter(key);
    return true;
}

void ScanCatcher::pass(QKeyEvent &key) {
    isSending_ = true;
    QApplication::sendEvent(&field_, &key);
    isSending_ = false;
}

} // namespace kitround::ui
