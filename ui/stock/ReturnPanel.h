#pragma once
// Homes whose care has ended with stock still on the books, and what becomes of it.
#include "core/desk/views/ClosedHomes.h"
#include "ui/shared/RowsTable.h"

namespace kitround::ui {

class Session;

class ReturnPanel : public QWidget {
    Q_OBJECT
public:
    ReturnPanel(Session &session, QWidget *parent);
    void show(); // from the session's agency
    void clear();
    void takeFocus();
    void settleCurrent();

Q_SIGNALS:
    void patientAsked(qint64 patient);

private:
    void enableSteps();

    Session &session_;
    RowsTable<desk::ClosedHomeRow> *rows_;
    QPushButton *settle_, *open_;
};

// What was found of one item at a home, what of it leaves, and where it goes. True when something was stored.
bool takeBackFromHome(QWidget *window, Session &session, CatheterId catheter, ItemId item);

} // namespace kitround::ui
