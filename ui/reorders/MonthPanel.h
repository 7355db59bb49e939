#pragma once
// Month end: the books of a month, tied to the ledger; closing it, and opening the last one again.
#include "core/desk/views/MonthView.h"
#include "ui/shared/RowsModel.h"

#include <QPointer>
#include <QWidget>

class QComboBox;
class QLabel;
class QPushButton;

namespace kitround::ui {

class BackgroundJob;
class DenseTable;
class Session;

class MonthPanel : public QWidget {
    Q_OBJECT
public:
    MonthPanel(Session &session, QWidget *parent);
    ~MonthPanel() override;
    void show(); // from the session's agency; read from the ledger, in the background, once the panel is seen
    void clear();
    void takeFocus();
    void print();

protected:
    void showEvent(QShowEvent *event) override;

private:
    static std::vector<RowsColumn<desk::MonthRow>> columns(Session &session);
    void fillMonths();
    void read();
    void leaveOffReading();
    void shown(Result<supply::MonthBooks> books);
    void enableSteps();
    void closeMonth();
    void reopenMonth();
    void save();
    std::optional<Date> month() const;

    Session &session_;
    bool isStale_ = true;
    QPointer<BackgroundJob> job_;
    int generation_ = 0;       // an older question's answer is dropped by it
    desk::AgencyPtr readFrom_; // the snapshot that books_ belongs to
    std::optional<supply::MonthBooks> books_;
    RowsModel<desk::MonthRow> model_;
    QComboBox *months_;
    QLabel *state_, *figures_, *notes_;
    DenseTable *table_;
    QPushButton *close_, *reopen_, *print_, *csv_;
};

} // namespace kitround::ui
