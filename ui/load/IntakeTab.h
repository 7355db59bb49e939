#pragma once
// Room for referrals by area and week, the areas the manager has closed, and who waits.
#include "core/desk/views/IntakeCapacity.h"

#include <QWidget>

class QPushButton;

namespace kitround::ui {

class PlainTable;
class Session;

class IntakeTab : public QWidget {
    Q_OBJECT
public:
    explicit IntakeTab(Session &session, QWidget *parent = nullptr);
    void show(const desk::Agency &agency, const desk::IntakeCapacity &intake);

Q_SIGNALS:
    void referralAsked(qint64 patient); // who can take it?

private:
    void closeArea();
    void openAgain();
    void editClosure(IntakeClosure closure);
    void askReferral(int row);

    Session &session_;
    desk::IntakeCapacity intake_;
    PlainTable *areas_, *waiting_, *closures_;
    QPushButton *close_, *open_, *take_;
};

} // namespace kitround::ui
