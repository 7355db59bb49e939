#include "ui/load/LoadPage.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/QualityView.h"
#include "core/desk/words/Words.h"
#include "ui/load/AheadChart.h"
#include "ui/load/HeatTable.h"
#include "ui/load/IncidentsTab.h"
#include "ui/load/IntakeTab.h"
#include "ui/load/KeptTab.h"
#include "ui/load/LeaveTab.h"
#include "ui/load/LoadBars.h"
#include "ui/load/PlainTable.h"
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
#include <QTabWidget>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

template <class Get>
RowsColumn<NurseLoadRow> number(const QString &head, Get get, const QString &tip = {}) {
    return {.head = head,
            .text = [get](const NurseLoadRow &r) { return QString::number(get(r.load)); },
            .sortBy = [get](const NurseLoadRow &r) { return QVariant::fromValue(get(r.load)); },
            .isNumber = true,
            .headTip = tip};
}

std::vector<RowsColumn<NurseLoadRow>> nurseColumns() {
    using Load = caseload::NurseLoad;
    return {
        {.head = QObject::tr("Nurse"), .text = [](const NurseLoadRow &r) { return r.name; }},
        number(QObject::tr("Visits"), [](const Load &l) { return l.visits; }),
        number(QObject::tr("New starts"), [](const Load &l) { return l.starts; }),
        number(QObject::tr("Most/day"), [](const Load &l) { return l.mostVisitsInADay; }),
        number(QObject::tr("Direct min"), [](const Load &l) { return qlonglong(l.direct.count()); }),
        number(QObject::tr("Travel min"), [](const Load &l) { return qlonglong(l.travel.count()); }),
        number(QObject::tr("Notes min"), [](const Load &l) { return qlonglong(l.notes.count()); }),
        number(QObject::tr("Capacity min"), [](const Load &l) { return qlonglong(l.capacity.count()); }),
        {.head = QObject::tr("Share"),
         .text = [](const NurseLoadRow &r) { return desk::loadText(r.load); },
         .sortBy = [](const NurseLoadRow &r) { return QVariant(r.load.share); },
         .isNumber = true,
         .ink = [](const NurseLoadRow &r) -> std::optional<Role> {
             if (r.load.sign == caseload::LoadSign::Red)
                 return Role::Act;
             if (r.load.sign == caseload::LoadSign::Amber)
                 return Role::Watch;
             return std::nullopt;
         }},
        number(
            QObject::tr("Overtime min"), [](const Load &l) { return qlonglong(l.overtime.count()); },
            QObject::tr("Beyond contract, travel and notes counted; none for exempt staff")),
        {.head = QObject::tr("Points"),
         .text =
             [](const NurseLoadRow &r) {
                 return QObject::tr("%1 of %2")
                     .arg(r.load.points, 0, 'f', 1)
                     .arg(r.load.pointsCapacity, 0, 'f', 0);
             },
         .sortBy = [](const NurseLoadRow &r) { return QVariant(r.load.points); },
         .isNumber = true,
         .headTip = QObject::tr("Weighted visits plus miles; the weights are in Settings")},
        number(QObject::tr("Patients"), [](const Load &l) { return l.patients; }),
        {.head = QObject::tr("Miles"),
         .text = [](const NurseLoadRow &r) { return QString::number(inMiles(r.load.driven), 'f', 0); },
         .sortBy =
             [](const NurseLoadRow &r) { return QVariant::fromValue(qlonglong(r.load.driven.count())); },
         .isNumber = true},
    };
}

