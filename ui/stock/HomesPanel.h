#pragma once
// Homes by risk, and the chosen one as a picture with its weekly figures.
#include "core/desk/views/HomeChart.h"
#include "core/desk/views/HomeRisk.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

class QLabel;
class QLineEdit;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class FanChart;
class Session;

struct HomeListRow : desk::HomeRow {
    desk::HomeRisk risk = desk::HomeRisk::Enough;
};

class HomesPanel : public QWidget {
    Q_OBJECT
public:
    HomesPanel(Session &session, QWidget *parent);
    void show(desk::StockPicturePtr picture); // nullptr: none yet
    void select(PatientId patient);
    void takeFocus();

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
    void showHome(int row);
    const desk::HomeRow *current() const;

    Session &session_;
    desk::StockPicturePtr picture_;
    RowsModel<HomeListRow> model_;
    RowsModel<Week> weeks_;
    QLineEdit *filter_;
    DenseTable *table_, *weekTable_;
    FanChart *chart_;
    QLabel *name_, *caution_;
    QPushButton *count_, *takeBack_, *call_, *open_;
};

} // namespace kitround::ui
