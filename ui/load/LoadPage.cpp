#include "ui/load/LoadPage.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/words/Words.h"
#include "ui/load/AheadChart.h"
#include "ui/load/ContinuityTab.h"
#include "ui/load/DecisionsTab.h"
#include "ui/load/HeatTable.h"
#include "ui/load/IncidentsTab.h"
#include "ui/load/IntakeTab.h"
#include "ui/load/KeptTab.h"
#include "ui/load/LeaveTab.h"
#include "ui/load/ListParts.h"
#include "ui/load/NurseTab.h"
#include "ui/load/PlainTable.h"
#include "ui/load/SkillTab.h"
#include "ui/load/TabGroups.h"
#include "ui/load/WatchTab.h"
#include "ui/load/WorkTab.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/ReferralDialog.h"
#include "ui/shared/Session.h"

#include <QAction>
#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

enum WeekChoice { kThisWeek, kNextWeek };

// Tables one above the other, each with its share of the height.
void addTables(QTabWidget *group, const QString &title,
               std::initializer_list<std::pair<QWidget *, int>> parts) {
    auto *tab = new QWidget(group);
    auto *layout = new QVBoxLayout(tab);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    for (const auto &[part, stretch] : parts)
        layout->addWidget(part, stretch);
    group->addTab(tab, title);
}

} // namespace

LoadPage::LoadPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("loadPage"), tr("Load review"), parent) {
    makeHead();
    auto *body = new QWidget(this);
    auto *layout = new QVBoxLayout(body);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addLayout(makeSummary(body));
    groups_ = new TabGroups(QStringLiteral("loadTabs"), body);
    layout->addWidget(groups_, 1);
    makeTabs();
    setBody(body);
    makeActions();
    connectTabs();
    connect(which_, &QComboBox::currentIndexChanged, this, &LoadPage::show);
    connect(&session, &Session::agencyChanged, this, &LoadPage::showLists);
    connect(&session, &Session::computed, this, &LoadPage::show);
    connect(&session, &Session::closed, this, &LoadPage::clear);
    // The first week of a big file takes a while; until then "no file" would stand here.
    connect(&session, &Session::opened, this, [this] { showEmpty(tr("Working out the load…")); });
}

void LoadPage::makeHead() {
    which_ = new QComboBox(this);
    which_->setObjectName(QStringLiteral("loadWeek"));
    which_->setAccessibleName(tr("Week"));
    which_->addItems({tr("This week"), tr("Next week")});
    which_->setCurrentIndex(kNextWeek);
    which_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    head()->addWidget(which_);
    const auto button = [this](const char *name, const QString &text, auto slot) {
        auto *made = new QPushButton(text, this);
        made->setObjectName(QString::fromLatin1(name));
        head()->addWidget(made);
        connect(made, &QPushButton::clicked, this, slot);
    };
    button("loadWhatIf", tr("What if…"), &LoadPage::askWhatIf);
    button("loadReferral", tr("Who can take a referral?"), &LoadPage::askReferral);
    head()->addStretch(1);
    print_ = setMainAction(QStringLiteral("loadPrint"), tr("Print the review"));
    connect(print_, &QPushButton::clicked, this, &LoadPage::print);
}

// Room for two lines, and for the button where it is hidden: the tabs stay where they are from week to week.
QLayout *LoadPage::makeSummary(QWidget *body) {
    auto *row = new QHBoxLayout;
    summary_ = new QLabel(body);
    summary_->setObjectName(QStringLiteral("loadSummary"));
    summary_->setWordWrap(true);
    summary_->setAlignment(Qt::AlignLeft | Qt::AlignTop);
    summary_->setMinimumHeight(2 * summary_->fontMetrics().lineSpacing());
    row->addWidget(summary_, 1);
    showLeft_ = new QPushButton(tr("Which visits?"), body);
    showLeft_->setObjectName(QStringLiteral("loadShowLeft"));
    showLeft_->setToolTip(tr("The visits of the week that are not placed or were missed"));
    QSizePolicy kept = showLeft_->sizePolicy();
    kept.setRetainSizeWhenHidden(true);
    showLeft_->setSizePolicy(kept);
    showLeft_->hide();
    row->addWidget(showLeft_, 0, Qt::AlignTop);
    connect(showLeft_, &QPushButton::clicked, this, [this] { groups_->bringUp(left_->parentWidget()); });
    return row;
}

