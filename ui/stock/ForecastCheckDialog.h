#pragma once
// "How good is the forecast?": the agency's own backtest, worked out in the background when asked.
#include "core/desk/views/ForecastCheck.h"
#include "ui/shared/RowsModel.h"

#include <QDialog>
#include <QPointer>

class QLabel;
class QProgressBar;
class QPushButton;

namespace kitround::ui {

class BackgroundJob;
class DenseTable;
class Session;

class ForecastCheckDialog : public QDialog {
    Q_OBJECT
public:
    ForecastCheckDialog(Session &session, QWidget *parent);

private:
    using Coverage = desk::ForecastCheck::Coverage;
    using Method = desk::ForecastCheck::Method;
    using Kind = desk::ForecastCheck::Kind;
    using InService = desk::ForecastCheck::InService;
    void build();
    void start(Session &session);
    void done(const Result<desk::ForecastCheck> &result);

    RowsModel<Coverage> coverage_;
    RowsModel<Method> methods_;
    RowsModel<Kind> kinds_;
    RowsModel<InService> inService_;
    DenseTable *coverageTable_, *methodTable_, *kindTable_, *inServiceTable_;
    QLabel *summary_, *notes_;
    QProgressBar *progress_;
    QPushButton *close_;
    QPointer<BackgroundJob> job_;
};

} // namespace kitround::ui
