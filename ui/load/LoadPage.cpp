#include "ui/load/LoadPage.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/words/Words.h"
#include "ui/load/AheadChart.h"
#include "ui/load/HeatTable.h"
#include "ui/load/LoadBars.h"
#include "ui/load/PlainTable.h"
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

#include <cmath>

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
        number(QObject::tr("Most/day"), [](const Load &l) { return l.mostVisitsInADay; }),
        number(QObject::tr("Direct min"), [](const Load &l) { return qlonglong(l.direct.count()); }),
        number(QObject::tr("Travel min"), [](const Load &l) { return qlonglong(l.travel.count()); }),
        number(QObject::tr("Notes min"), [](const Load &l) { return qlonglong(l.notes.count()); }),
        number(QObject::tr("Capacity min"), [](const Load &l) { return qlonglong(l.capacity.count()); }),
        {.head = QObject::tr("Share"),
         .text =
             [](const NurseLoadRow &r) {
                 return QObject::tr("%1 %, %2")
                     .arg(static_cast<int>(r.load.share * 100 + 0.5))
                     .arg(desk::words(r.load.sign));
             },
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
         .text =
             [](const NurseLoadRow &r) {
                 return QString::number(static_cast<double>(r.load.driven.count()) / 1609.344, 'f', 0);
             },
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

std::vector<RowsColumn<KeptWhatIf>> keptColumns() {
    using Kept = KeptWhatIf;
    const auto pair = [](const QString &head, auto value) {
        return RowsColumn<Kept>{.head = head,
                                .text =
                                    [value](const Kept &k) {
                                        return QObject::tr("%1 to %2")
                                            .arg(value(k.answer.reviewBefore), value(k.answer.reviewAfter));
                                    },
                                .isNumber = true};
    };
    using Review = caseload::LoadReview;
    return {{.head = QObject::tr("Kept what-if"), .text = [](const Kept &k) { return k.name; }},
            {.head = QObject::tr("Week of"),
             .text = [](const Kept &k) { return desk::dayText(k.answer.before->week.from); }},
            pair(QObject::tr("Not placed"), [](const Review &r) { return QString::number(r.unplaced); }),
            pair(QObject::tr("Overtime min"),
                 [](const Review &r) { return QString::number(r.overtime.count()); }),
            pair(QObject::tr("Gini"), [](const Review &r) { return QString::number(r.gini, 'f', 2); }),
            pair(QObject::tr("By the main nurse"), [](const Review &r) {
                return QObject::tr("%1 %").arg(std::lround(100 * r.meanMainShare));
            })};
}

} // namespace

LoadPage::LoadPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("loadPage"), tr("Load review"), parent), nurses_(nurseColumns()),
      continuity_(continuityColumns()), kept_(keptColumns()) {
    makeHead();
    auto *body = new QWidget(this);
    auto *layout = new QVBoxLayout(body);
    layout->setContentsMargins(0, 0, 0, 0);
    summary_ = new QLabel(body);
    summary_->setObjectName(QStringLiteral("loadSummary"));
    summary_->setWordWrap(true);
    layout->addWidget(summary_);
    tabs_ = new QTabWidget(body);
    tabs_->setObjectName(QStringLiteral("loadTabs"));
    tabs_->setDocumentMode(true);
    layout->addWidget(tabs_, 1);
    makeNurseTab();
    makeReviewTabs();
    makeWhatIfTab();
    setBody(body);
    makeActions();

    connect(which_, &QComboBox::currentIndexChanged, this, &LoadPage::show);
    connect(&session, &Session::computed, this, &LoadPage::show);
    connect(&session, &Session::closed, this, [this] {
        ++generation_;
        kept_.setRows({});
        showEmpty(tr("No file is open."));
    });
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
    auto *tab = new QWidget(tabs_);
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
    tabs_->addTab(tab, tr("Nurses"));
    connect(nurseTable_, &DenseTable::opened, this,
            [this](int row) { Q_EMIT showNurse(nurses_.row(row).load.nurse.value()); });
}