void LoadPage::makeTabs() {
    QTabWidget *load = groups_->addGroup(QStringLiteral("loadGroup"), tr("Load"));
    QTabWidget *care = groups_->addGroup(QStringLiteral("careGroup"), tr("Care"));
    QTabWidget *team = groups_->addGroup(QStringLiteral("teamGroup"), tr("Team"));
    makeLoadTabs(load);
    makeCareTabs(care);
    makeTeamTabs(team);
}

void LoadPage::makeLoadTabs(QTabWidget *load) {
    nurses_ = new NurseTab(load);
    load->addTab(nurses_, tr("Nurses"));
    heat_ = new HeatTable(load);
    areas_ = new PlainTable(QStringLiteral("areaTable"), tr("Travel by area"), load);
    auto *legend = new QLabel(desk::pointsShareText(), load);
    legend->setObjectName(QStringLiteral("heatLegend"));
    legend->setFont(Look::smallFont());
    legend->setWordWrap(true);
    addTables(load, tr("Weeks and areas"), {{legend, 0}, {heat_, 3}, {areas_, 2}});
    aheadChart_ = new AheadChart(load);
    ahead_ = new PlainTable(QStringLiteral("aheadTable"), tr("Weeks ahead"), load);
    addTables(load, tr("Weeks ahead"), {{aheadChart_, 0}, {ahead_, 1}});
    work_ = new WorkTab(session(), load);
    load->addTab(work_, tr("Cost"));
    kept_ = new KeptTab(session(), load);
    load->addTab(kept_, tr("What-ifs"));
    decisions_ = new DecisionsTab(session(), load);
    load->addTab(decisions_, tr("Decisions"));
}

void LoadPage::makeCareTabs(QTabWidget *care) {
    left_ = new PlainTable(QStringLiteral("weekLeftTable"), tr("Visits not placed or missed"), care);
    addTables(care, tr("Not placed, missed"), {{left_, 1}});
    compliance_ = new PlainTable(QStringLiteral("complianceTable"), tr("Weeks with too few visits"), care);
    missed_ = new PlainTable(QStringLiteral("missedTable"), tr("Missed visits"), care);
    addTables(care, tr("Ordered visits"), {{compliance_, 1}, {missed_, 1}});
    continuity_ = new ContinuityTab(care);
    care->addTab(continuity_, tr("Continuity"));
    trend_ = new PlainTable(QStringLiteral("qualityTrend"), tr("Each sign over the last periods"), care);
    quality_ = new PlainTable(QStringLiteral("qualityTable"), tr("Quality by month"), care);
    addTables(care, tr("Quality"), {{trend_, 3}, {quality_, 2}});
    watch_ = new WatchTab(session(), care);
    care->addTab(watch_, tr("Watch list"));
    incidents_ = new IncidentsTab(session(), care);
    care->addTab(incidents_, tr("Incidents"));
}

void LoadPage::makeTeamTabs(QTabWidget *team) {
    deadlines_ = new PlainTable(QStringLiteral("deadlineTable"), tr("Deadlines"), team);
    deadlines_->setUrgent("state", {desk::overdueText(), desk::unplannedText()});
    addTables(team, tr("Deadlines"), {{deadlines_, 1}});
    skills_ = new SkillTab(session(), team);
    team->addTab(skills_, tr("Skills"));
    team->addTab(makeOnCallTab(team), tr("On call"));
    leave_ = new LeaveTab(session(), team);
    team->addTab(leave_, tr("Leave"));
    intake_ = new IntakeTab(session(), team);
    team->addTab(intake_, tr("Intake"));
}

