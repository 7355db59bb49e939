#include "ui/shared/ScanField.h"

#include <QKeyEvent>

namespace kitround::ui {

void ScanField::keyPressEvent(QKeyEvent *event) {
    static const QString kSeparator(QChar(0x1d));
    const bool isControlBracket =
        event->key() == Qt::Key_BracketRight && event->modifiers().testFlag(Qt::ControlModifier);
    if (event->text() == kSeparator || isControlBracket) {
        insert(kSeparator);
        return;
    }
    const bool isEnter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
    if (isEnter && event->modifiers().testFlag(Qt::ControlModifier)) {
        event->ignore(); // the page's main step
        return;
    }
    if (isEnter) {
        if (!text().trimmed().isEmpty())
            Q_EMIT scanned(text());
        return;
    }
    QLineEdit::keyPressEvent(event);
}

} // namespace kitround::ui