void LoadPage::makeReviewTabs() {
    const auto tab = [this](const QString &title, std::initializer_list<std::pair<QWidget *, int>> parts) {
        auto *page = new QWidget(tabs_);
        auto *layout = new QVBoxLayout(page);
        layout->setContentsMargins(0, Look::kInside, 0, 0);
        for (const auto &[part, stretch] : parts)
            layout->addWidget(part, stretch);
        tabs_->addTab(page, title);
    };
    heat_ = new HeatTable(tabs_);
    areas_ = new PlainTable(QStringLiteral("areaTable"), tr("Travel by area"), tabs_);
    tab(tr("By week and area"), {{heat_, 3}, {areas_, 2}});
    aheadChart_ = new AheadChart(tabs_);
    ahead_ = new PlainTable(QStringLiteral("aheadTable"), tr("Weeks ahead"), tabs_);
    tab(tr("Weeks ahead"), {{aheadChart_, 0}, {ahead_, 1}});
    compliance_ = new PlainTable(QStringLiteral("complianceTable"), tr("Weeks with too few visits"), tabs_);
    missed_ = new PlainTable(QStringLiteral("missedTable"), tr("Missed visits"), tabs_);
    tab(tr("Ordered visits"), {{compliance_, 1}, {missed_, 1}});
    deadlines_ = new PlainTable(QStringLiteral("deadlineTable"), tr("Deadlines"), tabs_);
    tab(tr("Deadlines"), {{deadlines_, 1}});
    onCall_ = new PlainTable(QStringLiteral("onCallTable"), tr("On call"), tabs_);
    tab(tr("On call"), {{onCall_, 1}});
    continuityTable_ = new DenseTable(QStringLiteral("continuityTable"), tr("Continuity by patient"), tabs_);
    continuityTable_->setModel(new RowsProxy(&continuity_, this));
    tabs_->addTab(continuityTable_, tr("Continuity"));
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

void LoadPage::makeWhatIfTab() {
    auto *tab = new QWidget(tabs_);
    auto *layout = new QVBoxLayout(tab);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *hint =
        new QLabel(tr("Answers kept under a name, until the file is closed. Open one with Enter."), tab);
    hint->setWordWrap(true);
    layout->addWidget(hint);
    keptTable_ = new DenseTable(QStringLiteral("keptTable"), tr("Kept what-ifs"), tab);
    keptTable_->setModel(new RowsProxy(&kept_, this));
    layout->addWidget(keptTable_, 1);
    dropKept_ = new QPushButton(tr("Throw away"), tab);
    dropKept_->setObjectName(QStringLiteral("keptDrop"));
    dropKept_->setEnabled(false);
    auto *row = new QHBoxLayout;
    row->addStretch(1);
    row->addWidget(dropKept_);
    layout->addLayout(row);
    tabs_->addTab(tab, tr("What-ifs"));
    connect(keptTable_, &DenseTable::opened, this, &LoadPage::openKept);
    connect(keptTable_, &DenseTable::currentRowChanged, this,
            [this](int at) { dropKept_->setEnabled(at >= 0); });
    connect(dropKept_, &QPushButton::clicked, this, [this] {
        const int at = keptTable_->currentSourceRow();
        if (at < 0)
            return;
        std::vector<KeptWhatIf> left = kept_.rows();
        left.erase(left.begin() + at);
        kept_.setRows(std::move(left));
        dropKept_->setEnabled(keptTable_->currentSourceRow() >= 0);
    });
}

void LoadPage::makeActions() {
    const auto add = [this](const QString &text, const QKeySequence &keys, auto slot) {
        addPageAction(text, keys, this, slot);
    };
    add(tr("&Print the review…"), QKeySequence::Print, &LoadPage::print);
    add(tr("&What if…"), Qt::CTRL | Qt::Key_I, &LoadPage::askWhatIf);
    add(tr("Who can take a &referral?"), Qt::CTRL | Qt::Key_R, &LoadPage::askReferral);
}

void LoadPage::print() {
    if (const auto w = week())
        offerPaper(this, session(), desk::loadPaper(*w, desk::loadReview(*w)));
}

void LoadPage::askWhatIf() {
    const auto w = week();
    if (!w)
        return;
    WhatIfDialog dialog(session(), w->week, this);
    dialog.exec();
    if (dialog.kept().empty())
        return;
    std::vector<KeptWhatIf> all = kept_.rows();
    all.insert(all.end(), dialog.kept().begin(), dialog.kept().end());
    kept_.setRows(std::move(all));
    keptTable_->fitColumns(0);
    keptTable_->selectSourceRow(kept_.rowCount() - 1);
    tabs_->setCurrentIndex(tabs_->count() - 1);
}

void LoadPage::openKept(int row) {
    WhatIfDialog(session(), kept_.row(row), this).exec();
}

void LoadPage::askReferral() {
    if (session().agency())
        ReferralDialog(session(), std::nullopt, this).exec();
}

void LoadPage::takeFocus() {
    nurseTable_->setFocus(Qt::OtherFocusReason);
}

desk::WeekPicturePtr LoadPage::week() const {
    return which_->currentIndex() == 0 ? session().nextWeek() : session().thisWeek();
}

void LoadPage::show() {
    const desk::WeekPicturePtr w = week();
    if (!w || w->problem.nurses.empty()) {
        showEmpty(
            tr("Nothing to review yet: add nurses with shifts, and plan a week in the caseload calendar."));
        return;
    }
    showEmpty({});
    const SnapshotIndex &index = w->agency->index();
    const caseload::LoadReview review = desk::loadReview(*w);
    const AgencySettings &settings = w->agency->settings();
    std::vector<NurseLoadRow> nurses;
    for (const caseload::NurseLoad &load : review.nurses)
        nurses.push_back({load, desk::personName(*index.nurse(load.nurse))});
    std::vector<ContinuityRow> continuity;
    for (const caseload::Continuity &c : review.continuity) {
        const Patient *patient = index.patient(c.patient);
        const Nurse *primary =
            patient && patient->primaryNurse ? index.nurse(*patient->primaryNurse) : nullptr;
        continuity.push_back({c, patient ? desk::personName(*patient) : QString(),
                              primary ? desk::personName(*primary) : tr("none")});
    }
    const QString name = tr("Week of %1").arg(desk::dayText(w->week.from, session().today()));
    setSubtitle(
        review.placed == 0 || review.unplaced > review.placed
            ? tr("%1. Most of its visits are not placed yet: plan it in the caseload calendar.").arg(name)
            : name);
    summary_->setText(
        tr("%1 visits placed, %2 not placed, %3 missed. Overtime %4 min. Main nurse makes %5 % of "
           "visits on average. Evenness of points: Gini %6 (0 is even), Jain %7 (1 is even).")
            .arg(review.placed)
            .arg(review.unplaced)
            .arg(review.missed)
            .arg(review.overtime.count())
            .arg(static_cast<int>(review.meanMainShare * 100 + 0.5))
            .arg(review.gini, 0, 'f', 2)
            .arg(review.jain, 0, 'f', 2));
    bars_->setRows(nurses, static_cast<double>(settings[SettingKey::AmberLoadPercent]) / 100,
                   static_cast<double>(settings[SettingKey::RedLoadPercent]) / 100);
    weights_->setText(desk::weightsText(settings));
    nurses_.setRows(std::move(nurses));
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
    compliance_->setTable(desk::complianceTable(review.compliance, agency, desk::Named::Names), 0,
                          tr("No patient went short of an ordered visit in the four weeks gone by."));
    missed_->setTable(desk::missedTable(review.compliance, agency, desk::Named::Names), 3,
                      tr("No visit was missed."));
    shownDeadlines_ = review.deadlines;
    deadlines_->setTable(desk::deadlineTable(review.deadlines, agency, desk::Named::Names), 4,
                         tr("Nothing is overdue or due soon."));
    onCall_->setTable(desk::onCallTable(review.onCall, agency), 4);
    Q_EMIT reviewShown();
}

} // namespace kitround::ui