std::vector<RowsColumn<ContinuityRow>> continuityColumns() {
    return {
        {.head = QObject::tr("Patient"), .text = [](const ContinuityRow &r) { return r.name; }},
        {.head = QObject::tr("Primary nurse"), .text = [](const ContinuityRow &r) { return r.primary; }},
        {.head = QObject::tr("Visits"),
         .text = [](const ContinuityRow &r) { return QString::number(r.continuity.visits); },
         .sortBy = [](const ContinuityRow &r) { return QVariant(r.continuity.visits); },
         .isNumber = true},
        {.head = QObject::tr("Different nurses"),
         .text = [](const ContinuityRow &r) { return QString::number(r.continuity.nurses); },
         .sortBy = [](const ContinuityRow &r) { return QVariant(r.continuity.nurses); },
         .isNumber = true},
        {.head = QObject::tr("By the main nurse"),
         .text =
             [](const ContinuityRow &r) {
                 return QObject::tr("%1 %").arg(static_cast<int>(r.continuity.mainShare * 100 + 0.5));
             },
         .sortBy = [](const ContinuityRow &r) { return QVariant(r.continuity.mainShare); },
         .isNumber = true},
    };
}

// Below the table of a tab, at the right.
QPushButton *addFootButton(QVBoxLayout &tab, const QString &name, const QString &text) {
    auto *button = new QPushButton(text);
    button->setObjectName(name);
    tab.addWidget(button, 0, Qt::AlignRight);
    return button;
}

} // namespace

LoadPage::LoadPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("loadPage"), tr("Load review"), parent), nurses_(nurseColumns()),
      continuity_(continuityColumns()) {
    makeHead();
    auto *body = new QWidget(this);
    auto *layout = new QVBoxLayout(body);
    layout->setContentsMargins(0, 0, 0, 0);
    summary_ = new QLabel(body);
    summary_->setObjectName(QStringLiteral("loadSummary"));
    summary_->setWordWrap(true);
    layout->addWidget(summary_);
    groups_ = new QTabWidget(body);
    groups_->setObjectName(QStringLiteral("loadTabs"));
    groups_->setDocumentMode(true);
    layout->addWidget(groups_, 1);
    load_ = addGroup(QStringLiteral("loadGroup"), tr("Load"));
    care_ = addGroup(QStringLiteral("careGroup"), tr("Care"));
    team_ = addGroup(QStringLiteral("teamGroup"), tr("Team"));
    makeNurseTab();
    makeReviewTabs();
    watch_ = new WatchTab(session, care_);
    care_->addTab(watch_, tr("Watch list"));
    incidents_ = new IncidentsTab(session, care_);
    care_->addTab(incidents_, tr("Incidents"));
    leave_ = new LeaveTab(session, team_);
    team_->addTab(leave_, tr("Leave"));
    intake_ = new IntakeTab(session, team_);
    team_->addTab(intake_, tr("Intake"));
    work_ = new WorkTab(session, load_);
    load_->addTab(work_, tr("Cost"));
    kept_ = new KeptTab(session, load_);
    load_->addTab(kept_, tr("What-ifs"));
    setBody(body);
    makeActions();
    connect(watch_, &WatchTab::opened, this, &LoadPage::showPatient);
    connect(intake_, &IntakeTab::referralAsked, this,
            [this](qint64 patient) { takeReferral(PatientId(patient)); });

    connect(which_, &QComboBox::currentIndexChanged, this, &LoadPage::show);
    connect(&session, &Session::agencyChanged, this, &LoadPage::showLists);
    connect(&session, &Session::computed, this, &LoadPage::show);
    connect(&session, &Session::closed, this, [this] {
        ++generation_;
        kept_->clear();
        watch_->clear();
        incidents_->clear();
        setSubtitle({});
        summary_->clear();
        showEmpty(tr("No file is open."));
    });
    // The first week of a big file takes a while; until then "no file" would stand here.
    connect(&session, &Session::opened, this, [this] { showEmpty(tr("Working out the load…")); });
}

