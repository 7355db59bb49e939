#pragma once
// A scanner types wherever the keyboard happens to be. While its area is seen, a label typed anywhere on that
// page goes to the scan field: none is lost in a list, a button or another field.
#include <QObject>
#include <QPointer>
#include <QString>

class QKeyEvent;
class QLineEdit;
class QWidget;

namespace kitround::ui {

class ScanField;

class ScanCatcher : public QObject {
public:
    ScanCatcher(QWidget &area, ScanField &field); // belongs to the area
    bool eventFilter(QObject *watched, QEvent *event) override;

private:
    bool isInside(const QWidget &widget) const;
    bool typedInto(QLineEdit &edit, const QKeyEvent &key);
    bool typedAt(QKeyEvent &key);
    void pass(QKeyEvent &key);

    QWidget &area_;
    ScanField &field_;
    QPointer<QLineEdit> edit_; // what is typed into
    QString before_, typed_;   // what stood in it, and the keys since
    bool isPassing_ = false;   // a label has begun where nothing can be typed
    bool isSending_ = false;
};

} // namespace kitround::ui
