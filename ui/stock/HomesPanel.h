#pragma once
// Homes by risk, and the chosen one as a picture with its weekly figures.
#include "core/desk/views/HomeRisk.h"
#include "core/desk/views/RefillWhatIf.h"
#include "ui/shared/RowsModel.h"
#include "ui/stock/TableOverDetail.h"

class QLineEdit;

namespace kitround::ui {

class FanChart;
class Session;

struct HomeListRow : desk::HomeRow {
    desk::HomeRisk risk = desk::HomeRisk::Enough;
};

class HomesPanel : public TableOverDetail {
    Q_OBJECT
public:
    HomesPanel(Session &session, QWidget *parent);
    void show(desk::StockPicturePtr picture); // nullptr: none yet
    void select(PatientId patient);
    // The first of its items that nobody has counted; asked before the forecast is worked out: then.
    void countHome(PatientId patient);
    // The refill moved on the chart, while it stands there.
    std::optional<desk::TriedRefill> triedRefill() const;

public Q_SLOTS:
    void recordCount();

Q_SIGNALS:
    void patientAsked(qint64 patient);
    void callAsked(qint64 patient);

private:
    struct Week {
        forecast::WeekUse use;
        std::int64_t plain = 0;
        bool hasPlain = false;
    };
    static std::vector<RowsColumn<HomeListRow>> columns();
    static std::vector<RowsColumn<Week>> weekColumns();
    QWidget *makeTrialLine(QWidget *parent);
    void showHome(int row);
    void showTrial();
    void sayWhatComesFirst();
    const desk::HomeRow *current() const;

    Session &session_;
    desk::StockPicturePtr picture_;
    std::optional<PatientId> countAsked_; // until the forecast that has it is worked out
    RowsModel<HomeListRow> model_;
    RowsModel<Week> weeks_;
    QLineEdit *filter_;
    DenseTable *weekTable_;
    FanChart *chart_;
    QLabel *caution_;
    QWidget *trial_; // what the refill moved on the chart would mean
    QLabel *meaning_, *broken_;
    QLabel *notes_; // what the picture does not show
    QPushButton *back_;
    QPushButton *count_, *takeBack_, *call_, *open_;
};

} // namespace kitround::ui
