#pragma once
// The load review: per nurse and week, with a picture of where the minutes go, and beside it what the meeting
// asks for: weeks gone by and ahead, ordered visits, deadlines, the on-call rota, and kept what-ifs.
#include "core/desk/views/ManagerReview.h"
#include "ui/load/WhatIfDialog.h"
#include "ui/shared/Page.h"
#include "ui/shared/RowsModel.h"

#include <QHash>

class QComboBox;
class QLabel;
class QPushButton;
class QTabWidget;

namespace kitround::ui {

class AheadChart;
class BackgroundJob;
class DenseTable;
class HeatTable;
class IncidentsTab;
class IntakeTab;
class KeptTab;
class LeaveTab;
class LoadBars;
class PlainTable;
class WatchTab;
class WorkTab;

struct NurseLoadRow {
    caseload::NurseLoad load;
    QString name;
};
struct ContinuityRow {
    caseload::Continuity continuity;
    QString name, primary;
};

class LoadPage : public Page {
    Q_OBJECT
public:
    explicit LoadPage(Session &session, QWidget *parent = nullptr);
    void takeFocus() override;
    void showLeave(); // the requests
    void showIncidents();

Q_SIGNALS:
    void reviewShown(); // the tabs beside the nurses' own are filled

private:
    void makeHead();
    void makeNurseTab();
    void makeReviewTabs();
    void makeSkillTab();
    void makeOnCallTab();
    void makeActions();
    void show();
    void showLists(); // of the records alone: they wait for no week
    void showWithoutWeek();
    QTabWidget *addGroup(const QString &name, const QString &title);
    QTabWidget *groupOf(const QWidget *tab) const;
    void bringUp(QWidget *tab);
    bool isUp(const QWidget *tab) const;
    void setTitle(QWidget *tab, const QString &title, int count);
    void enableTabs(bool hasWeek);
    void showReview(const desk::ManagerReview &review);
    desk::WeekPicturePtr week() const;
    void print();
    void askWhatIf();
    void askReferral();
    void reportIncident();
    void takeReferral(std::optional<PatientId> patient);

    QComboBox *which_;
    QLabel *summary_;
    LoadBars *bars_;
    RowsModel<NurseLoadRow> nurses_;
    RowsModel<ContinuityRow> continuity_;
    QTabWidget *groups_, *load_, *care_, *team_; // fifteen tabs side by side nobody finds
    DenseTable *nurseTable_, *continuityTable_;
    HeatTable *heat_;
    AheadChart *aheadChart_;
    IncidentsTab *incidents_;
    IntakeTab *intake_;
    KeptTab *kept_;
    LeaveTab *leave_;
    WatchTab *watch_;
    WorkTab *work_;
    PlainTable *areas_, *ahead_, *compliance_, *missed_, *deadlines_, *skills_, *onCall_, *callShares_,
        *quality_;
    QLabel *weights_, *noContinuity_;
    QPushButton *print_;
    desk::DeadlineList shownDeadlines_;
    desk::SkillMatrix shownSkills_;
    QHash<const QWidget *, int> waiting_; // by tab, what its title counts
    int generation_ = 0;                  // reviews of a week no longer shown are dropped by it
};

} // namespace kitround::ui
