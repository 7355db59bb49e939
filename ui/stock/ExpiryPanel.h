#pragma once
// Lots that fall due, place by place: what will be lost and what to do about it, acted on where it stands.
#include "core/desk/views/ExpiryView.h"
#include "ui/shared/RowsPanel.h"

class QComboBox;
class QPushButton;

namespace kitround::ui {

class Session;

class ExpiryPanel : public QWidget {
    Q_OBJECT
public:
    ExpiryPanel(Session &session, QWidget *parent);
    void show(desk::StockPicturePtr picture);
    void takeFocus();
    void print();

private:
    static std::vector<RowsColumn<desk::ExpiryRow>> columns(Session &session);
    void fillDue();
    void enableSteps();
    void filter();
    void putFirst();
    void setAside();
    void takeOut(desk::RemovalWay way);
    void nextStep();
    void save();

    Session &session_;
    desk::StockPicturePtr picture_;
    RowsPanel<desk::ExpiryRow> *rows_;
    QComboBox *due_;
    QPushButton *first_, *aside_, *off_, *back_, *bring_, *print_, *csv_;
};

} // namespace kitround::ui
