#include "ui/shared/InputRules.h"

#include <QAbstractSpinBox>
#include <QApplication>
#include <QComboBox>
#include <QKeyEvent>
#include <QPushButton>
#include <QSlider>
#include <QToolButton>

namespace kitround::ui {
namespace {

bool holdsAValue(const QObject *object) {
    return qobject_cast<const QComboBox *>(object) || qobject_cast<const QAbstractSpinBox *>(object) ||
           qobject_cast<const QSlider *>(object);
}

class InputRules : public QObject {
public:
    using QObject::QObject;

    bool eventFilter(QObject *watched, QEvent *event) override {
        switch (event->type()) {
        case QEvent::Polish:
            leaveFocusToKeysAndClicks(watched);
            return false;
        case QEvent::Wheel:
            if (!holdsAValue(watched))
                return false;
            event->ignore(); // so that what it lies on scrolls
            return true;
        case QEvent::KeyPress:
            return pressesButton(watched, *static_cast<QKeyEvent *>(event));
        default:
            return false;
        }
    }

private:
    // Otherwise the wheel would carry the focus away from the field a person is in.
    static void leaveFocusToKeysAndClicks(QObject *watched) {
        if (!holdsAValue(watched))
            return;
        auto *widget = static_cast<QWidget *>(watched);
        if (widget->focusPolicy() == Qt::WheelFocus)
            widget->setFocusPolicy(Qt::StrongFocus);
    }

    static bool pressesButton(QObject *watched, QKeyEvent &key) {
        const bool isEnter = key.key() == Qt::Key_Return || key.key() == Qt::Key_Enter;
        Qt::KeyboardModifiers held = key.modifiers();
        held.setFlag(Qt::KeypadModifier, false);
        if (!isEnter || held != Qt::NoModifier)
            return false;
        if (!qobject_cast<QPushButton *>(watched) && !qobject_cast<QToolButton *>(watched))
            return false;
        key.accept();
        if (!key.isAutoRepeat())
            static_cast<QAbstractButton *>(watched)->click(); // may close the window the button is in
        return true;
    }
};

} // namespace

void keepInputRules(QApplication &app) {
    const QString name = QStringLiteral("inputRules");
    if (app.findChild<QObject *>(name, Qt::FindDirectChildrenOnly))
        return;
    auto *rules = new InputRules(&app);
    rules->setObjectName(name);
    app.installEventFilter(rules);
}

} // namespace kitround::ui
