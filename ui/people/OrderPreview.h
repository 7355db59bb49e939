#pragma once
// What an order change does from its date: figures before and after, warnings, and the one step that saves
// it.
#include "core/desk/Desk.h"

#include <QDialog>

class QGridLayout;
class QVBoxLayout;

namespace kitround::ui {

class OrderPreviewDialog : public QDialog {
    Q_OBJECT
public:
    OrderPreviewDialog(const desk::OrderChangePreview &preview, const desk::Agency &agency, QWidget *parent);

private:
    void addFigures(QVBoxLayout &layout, const desk::OrderChangePreview &preview, const desk::Agency &agency);
    void addButtons(QVBoxLayout &layout, const QString &from);
    void addLine(QGridLayout *grid, const QString &name, const QString &before, const QString &after);
};

} // namespace kitround::ui
