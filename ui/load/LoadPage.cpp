#include "ui/load/LoadPage.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/words/Words.h"
#include "ui/load/LoadBars.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
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

} // namespace

LoadPage::LoadPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("loadPage"), tr("Load review"), parent), nurses_(nurseColumns()),
      continuity_(continuityColumns()) {
    which_ = new QComboBox(this);
    which_->setObjectName(QStringLiteral("loadWeek"));
    which_->setAccessibleName(tr("Week"));
    which_->addItems({tr("Next week"), tr("This week")});
    head()->addWidget(which_);
    head()->addStretch(1);
    QPushButton *print = setMainAction(QStringLiteral("loadPrint"), tr("Print the review"));

    auto *body = new QWidget(this);
    auto *layout = new QVBoxLayout(body);
    layout->setContentsMargins(0, 0, 0, 0);
    summary_ = new QLabel(body);
    summary_->setObjectName(QStringLiteral("loadSummary"));
    summary_->setWordWrap(true);
    layout->addWidget(summary_);
    bars_ = new LoadBars(body);
    layout->addWidget(bars_);
    auto *tabs = new QTabWidget(body);
    tabs->setDocumentMode(true);
    nurseTable_ = new DenseTable(QStringLiteral("loadTable"), tr("Load by nurse"), tabs);
    nurseTable_->setModel(new RowsProxy(&nurses_, this));
    continuityTable_ = new DenseTable(QStringLiteral("continuityTable"), tr("Continuity by patient"), tabs);
    continuityTable_->setModel(new RowsProxy(&continuity_, this));
    tabs->addTab(nurseTable_, tr("Nurses"));
    tabs->addTab(continuityTable_, tr("Continuity"));
    layout->addWidget(tabs, 1);
    setBody(body);

    const auto printReview = [this] {
        if (const auto w = week())
            offerPaper(this, this->session(), desk::loadPaper(*w, desk::loadReview(*w)));
    };
    auto *action = new QAction(tr("&Print the review…"), this);
    action->setShortcut(QKeySequence::Print);
    action->setShortcutContext(Qt::WidgetWithChildrenShortcut);
    addAction(action);
    actions_ << action;
    connect(action, &QAction::triggered, this, printReview);
    connect(print, &QPushButton::clicked, this, printReview);
    connect(which_, &QComboBox::currentIndexChanged, this, &LoadPage::show);
    connect(&session, &Session::computed, this, &LoadPage::show);
    connect(&session, &Session::closed, this, [this] { showEmpty(tr("No file is open.")); });
    connect(nurseTable_, &DenseTable::opened, this,
            [this](int row) { Q_EMIT showNurse(nurses_.row(row).load.nurse.value()); });
    connect(continuityTable_, &DenseTable::opened, this,
            [this](int row) { Q_EMIT showPatient(continuity_.row(row).continuity.patient.value()); });
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
    const bool isFirst = nurses_.rowCount() == 0;
    nurses_.setRows(std::move(nurses));
    continuity_.setRows(std::move(continuity));
    if (isFirst) {
        nurseTable_->fitColumns(0);
        continuityTable_->fitColumns(0);
    }
}

} // namespace kitround::ui
