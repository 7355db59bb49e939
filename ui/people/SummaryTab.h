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
    QLabel *facts_;
    QPushButton *edit_, *hold_, *endHold_, *leave_, *places_;
};

} // namespace kitround::ui