QWidget *LoadPage::makeOnCallTab(QTabWidget *team) {
    auto *tab = new QWidget(team);
    auto *layout = new QVBoxLayout(tab);
    layout->setContentsMargins(0, 0, 0, 0);
    onCall_ = new PlainTable(QStringLiteral("onCallTable"), tr("On call"), tab);
    onCall_->setUrgent("rest_after", {desk::tooShortRestText()}, Role::Watch);
    callShares_ = new PlainTable(QStringLiteral("callShareTable"), tr("On-call turns by nurse"), tab);
    layout->addWidget(onCall_, 3);
    layout->addWidget(callShares_, 2);
    auto *row = new QHBoxLayout;
    row->addStretch(1);
    callNurse_ = addButton(*row, "onCallNurse", tr("The nurse's turns and shifts…"), this,
                           [this] { openTurn(onCall_->table()->currentSourceRow()); });
    callNurse_->setToolTip(
        tr("Opens the nurse of the turn chosen above: turns on call and shifts are changed "
           "there"));
    callNurse_->setEnabled(false);
    addButton(*row, "onCallPrint", tr("Print the rota…"), this, [this] {
        if (session().agency())
            offerPaper(this, session(), desk::onCallRota(*session().agency()));
    });
    layout->addLayout(row);
    connect(onCall_, &PlainTable::opened, this, &LoadPage::openTurn);
    connect(onCall_->table(), &DenseTable::currentRowChanged, this,
            [this](int at) { callNurse_->setEnabled(at >= 0); });
    return tab;
}

// A turn is too near to a day's work, or somebody has too many: both are changed in the nurse's record.
void LoadPage::openTurn(int row) {
    if (row >= 0 && static_cast<std::size_t>(row) < shownTurns_.size())
        Q_EMIT showNurse(shownTurns_[static_cast<std::size_t>(row)].nurse.value());
}

void LoadPage::makeActions() {
    const auto add = [this](const QString &text, const QKeySequence &keys, auto slot) {
        addPageAction(text, keys, this, slot);
    };
    add(tr("&Print the review…"), QKeySequence::Print, &LoadPage::print);
    add(tr("&What if…"), Qt::CTRL | Qt::Key_I, &LoadPage::askWhatIf);
    add(tr("Who can take a &referral?"), Qt::CTRL | Qt::Key_R, &LoadPage::askReferral);
    add(tr("Note a &decision…"), Qt::CTRL | Qt::SHIFT | Qt::Key_D, &LoadPage::noteDecision);
    add(tr("Report an i&ncident…"), {}, &LoadPage::reportIncident); // its key is the window's, for every page
}

void LoadPage::connectTabs() {
    connect(nurses_, &NurseTab::opened, this, &LoadPage::showNurse);
    connect(continuity_, &ContinuityTab::opened, this, &LoadPage::showPatient);
    connect(watch_, &WatchTab::opened, this, &LoadPage::showPatient);
    connect(skills_, &SkillTab::nurseOpened, this, &LoadPage::showNurse);
    connect(skills_, &SkillTab::patientOpened, this, &LoadPage::showPatient);
    connect(intake_, &IntakeTab::referralAsked, this,
            [this](qint64 patient) { takeReferral(PatientId(patient)); });
    connect(left_, &PlainTable::opened, this, [this](int row) {
        Q_EMIT showPatient(shownLeft_[static_cast<std::size_t>(row)].patient.value());
    });
    connect(deadlines_, &PlainTable::opened, this, [this](int row) {
        const desk::DeadlineRow &deadline = shownDeadlines_.rows[static_cast<std::size_t>(row)];
        if (deadline.patient)
            Q_EMIT showPatient(deadline.patient->value());
        else if (deadline.nurse)
            Q_EMIT showNurse(deadline.nurse->value());
    });
}

