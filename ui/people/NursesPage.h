#pragma once
// The nurses: who may do what and until when, and when each works.
#include "core/records/Nurses.h"
#include "ui/shared/Page.h"
#include "ui/shared/RowsModel.h"

class QCheckBox;
class QLineEdit;
class QTabWidget;

namespace kitround::ui {

class DenseTable;

class NursesPage : public Page {
    Q_OBJECT
public:
    explicit NursesPage(Session &session, QWidget *parent = nullptr);
    void selectNurse(NurseId nurse);
    void takeFocus() override;

private:
    QWidget *makeRecord(QWidget *parent);
    void makeActions();
    void show();
    void chooseListed();
    void showRecord();
    void showHint();
    void newNurse();
    void editCurrent();
    void addEntry();
    void editEntry(int row);
    void removeEntry();
    // The tables by tab: shifts, extra shifts, time off.
    DenseTable *table(int tab) const { return entryTables_[static_cast<std::size_t>(tab)]; }

    RowsModel<Nurse> model_;
    RowsProxy *proxy_;
    RowsModel<ShiftPattern> shifts_;
    RowsModel<ExtraShift> extras_;
    RowsModel<TimeOff> off_;
    QLineEdit *search_;
    QCheckBox *former_;
    DenseTable *nurses_;
    std::vector<DenseTable *> entryTables_;
    QWidget *record_;
    QLabel *name_, *facts_, *hint_;
    QTabWidget *tabs_;
    QPushButton *new_, *edit_, *add_, *change_, *remove_;
    std::optional<NurseId> current_;
};

} // namespace kitround::ui
