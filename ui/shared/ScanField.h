#pragma once
// A field for what a scanner types: the separator GS comes as a control key, which a plain field drops.
#include <QLineEdit>

namespace kitround::ui {

class ScanField : public QLineEdit {
    Q_OBJECT
public:
    explicit ScanField(QWidget *parent = nullptr) : QLineEdit(parent) {}

Q_SIGNALS:
    void scanned(const QString &text); // Enter, or what ends a scan, with something in the field

protected:
    void keyPressEvent(QKeyEvent *event) override;
};

} // namespace kitround::ui
