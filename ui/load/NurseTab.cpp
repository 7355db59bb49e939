#include "ui/load/NurseTab.h"

#include "core/desk/views/ManagerReview.h"
#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Look.h"

#include <QLabel>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

constexpr int kFewNurses = 8; // a bar for each stands beside all rows of the table

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
        number(
            QObject::tr("Starts"), [](const Load &l) { return l.starts; },
            QObject::tr("First visits of new patients")),
        number(
            QObject::tr("Most/day"), [](const Load &l) { return l.mostVisitsInADay; },
            QObject::tr("Visits on the fullest day")),
        number(QObject::tr("Direct"), [](const Load &l) { return qlonglong(l.direct.count()); }),
        number(QObject::tr("Travel"), [](const Load &l) { return qlonglong(l.travel.count()); }),
        number(
            QObject::tr("Wait"), [](const Load &l) { return qlonglong(l.waiting.count()); },
            QObject::tr("Waiting for a visit's time; of visits made none is known")),
        number(QObject::tr("Notes"), [](const Load &l) { return qlonglong(l.notes.count()); }),
        number(QObject::tr("Capacity"), [](const Load &l) { return qlonglong(l.capacity.count()); }),
        {.head = QObject::tr("Share"),
         .text = [](const NurseLoadRow &r) { return desk::shareText(r.load); },
         .sortBy = [](const NurseLoadRow &r) { return QVariant(r.load.share); },
         .isNumber = true,
         .ink = [](const NurseLoadRow &r) -> std::optional<Role> {
             if (r.load.sign == caseload::LoadSign::Red)
                 return Role::Act;
             if (r.load.sign == caseload::LoadSign::Amber)
                 return Role::Watch;
             return std::nullopt;
         },
         .tip = [](const NurseLoadRow &r) { return desk::loadText(r.load); }},
        number(
            QObject::tr("Overtime"), [](const Load &l) { return qlonglong(l.overtime.count()); },
            QObject::tr("Beyond contract, travel and notes counted; none for exempt staff")),
        number(
            QObject::tr("Beyond"), [](const Load &l) { return qlonglong(l.beyondCapacity.count()); },
            QObject::tr("Minutes beyond capacity: what the share has above 100 %")),
        {.head = QObject::tr("Points"),
         .text = [](const NurseLoadRow &r) { return desk::pointsMarkedText(r.load); },
         .sortBy = [](const NurseLoadRow &r) { return QVariant(r.load.points); },
         .isNumber = true,
         .ink = [](const NurseLoadRow &r) -> std::optional<Role> {
             return r.load.isAboveFullPoints() ? std::optional(Role::Watch) : std::nullopt;
         },
         .headTip =
             QObject::tr("Weighted visits plus miles, of what a full week allows; \"over\" is more than "
                         "that. The weights are in Settings")},
        number(QObject::tr("Patients"), [](const Load &l) { return l.patients; }),
        {.head = QObject::tr("Miles"),
         .text = [](const NurseLoadRow &r) { return QString::number(inMiles(r.load.driven), 'f', 0); },
         .sortBy =
             [](const NurseLoadRow &r) { return QVariant::fromValue(qlonglong(r.load.driven.count())); },
         .isNumber = true},
    };
}

} // namespace

NurseTab::NurseTab(QWidget *parent) : QWidget(parent), nurses_(nurseColumns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    bars_ = new LoadBars(this);
    layout->addWidget(bars_);
    table_ = new DenseTable(QStringLiteral("loadTable"), tr("Load by nurse"), this);
    table_->setModel(new RowsProxy(&nurses_, this));
    layout->addWidget(table_, 1);
    weights_ = new QLabel(this);
    weights_->setObjectName(QStringLiteral("loadWeights"));
    weights_->setFont(Look::smallFont());
    weights_->setWordWrap(true);
    layout->addWidget(weights_);
    connect(table_, &DenseTable::opened, this,
            [this](int row) { Q_EMIT opened(nurses_.row(row).load.nurse.value()); });
}

void NurseTab::show(const desk::Agency &agency, const caseload::LoadReview &review) {
    const AgencySettings &settings = agency.settings();
    std::vector<NurseLoadRow> nurses;
    for (const caseload::NurseLoad &load : desk::overloadedFirst(review))
        nurses.push_back({load, desk::personName(*agency.index().nurse(load.nurse))});
    bars_->setRows(nurses, static_cast<double>(settings[SettingKey::AmberLoadPercent]) / 100,
                   static_cast<double>(settings[SettingKey::RedLoadPercent]) / 100);
    // The heads have no room for their unit.
    weights_->setText(tr("Direct, travel, wait, notes, capacity and overtime in minutes.") + u' ' +
                      desk::minutesShareText() + u' ' + desk::overtimeCountsText() + u' ' +
                      desk::loadOrderText() + u' ' + desk::weightsText(settings));
    nurses_.setRows(std::move(nurses));
    shareHeight();
    table_->fitColumns(0);
}

void NurseTab::resizeEvent(QResizeEvent *event) {
    QWidget::resizeEvent(event);
    shareHeight();
}

// Of many nurses the table is what is read: the picture leaves it most of the height.
void NurseTab::shareHeight() {
    bars_->setMostHeight(nurses_.rowCount() > kFewNurses ? height() / 3 : height() / 2);
}

void NurseTab::takeFocus() {
    table_->setFocus(Qt::OtherFocusReason);
}

} // namespace kitround::ui
