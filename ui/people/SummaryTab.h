#pragma once
// Who the patient is, what is known and what is not, and the steps that change it.
#include "ui/people/RecordTab.h"

class QLabel;

namespace kitround::ui {

class SummaryTab : public RecordTab {
    Q_OBJECT
public:
    SummaryTab(Session &session, QWidget *parent);

protected:
    void fill() override;

private:
    void addHoldSteps(QHBoxLayout *row, QHBoxLayout *holdRow);

    QLabel *facts_;
    QPushButton *edit_, *hold_, *endHold_, *changeHold_, *callOff_, *leave_, *back_, *places_;
};

} // namespace kitround::ui
