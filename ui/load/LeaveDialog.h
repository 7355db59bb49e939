#pragma once
// One request for leave: what its days leave uncovered, what skill stays in the area, the planner's answer
// for each of its weeks, and the decision.
#include "core/desk/views/LeavePlan.h"

#include <QDialog>

class QComboBox;
class QLineEdit;
class QPushButton;

namespace kitround::ui {

class Session;

class LeaveDialog : public QDialog {
    Q_OBJECT
public:
    LeaveDialog(Session &session, TimeOffId request, QWidget *parent = nullptr);

private:
    void build(const desk::LeavePlan &plan);
    void planWeek();
    void decide(bool approve);

    Session &session_;
    desk::LeavePlan plan_;
    QComboBox *week_ = nullptr;
    QLineEdit *note_ = nullptr;
    QPushButton *approve_ = nullptr, *decline_ = nullptr;
};

} // namespace kitround::ui
