#pragma once
// The drain log of one catheter: chart, entries, and what there is to call about after an entry.
#include "ui/people/RecordTab.h"
#include "ui/shared/RowsModel.h"

class QCheckBox;
class QComboBox;
class QLabel;

namespace kitround::ui {

class DenseTable;
class LogChart;

class LogTab : public RecordTab {
    Q_OBJECT
public:
    LogTab(Session &session, QWidget *parent);
    void log(); // the form for a new entry

protected:
    void fill() override;

private:
    void makeControls(QHBoxLayout *which, QHBoxLayout *row);
    void fillCatheters();
    void showEntries();
    void correct();
    void strikeOut();
    void showRaised(const std::vector<CallItem> &raised);
    CatheterId catheter() const;
    const DrainEntry *current() const;

    RowsModel<DrainEntry> model_;
    QComboBox *catheters_;
    QCheckBox *whole_;
    QLabel *callBox_;
    LogChart *chart_;
    DenseTable *table_;
    QPushButton *log_, *correct_, *strike_;
    PatientId shown_;
};

} // namespace kitround::ui