// Asked first: of a big caseload the paper takes seconds, which nobody should wait for before the question.
void LoadPage::print() {
    const auto w = week();
    const auto way = w && print_->isEnabled() ? askPaperWay(this, tr("Load review")) : std::nullopt;
    if (!way)
        return;
    print_->setEnabled(false);
    print_->setText(tr("Working out the paper…"));
    BackgroundJob::start(
        this,
        [w](std::stop_token, const ProgressSink &) { return desk::loadPaper(*w, desk::loadReview(*w)); },
        [this, way = *way, path = session().desk().path()](const desk::Paper &paper) {
            print_->setEnabled(true);
            print_->setText(tr("Print the review"));
            // Another file may have been opened meanwhile: its paper this is not.
            if (session().agency() && session().desk().path() == path)
                givePaper(this, session(), paper, way);
        });
}

void LoadPage::askWhatIf() {
    const auto w = week();
    if (!w)
        return;
    WhatIfDialog dialog(session(), w->week, this);
    dialog.exec();
    if (dialog.hasKept())
        groups_->bringUp(kept_);
}

void LoadPage::askReferral() {
    takeReferral(std::nullopt);
}

void LoadPage::reportIncident() {
    showIncidents();
    incidents_->report();
}

void LoadPage::noteDecision() {
    groups_->bringUp(decisions_);
    decisions_->add();
}

void LoadPage::takeReferral(std::optional<PatientId> patient) {
    if (session().agency())
        ReferralDialog(session(), patient, this).exec();
}

void LoadPage::takeFocus() {
    if (groups_->isUp(watch_))
        watch_->takeFocus();
    else if (groups_->isUp(incidents_))
        incidents_->takeFocus();
    else if (groups_->isUp(decisions_))
        decisions_->takeFocus();
    else
        nurses_->takeFocus();
}

void LoadPage::showLeave() {
    groups_->bringUp(leave_);
}

void LoadPage::showIncidents() {
    groups_->bringUp(incidents_);
}

desk::WeekPicturePtr LoadPage::week() const {
    return which_->currentIndex() == kNextWeek ? session().nextWeek() : session().thisWeek();
}

void LoadPage::showLists() {
    const desk::AgencyPtr agency = session().agency();
    const Date next = desk::nextWeek(*agency);
    const Date day = which_->currentIndex() == kNextWeek ? next : agency->today();
    which_->setItemText(kThisWeek, tr("This week, from %1").arg(desk::dayText(next.plusDays(-7))));
    which_->setItemText(kNextWeek, tr("Next week, from %1").arg(desk::dayText(next)));
    groups_->setCounted(watch_, tr("Watch list"), watch_->show(agency));
    groups_->setCounted(incidents_, tr("Incidents"), incidents_->show(agency));
    groups_->setCounted(decisions_, tr("Decisions"),
                        decisions_->show(agency, desk::weekHolding(*agency, day)));
}

// Patients are watched, things go wrong, and a review decides (to fill a post, for one) where no nurse has a
// week yet, too.
void LoadPage::showWithoutWeek() {
    const QString nothing =
        tr("Nothing to review yet: add nurses with shifts, and plan a week in the caseload calendar.");
    headline_.clear();
    summary_->setText(nothing);
    showLeft_->hide();
    const bool hasLists = !watch_->isEmpty() || !incidents_->isEmpty() || !decisions_->isEmpty();
    showEmpty(hasLists ? QString() : nothing);
    if (!hasLists)
        return;
    if (!groups_->isUp(incidents_) && !groups_->isUp(decisions_))
        groups_->bringUp(watch_);
    groups_->enableOnly({watch_, incidents_, decisions_});
}

void LoadPage::askUnsaved(std::function<std::optional<DateRange>()> unsaved) {
    unsaved_ = std::move(unsaved);
}

void LoadPage::showEvent(QShowEvent *event) {
    Page::showEvent(event);
    showHeadline(); // the plan may have been changed or saved meanwhile
}

