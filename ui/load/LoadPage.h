#pragma once
// The load review: per nurse and week, with a picture of where the minutes go, and beside it what the meeting
// asks for: weeks gone by and ahead, ordered visits, deadlines, the on-call rota, what was decided, and kept
// what-ifs. The page knows the week that is looked at and hands it to its tabs.
#include "core/desk/views/ManagerReview.h"
#include "ui/load/WhatIfDialog.h"
#include "ui/shared/Page.h"

#include <functional>
#include <optional>

class QComboBox;
class QLabel;
class QLayout;
class QPushButton;
class QTabWidget;

namespace kitround::ui {

class AheadChart;
class ContinuityTab;
class DecisionsTab;
class HeatTable;
class IncidentsTab;
class IntakeTab;
class KeptTab;
class LeaveTab;
class NurseTab;
class PlainTable;
class SkillTab;
class TabGroups;
class WatchTab;
class WorkTab;

class LoadPage : public Page {
    Q_OBJECT
public:
    explicit LoadPage(Session &session, QWidget *parent = nullptr);
    void takeFocus() override;
    void showLeave(); // the requests
    void showIncidents();
    void reportIncident(); // the form of a new one, with the list behind it
    // The weeks of a plan that is changed and not saved yet: only saved ones are reviewed, and it is said.
    void askUnsaved(std::function<std::optional<DateRange>()> unsaved);

Q_SIGNALS:
    void reviewShown(); // the tabs beside the nurses' own are filled

protected:
    void showEvent(QShowEvent *event) override;

private:
    void makeHead();
    QLayout *makeSummary(QWidget *body);
    void makeTabs();
    void makeLoadTabs(QTabWidget *load);
    void makeCareTabs(QTabWidget *care);
    void makeTeamTabs(QTabWidget *team);
    QWidget *makeOnCallTab(QTabWidget *team);
    void makeActions();
    void connectTabs();
    void show();
    void showHeadline();
    void showLists(); // of the records alone: they wait for no week
    void showWithoutWeek();
    void showReview(const desk::ManagerReview &review);
    void clear();
    desk::WeekPicturePtr week() const;
    void print();
    void askWhatIf();
    void askReferral();
    void noteDecision();
    void openTurn(int row); // of the table on call
    void takeReferral(std::optional<PatientId> patient);

    QComboBox *which_;
    QLabel *summary_;
    QString headline_; // of the week shown
    std::function<std::optional<DateRange>()> unsaved_;
    TabGroups *groups_;
    NurseTab *nurses_;
    ContinuityTab *continuity_;
    DecisionsTab *decisions_;
    HeatTable *heat_;
    AheadChart *aheadChart_;
    IncidentsTab *incidents_;
    IntakeTab *intake_;
    KeptTab *kept_;
    LeaveTab *leave_;
    SkillTab *skills_;
    WatchTab *watch_;
    WorkTab *work_;
    PlainTable *areas_, *ahead_, *compliance_, *missed_, *deadlines_, *onCall_, *callShares_, *trend_,
        *quality_, *left_;
    QPushButton *print_, *showLeft_, *callNurse_;
    desk::DeadlineList shownDeadlines_;
    std::vector<caseload::LeftVisit> shownLeft_;
    std::vector<caseload::CallDuty> shownTurns_;
    int generation_ = 0; // reviews of a week no longer shown are dropped by it
};

} // namespace kitround::ui