void LoadPage::makeHead() {
    which_ = new QComboBox(this);
    which_->setObjectName(QStringLiteral("loadWeek"));
    which_->setAccessibleName(tr("Week"));
    which_->addItems({tr("Next week"), tr("This week")});
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

void LoadPage::makeNurseTab() {
    auto *tab = new QWidget(load_);
    auto *layout = new QVBoxLayout(tab);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    bars_ = new LoadBars(tab);
    layout->addWidget(bars_);
    nurseTable_ = new DenseTable(QStringLiteral("loadTable"), tr("Load by nurse"), tab);
    nurseTable_->setModel(new RowsProxy(&nurses_, this));
    layout->addWidget(nurseTable_, 1);
    weights_ = new QLabel(tab);
    weights_->setObjectName(QStringLiteral("loadWeights"));
    weights_->setFont(Look::smallFont());
    weights_->setWordWrap(true);
    layout->addWidget(weights_);
    load_->addTab(tab, tr("Nurses"));
    connect(nurseTable_, &DenseTable::opened, this,
            [this](int row) { Q_EMIT showNurse(nurses_.row(row).load.nurse.value()); });
}

void LoadPage::makeReviewTabs() {
    const auto tab = [](QTabWidget *group, const QString &title,
                        std::initializer_list<std::pair<QWidget *, int>> parts) {
        auto *page = new QWidget(group);
        auto *layout = new QVBoxLayout(page);
        layout->setContentsMargins(0, Look::kInside, 0, 0);
        for (const auto &[part, stretch] : parts)
            layout->addWidget(part, stretch);
        group->addTab(page, title);
    };
    heat_ = new HeatTable(load_);
    areas_ = new PlainTable(QStringLiteral("areaTable"), tr("Travel by area"), load_);
    tab(load_, tr("Weeks and areas"), {{heat_, 3}, {areas_, 2}});
    aheadChart_ = new AheadChart(load_);
    ahead_ = new PlainTable(QStringLiteral("aheadTable"), tr("Weeks ahead"), load_);
    tab(load_, tr("Weeks ahead"), {{aheadChart_, 0}, {ahead_, 1}});
    compliance_ = new PlainTable(QStringLiteral("complianceTable"), tr("Weeks with too few visits"), care_);
    missed_ = new PlainTable(QStringLiteral("missedTable"), tr("Missed visits"), care_);
    tab(care_, tr("Ordered visits"), {{compliance_, 1}, {missed_, 1}});
    deadlines_ = new PlainTable(QStringLiteral("deadlineTable"), tr("Deadlines"), team_);
    tab(team_, tr("Deadlines"), {{deadlines_, 1}});
    makeSkillTab();
    makeOnCallTab();
    continuityTable_ = new DenseTable(QStringLiteral("continuityTable"), tr("Continuity by patient"), care_);
    continuityTable_->setModel(new RowsProxy(&continuity_, this));
    noContinuity_ =
        new QLabel(tr("No visit is done or planned yet that says who sees whom. Plan a week in the "
                      "caseload calendar first."),
                   care_);
    noContinuity_->setObjectName(QStringLiteral("continuityNothing"));
    noContinuity_->setWordWrap(true);
    tab(care_, tr("Continuity"), {{noContinuity_, 0}, {continuityTable_, 1}});
    quality_ = new PlainTable(QStringLiteral("qualityTable"), tr("Quality by month"), care_);
    tab(care_, tr("Quality"), {{quality_, 1}});
    connect(continuityTable_, &DenseTable::opened, this,
            [this](int row) { Q_EMIT showPatient(continuity_.row(row).continuity.patient.value()); });
    connect(deadlines_, &PlainTable::opened, this, [this](int row) {
        const desk::DeadlineRow &deadline = shownDeadlines_.rows[static_cast<std::size_t>(row)];
        if (deadline.patient)
            Q_EMIT showPatient(deadline.patient->value());
        else if (deadline.nurse)
            Q_EMIT showNurse(deadline.nurse->value());
    });
}

void LoadPage::makeSkillTab() {
    auto *page = new QWidget(team_);
    auto *layout = new QVBoxLayout(page);
    layout->setContentsMargins(0, 0, 0, 0);
    skills_ = new PlainTable(QStringLiteral("skillTable"), tr("Skills by nurse"), page);
    layout->addWidget(skills_, 1);
    auto *csv = addFootButton(*layout, QStringLiteral("skillCsv"), tr("Save as CSV…"));
    team_->addTab(page, tr("Skills"));
    connect(csv, &QPushButton::clicked, this, [this] {
        if (const desk::AgencyPtr agency = session().agency())
            saveTable(this, session(), desk::skillTable(desk::skillMatrix(*agency), *agency));
    });
    connect(skills_, &PlainTable::opened, this, [this](int at) {
        Q_EMIT showNurse(shownSkills_.rows[static_cast<std::size_t>(at)].nurse.value());
    });
}

void LoadPage::makeOnCallTab() {
    auto *page = new QWidget(team_);
    auto *layout = new QVBoxLayout(page);
    layout->setContentsMargins(0, 0, 0, 0);
    onCall_ = new PlainTable(QStringLiteral("onCallTable"), tr("On call"), page);
    callShares_ = new PlainTable(QStringLiteral("callShareTable"), tr("On-call turns by nurse"), page);
    layout->addWidget(onCall_, 3);
    layout->addWidget(callShares_, 2);
    auto *rota = addFootButton(*layout, QStringLiteral("onCallPrint"), tr("Print the rota…"));
    team_->addTab(page, tr("On call"));
    connect(rota, &QPushButton::clicked, this, [this] {
        if (session().agency())
            offerPaper(this, session(), desk::onCallRota(*session().agency()));
    });
}

void LoadPage::makeActions() {
    const auto add = [this](const QString &text, const QKeySequence &keys, auto slot) {
        addPageAction(text, keys, this, slot);
    };
    add(tr("&Print the review…"), QKeySequence::Print, &LoadPage::print);
    add(tr("&What if…"), Qt::CTRL | Qt::Key_I, &LoadPage::askWhatIf);
    add(tr("Who can take a &referral?"), Qt::CTRL | Qt::Key_R, &LoadPage::askReferral);
    add(tr("Report an i&ncident…"), Qt::CTRL | Qt::SHIFT | Qt::Key_I, &LoadPage::reportIncident);
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
        bringUp(kept_);
}

void LoadPage::askReferral() {
    takeReferral(std::nullopt);
}

void LoadPage::reportIncident() {
    showIncidents();
    incidents_->report();
}

void LoadPage::takeReferral(std::optional<PatientId> patient) {
    if (session().agency())
        ReferralDialog(session(), patient, this).exec();
}

void LoadPage::takeFocus() {
    if (isUp(watch_))
        watch_->takeFocus();
    else if (isUp(incidents_))
        incidents_->takeFocus();
    else
        nurseTable_->setFocus(Qt::OtherFocusReason);
}

void LoadPage::showLeave() {
    bringUp(leave_);
}

void LoadPage::showIncidents() {
    bringUp(incidents_);
}

desk::WeekPicturePtr LoadPage::week() const {
    return which_->currentIndex() == 0 ? session().nextWeek() : session().thisWeek();
}

QTabWidget *LoadPage::addGroup(const QString &name, const QString &title) {
    auto *group = new QTabWidget(groups_);
    group->setObjectName(name);
    group->setDocumentMode(true);
    groups_->addTab(group, title);
    return group;
}

QTabWidget *LoadPage::groupOf(const QWidget *tab) const {
    for (QTabWidget *group : {care_, team_})
        if (group->indexOf(tab) >= 0)
            return group;
    return load_;
}

void LoadPage::bringUp(QWidget *tab) {
    QTabWidget *group = groupOf(tab);
    group->setCurrentWidget(tab);
    groups_->setCurrentWidget(group);
}

bool LoadPage::isUp(const QWidget *tab) const {
    return groups_->currentWidget() == groupOf(tab) && groupOf(tab)->currentWidget() == tab;
}

// What waits is told by the tab, and by its group while the tab is out of sight.
void LoadPage::setTitle(QWidget *tab, const QString &title, int count) {
    const auto counted = [](const QString &text, int n) {
        return n > 0 ? tr("%1 (%2)").arg(text).arg(n) : text;
    };
    QTabWidget *group = groupOf(tab);
    group->setTabText(group->indexOf(tab), counted(title, count));
    waiting_[tab] = count;
    for (const auto &[name, each] : {std::pair(tr("Care"), care_), std::pair(tr("Team"), team_)}) {
        int sum = 0;
        for (int i = 0; i < each->count(); ++i)
            sum += waiting_.value(each->widget(i));
        groups_->setTabText(groups_->indexOf(each), counted(name, sum));
    }
}

void LoadPage::showLists() {
    setTitle(watch_, tr("Watch list"), watch_->show(session().agency()));
    setTitle(incidents_, tr("Incidents"), incidents_->show(session().agency()));
}

void LoadPage::enableTabs(bool hasWeek) {
    for (QTabWidget *group : {load_, care_, team_})
        for (int tab = 0; tab < group->count(); ++tab)
            group->setTabEnabled(tab,
                                 hasWeek || group->widget(tab) == watch_ || group->widget(tab) == incidents_);
    for (QTabWidget *group : {load_, team_})
        groups_->setTabEnabled(groups_->indexOf(group), hasWeek);
}

// Patients are watched, and things go wrong, where no nurse has a week yet, too.
void LoadPage::showWithoutWeek() {
    const QString nothing =
        tr("Nothing to review yet: add nurses with shifts, and plan a week in the caseload calendar.");
    setSubtitle({});
    summary_->setText(nothing);
    const bool hasLists = !watch_->isEmpty() || !incidents_->isEmpty();
    showEmpty(hasLists ? QString() : nothing);
    if (!hasLists)
        return;
    if (!isUp(incidents_))
        bringUp(watch_);
    enableTabs(false);
}

void LoadPage::show() {
    if (!session().agency())
        return;
    showLists();
    const desk::WeekPicturePtr w = week();
    if (!w && session().isBusy()) { // it is shown then
        summary_->setText(tr("Working out the load…"));
        return;
    }
    if (!w || w->problem.nurses.empty()) {
        ++generation_;
        showWithoutWeek();
        return;
    }
    showEmpty({});
    enableTabs(true);
    const SnapshotIndex &index = w->agency->index();
    kept_->show(*w->agency);
    setTitle(leave_, tr("Leave"), leave_->show(*w->agency));
    work_->show();
    const caseload::LoadReview review = desk::loadReview(*w);
    const AgencySettings &settings = w->agency->settings();
    std::vector<NurseLoadRow> nurses;
    for (const caseload::NurseLoad &load : desk::overloadedFirst(review))
        nurses.push_back({load, desk::personName(*index.nurse(load.nurse))});
    std::vector<ContinuityRow> continuity;
    for (const caseload::Continuity &c : review.continuity) {
        const Patient *patient = index.patient(c.patient);
        const Nurse *primary =
            patient && patient->primaryNurse ? index.nurse(*patient->primaryNurse) : nullptr;
        continuity.push_back({c, patient ? desk::personName(*patient, index) : QString(),
                              primary ? desk::personName(*primary) : tr("none")});
    }
    const QString name = tr("Week of %1").arg(desk::dayText(w->week.from, session().today()));
    setSubtitle(
        review.unplaced > review.placed
            ? tr("%1. Most of its visits are not placed yet: plan it in the caseload calendar.").arg(name)
            : name);
    summary_->setText(desk::loadHeadline(review));
    bars_->setRows(nurses, static_cast<double>(settings[SettingKey::AmberLoadPercent]) / 100,
                   static_cast<double>(settings[SettingKey::RedLoadPercent]) / 100);
    weights_->setText(desk::weightsText(settings));
    nurses_.setRows(std::move(nurses));
    noContinuity_->setVisible(continuity.empty());
    continuity_.setRows(std::move(continuity));
    nurseTable_->fitColumns(0);
    continuityTable_->fitColumns(0);
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
    shownSkills_ = review.skills;
    skills_->setTable(desk::skillTable(review.skills, agency), 0);
    onCall_->setTable(desk::onCallTable(review.onCall.duties, agency), 6);
    callShares_->setTable(desk::callFairnessTable(review.onCall.fairness, agency), 0);
    quality_->setTable(desk::qualityTable(review.quality), 6);
    intake_->show(agency, review.intake);
    Q_EMIT reviewShown();
}

} // namespace kitround::ui