void LoadPage::showHeadline() {
    const desk::WeekPicturePtr w = week();
    if (headline_.isEmpty() || !w)
        return;
    const std::optional<DateRange> unsaved = unsaved_ ? unsaved_() : std::nullopt;
    const bool isUnsaved = unsaved && unsaved->from < w->week.to && w->week.from < unsaved->to;
    summary_->setText(isUnsaved
                          ? tr("A plan of this week in the calendar is not saved yet; below stands what "
                               "is saved.") +
                                u' ' + headline_
                          : headline_);
}

void LoadPage::clear() {
    ++generation_;
    headline_.clear();
    kept_->clear();
    watch_->clear();
    incidents_->clear();
    decisions_->clear();
    summary_->clear();
    showLeft_->hide();
    showEmpty(tr("No file is open."));
}

void LoadPage::show() {
    if (!session().agency())
        return;
    showLists();
    const desk::WeekPicturePtr w = week();
    if (!w && session().isBusy()) { // it is shown then
        headline_.clear();
        summary_->setText(tr("Working out the load…"));
        return;
    }
    if (!w || w->problem.nurses.empty()) {
        ++generation_;
        showWithoutWeek();
        return;
    }
    showEmpty({});
    groups_->enableAll();
    kept_->show(*w->agency);
    groups_->setCounted(leave_, tr("Leave"), leave_->show(*w->agency));
    work_->show();
    const caseload::LoadReview review = desk::loadReview(*w);
    headline_ = desk::loadHeadline(review);
    showHeadline();
    shownLeft_ = review.left;
    showLeft_->setVisible(!review.left.empty());
    left_->setTable(desk::leftTable(review, *w->agency, desk::PatientNamed::InFull), 5,
                    tr("Every visit of this week has a place, and none was missed."));
    nurses_->show(*w->agency, review);
    continuity_->show(*w->agency, review);
    const int generation = ++generation_;
    BackgroundJob::start(
        this, [w](std::stop_token, const ProgressSink &) { return desk::managerReview(w); },
        [this, generation](const desk::ManagerReview &made) {
            if (generation == generation_)
                showReview(made);
        });
}

void LoadPage::showReview(const desk::ManagerReview &review) {
    const desk::Agency &agency = *review.week->agency;
    heat_->setHeat(review.heat, agency.today());
    areas_->setTable(desk::areaTable(review.areas), 0,
                     tr("Nothing of this week is placed yet; plan it in the caseload calendar."));
    aheadChart_->setWeeks(review.ahead);
    ahead_->setTable(desk::weeksAheadTable(review.ahead), 8);
    compliance_->setTable(desk::complianceTable(review.compliance, agency, desk::PatientNamed::InFull), 0,
                          tr("No patient went short of an ordered visit in the four weeks gone by."));
    missed_->setTable(desk::missedTable(review.compliance, agency, desk::PatientNamed::InFull), 3,
                      tr("No visit was missed."));
    shownDeadlines_ = review.deadlines;
    deadlines_->setTable(desk::deadlineTable(review.deadlines, agency, desk::PatientNamed::InFull), 4,
                         tr("Nothing is overdue or due soon."));
    groups_->setCounted(deadlines_->parentWidget(), tr("Deadlines"), desk::overdueCount(review.deadlines));
    skills_->show(agency, review.skills, review.joint);
    shownTurns_ = review.onCall.duties;
    onCall_->setTable(desk::onCallTable(review.onCall, agency), 6);
    callNurse_->setEnabled(onCall_->table()->currentSourceRow() >= 0);
    groups_->setCounted(
        onCall_->parentWidget(), tr("On call"),
        static_cast<int>(std::ranges::count_if(review.onCall.duties, &caseload::CallDuty::isTooShort)));
    callShares_->setTable(desk::callFairnessTable(review.onCall.fairness, agency), 0);
    trend_->setTable(desk::qualityTrendTable(review.trend), 0,
                     tr("How each sign went is told once a whole week stands in the log."));
    quality_->setTable(desk::qualityTable(review.quality), 6);
    intake_->show(agency, review.intake);
    Q_EMIT reviewShown();
}

} // namespace kitround::ui
