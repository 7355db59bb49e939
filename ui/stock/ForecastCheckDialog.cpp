#include "ui/stock/ForecastCheckDialog.h"

#include "core/desk/words/Words.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Session.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QVBoxLayout>

namespace kitround::ui {

ForecastCheckDialog::ForecastCheckDialog(Session &session, QWidget *parent)
    : QDialog(parent),
      coverage_(
          {{.head = tr("Interval"), .text = [](const Coverage &c) { return tr("%1 %").arg(c.promised); }},
           {.head = tr("Came inside"),
            .text = [](const Coverage &c) { return tr("%1 %").arg(c.share * 100, 0, 'f', 1); },
            .isNumber = true,
            .headTip = tr("Should be what the interval promises")}}),
      methods_({{.head = tr("Method"), .text = [](const Method &m) { return m.name; }},
                {.head = tr("Mean loss"),
                 .text = [](const Method &m) { return QString::number(m.loss, 'f', 3); },
                 .sortBy = [](const Method &m) { return QVariant(m.loss); },
                 .isNumber = true,
                 .headTip = tr("Mean pinball loss, units a week: lower is better")},
                {.head = tr("Too high by, a week"),
                 .text = [](const Method &m) { return QString::number(m.bias, 'f', 2); },
                 .sortBy = [](const Method &m) { return QVariant(m.bias); },
                 .isNumber = true,
                 .headTip = tr("Forecast less what came, units a week; below nought: too low")}}),
      kinds_({{.head = tr("Kind of use"),
               .text = [](const Kind &k) { return k.name; },
               .headTip = tr("How many days something is used, and how unlike the amounts are (Syntetos, "
                             "Boylan and Croston 2005)")},
              {.head = tr("Forecasts"),
               .text = [](const Kind &k) { return QString::number(k.cases); },
               .sortBy = [](const Kind &k) { return QVariant::fromValue<qint64>(k.cases); },
               .isNumber = true},
              {.head = tr("Mean loss"),
               .text = [](const Kind &k) { return QString::number(k.loss, 'f', 3); },
               .sortBy = [](const Kind &k) { return QVariant(k.loss); },
               .isNumber = true,
               .headTip = tr("Of this forecast; as beside the simple ones")},
              {.head = tr("Best simple one"), .text = [](const Kind &k) { return k.best; }},
              {.head = tr("Its mean loss"),
               .text = [](const Kind &k) { return QString::number(k.bestLoss, 'f', 3); },
               .sortBy = [](const Kind &k) { return QVariant(k.bestLoss); },
               .isNumber = true}}),
      inService_(
          {{.head = tr("After"), .text = [](const InService &r) { return tr("%1 days").arg(r.days); }},
           {.head = tr("Catheters seen"),
            .text = [](const InService &r) { return QString::number(r.atRisk); },
            .isNumber = true,
            .headTip = tr("So many were in service and on record on that day of theirs")},
           {.head = tr("Still in service"),
            .text =
                [](const InService &r) {
                    return tr("%1 % (± %2)").arg(r.seen * 100, 0, 'f', 1).arg(r.error * 100, 0, 'f', 1);
                },
            .isNumber = true,
            .headTip = tr("The agency's own curve (Kaplan and Meier) and its standard error")},
           {.head = tr("By the forecast"),
            .text = [](const InService &r) { return tr("%1 %").arg(r.forecast * 100, 0, 'f', 1); },
            .isNumber = true}}) {
    setObjectName(QStringLiteral("forecastCheck"));
    setWindowTitle(tr("How good is the forecast?"));
    build();
    start(session);
}

void ForecastCheckDialog::build() {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    summary_ = new QLabel(
        tr("Past days are forecast anew from the log as it was known then, and held against what came."),
        this);
    summary_->setObjectName(QStringLiteral("checkSummary"));
    summary_->setWordWrap(true);
    layout->addWidget(summary_);
    progress_ = new QProgressBar(this);
    progress_->setObjectName(QStringLiteral("checkProgress"));
    progress_->setRange(0, 100);
    layout->addWidget(progress_);
    auto *row = new QHBoxLayout;
    coverageTable_ = new DenseTable(QStringLiteral("checkCoverage"), tr("What came inside"), this);
    coverageTable_->setModel(new RowsProxy(&coverage_, this));
    methodTable_ = new DenseTable(QStringLiteral("checkMethods"), tr("Beside simple forecasts"), this);
    methodTable_->setModel(new RowsProxy(&methods_, this));
    row->addWidget(coverageTable_, 1);
    row->addWidget(methodTable_, 2);
    layout->addLayout(row, 1);
    kindTable_ = new DenseTable(QStringLiteral("checkKinds"), tr("By kind of use"), this);
    kindTable_->setModel(new RowsProxy(&kinds_, this));
    layout->addWidget(kindTable_, 1);
    inServiceTable_ =
        new DenseTable(QStringLiteral("checkInService"), tr("Catheters still in service"), this);
    inServiceTable_->setModel(new RowsProxy(&inService_, this));
    layout->addWidget(inServiceTable_, 1);
    notes_ = new QLabel(this);
    notes_->setObjectName(QStringLiteral("checkNotes"));
    notes_->setWordWrap(true);
    layout->addWidget(notes_);
    auto *foot = new QHBoxLayout;
    foot->addStretch(1);
    close_ = new QPushButton(tr("Stop"), this);
    close_->setObjectName(QStringLiteral("checkClose"));
    foot->addWidget(close_);
    layout->addLayout(foot);
    connect(close_, &QPushButton::clicked, this, &QDialog::reject);
    resize(760, 640);
}

void ForecastCheckDialog::start(Session &session) {
    job_ = BackgroundJob::start(
        this,
        [agency = session.agency()](std::stop_token stop, const ProgressSink &progress) {
            return desk::checkForecast(*agency, std::move(stop), progress);
        },
        [this](const Result<desk::ForecastCheck> &result) { done(result); });
    connect(job_, &BackgroundJob::progressed, progress_,
            [this](double share) { progress_->setValue(static_cast<int>(share * 100)); });
}

void ForecastCheckDialog::done(const Result<desk::ForecastCheck> &result) {
    progress_->hide();
    close_->setText(tr("Close"));
    if (!result) {
        summary_->setText(desk::words(result.error()));
        return;
    }
    if (result->cases > 0)
        summary_->setText(tr("%1 forecasts (a home, an item and a length of 1 to 12 weeks each), looked from "
                             "%2 past days, %3 "
                             "to %4. Each forecast used only what was known then.")
                              .arg(result->cases)
                              .arg(result->origins)
                              .arg(desk::dayText(*result->first), desk::dayText(*result->last)));
    coverage_.setRows(result->coverage);
    methods_.setRows(result->methods);
    kinds_.setRows(result->kinds);
    inService_.setRows(result->inService);
    inServiceTable_->fitColumns(0);
    coverageTable_->fitColumns(0);
    methodTable_->fitColumns(0);
    kindTable_->fitColumns(0);
    QStringList notes = result->notes;
    if (!result->exits.isEmpty())
        notes << result->exits;
    notes_->setText(notes.join(QLatin1Char('\n')));
}

} // namespace kitround::ui
