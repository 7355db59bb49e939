#pragma once
// First deliveries: new catheters, what their order asks for, and how it gets there before the first drain.
#include "core/desk/views/StartUpView.h"
#include "ui/shared/RowsPanel.h"

#include <optional>
#include <utility>

class QPushButton;

namespace kitround::ui {

class Session;

class StartUpPanel : public QWidget {
    Q_OBJECT
public:
    StartUpPanel(Session &session, QWidget *parent);
    void show(desk::StockPicturePtr picture);
    void takeFocus();
    void print();
    // The form of its first delivery, or what is missing for it; asked before the list is worked out: then.
    // Of several new catheters that one, where one is named.
    void promiseFor(PatientId patient, CatheterId catheter = {});

Q_SIGNALS:
    void patientAsked(qint64 patient);

private:
    static std::vector<RowsColumn<desk::StartUpRow>> columns();
    void enableSteps();
    void promise();
    void save();

    Session &session_;
    desk::StockPicturePtr picture_;
    std::optional<std::pair<PatientId, CatheterId>> asked_; // until the list that has it is worked out
    RowsPanel<desk::StartUpRow> *rows_;
    QPushButton *promise_, *patient_, *print_, *csv_;
};

} // namespace kitround::ui
