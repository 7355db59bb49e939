#pragma once
// What went wrong, open ones first: what to do next with each, how it went, and the clock of a report that
// leaves the house.
#include "core/desk/views/Incidents.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

#include <optional>

class QHBoxLayout;
class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class PlainTable;
class Session;

class IncidentsTab : public QWidget {
    Q_OBJECT
public:
    explicit IncidentsTab(Session &session, QWidget *parent = nullptr);
    int show(const desk::AgencyPtr &agency); // how many are open
    void clear();
    void takeFocus();
    bool isEmpty() const; // none on record, and nobody it could be about
    void report();        // a new one

private:
    void makeButtons(QHBoxLayout &row);
    void showChosen(int row);
    void edit(const Incident &incident);
    bool choose(IncidentId id); // whether it is shown
    void open(int row);
    void setLotAside();
    void closeOrReopen();
    void print();
    const desk::IncidentRow *current() const;
    desk::Table timelineOf(const Incident &incident) const;

    Session &session_;
    desk::AgencyPtr shown_;
    RowsModel<desk::IncidentRow> rows_;
    DenseTable *table_;
    QLabel *nothing_, *facts_, *steps_;
    PlainTable *timeline_;
    std::optional<IncidentId> saved_; // to be chosen once it is among the rows
    QPushButton *report_, *open_, *aside_, *close_, *csv_, *print_;
};

} // namespace kitround::ui
