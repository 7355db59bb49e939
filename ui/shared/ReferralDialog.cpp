#include "ui/shared/ReferralDialog.h"

#include "core/desk/views/IntakeCapacity.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/DialogSize.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>
#include <cmath>

namespace kitround::ui {
namespace {

using desk::ReferralPlace;

constexpr std::int64_t kIterations = 4000; // only where a week has no plan yet
constexpr qint64 kNobody = 0;
constexpr int kNameLength = 32; // letters the box of patients has room for, whoever stands in it

QString slotText(const std::optional<desk::ReferralSlot> &slot) {
    return slot ? QStringLiteral("%1 %2").arg(desk::dayText(slot->on), desk::timeText(slot->start))
                : QString();
}

// `at`: 0 for this week, 1 for next.
RowsColumn<ReferralPlace> loadColumn(const QString &head, std::size_t at) {
    return {.head = head,
            .text =
                [at](const ReferralPlace &p) {
                    return at < p.weeks.size() ? desk::weekShareText(p.weeks[at]) : QString();
                },
            .sortBy =
                [at](const ReferralPlace &p) {
                    return QVariant(at < p.weeks.size() ? p.weeks[at].shareAfter : -1.0);
                },
            .isNumber = true,
            .ink =
                [at](const ReferralPlace &p) {
                    return at < p.weeks.size() && p.weeks[at].isOverFull ? std::optional(Role::Act)
                                                                         : std::nullopt;
                },
            .headTip = QObject::tr("Share of capacity in that week; with this visit where it falls there")};
}

std::vector<RowsColumn<ReferralPlace>> columns() {
    return {
        {.head = QObject::tr("Nurse"), .text = [](const ReferralPlace &p) { return p.name; }},
        {.head = QObject::tr("First free"),
         .text = [](const ReferralPlace &p) { return slotText(p.first); },
         .sortBy =
             [](const ReferralPlace &p) {
                 return QVariant(p.first ? double(p.first->on.dayNumber() * 1440 + p.first->start.count())
                                         : 1e18);
             }},
        {.head = QObject::tr("Best fit"),
         .text = [](const ReferralPlace &p) { return slotText(p.cheapest); },
         .sortBy =
             [](const ReferralPlace &p) {
                 return QVariant(p.cheapest
                                     ? double(p.cheapest->on.dayNumber() * 1440 + p.cheapest->start.count())
                                     : 1e18);
             }},
        {.head = QObject::tr("Cost, weighted min"),
         .text =
             [](const ReferralPlace &p) {
                 return p.cheapest ? QString::number(std::lround(p.cheapest->addedCost)) : QString();
             },
         .sortBy = [](const ReferralPlace &p) { return QVariant(p.cheapest ? p.cheapest->addedCost : 1e18); },
         .isNumber = true,
         .headTip = QObject::tr("Weighted minutes added to the plan; the weights are in Settings")},
        loadColumn(QObject::tr("This week"), 0),
        loadColumn(QObject::tr("Next week"), 1),
        {.head = QObject::tr("Own patients"),
         .text = [](const ReferralPlace &p) { return QString::number(p.ownPatients); },
         .sortBy = [](const ReferralPlace &p) { return QVariant(p.ownPatients); },
         .isNumber = true},
        {.head = QObject::tr("New starts"),
         .text = [](const ReferralPlace &p) { return QString::number(p.newStarts); },
         .sortBy = [](const ReferralPlace &p) { return QVariant(p.newStarts); },
         .isNumber = true,
         .ink =
             [](const ReferralPlace &p) {
                 return p.hasManyStarts() ? std::optional(Role::Watch) : std::nullopt;
             },
         .headTip = QObject::tr("Own patients who started within 14 days")},
        {.head = QObject::tr("To know"),
         .text = [](const ReferralPlace &p) { return p.note; },
         .ink =
             [](const ReferralPlace &p) {
                 return p.isPossible() ? std::nullopt : std::optional(Role::FaintInk);
             }},
    };
}

} // namespace

ReferralDialog::ReferralDialog(Session &session, std::optional<PatientId> patient, QWidget *parent)
    : QDialog(parent), session_(session), places_(columns()) {
    setObjectName(QStringLiteral("referralDialog"));
    setWindowTitle(tr("Who can take this referral?"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    patient_ = new QComboBox(this);
    patient_->setObjectName(QStringLiteral("referralPatient"));
    patient_->setAccessibleName(tr("Patient"));
    fillPatients(patient);
    auto *top = new QHBoxLayout;
    top->addWidget(patient_);
    top->addStretch(1);
    layout->addLayout(top);
    summary_ = new QLabel(this);
    summary_->setObjectName(QStringLiteral("referralSummary"));
    summary_->setWordWrap(true);
    layout->addWidget(summary_);
    table_ = new DenseTable(QStringLiteral("referralTable"), tr("Nurses, the best first"), this);
    table_->setModel(new RowsProxy(&places_, this));
    layout->addWidget(table_, 1);
    cautions_ = new QLabel(this);
    cautions_->setObjectName(QStringLiteral("referralCautions"));
    cautions_->setWordWrap(true);
    cautions_->setAlignment(Qt::AlignLeft | Qt::AlignTop);
    cautions_->setMinimumHeight(2 * fontMetrics().lineSpacing()); // the fields below stay where they are
    layout->addWidget(cautions_);
    auto *why = new QHBoxLayout;
    auto *whyLabel = new QLabel(tr("Why these nurses"), this);
    reason_ = new QPlainTextEdit(this);
    reason_->setObjectName(QStringLiteral("referralReason"));
    reason_->setTabChangesFocus(true);
    reason_->setFixedHeight(3 * fontMetrics().lineSpacing() + Look::kInside); // read whole before it is kept
    whyLabel->setBuddy(reason_);
    why->addWidget(whyLabel, 0, Qt::AlignTop);
    why->addWidget(reason_, 1);
    layout->addLayout(why);
    auto *buttons = new QHBoxLayout;
    name_ = new QPushButton(tr("Name as main nurse"), this);
    name_->setObjectName(QStringLiteral("referralName"));
    name_->setEnabled(false);
    auto *close = new QPushButton(tr("Close"), this);
    close->setObjectName(QStringLiteral("referralClose"));
    for (QPushButton *button : {name_, close})
        button->setAutoDefault(false); // Enter in the patient box only chooses whom it is asked about
    buttons->addStretch(1);
    buttons->addWidget(name_);
    buttons->addWidget(close);
    layout->addLayout(buttons);
    connect(patient_, &QComboBox::currentIndexChanged, this, &ReferralDialog::ask);
    connect(table_, &DenseTable::currentRowChanged, this, &ReferralDialog::showChoice);
    connect(name_, &QPushButton::clicked, this, &ReferralDialog::nameNurse);
    connect(close, &QPushButton::clicked, this, &QDialog::accept);
    connect(&session, &Session::closed, this, &QDialog::reject);
    keepSize(*this, QSize(1500, 700));
    ask();
}

ReferralDialog::~ReferralDialog() = default;

// Chosen from the list or by typing any part of a name: of thousands nobody scrolls.
void ReferralDialog::fillPatients(std::optional<PatientId> patient) {
    std::vector<const Patient *> patients;
    for (const Patient &p : session_.agency()->snapshot().patients)
        if (isOnService(p.status))
            patients.push_back(&p);
    std::ranges::stable_sort(patients, {}, [](const Patient *p) {
        return std::pair(p->status != CareStatus::Referred, p->familyName);
    });
    if (!patients.empty() && patients.front()->status != CareStatus::Referred)
        patient_->addItem({}, kNobody); // an empty box stands for it: nobody is asked about yet
    for (const Patient *p : patients)
        patient_->addItem(p->status == CareStatus::Referred ? tr("%1, referred").arg(desk::personName(*p))
                                                            : desk::personName(*p),
                          qint64(p->id.value()));
    makeSearchable(*patient_);
    patient_->setMinimumContentsLength(kNameLength);
    if (patient)
        patient_->setCurrentIndex(std::max(0, patient_->findData(qint64(patient->value()))));
}

void ReferralDialog::ask() {
    if (job_)
        job_->stop();
    places_.setRows({});
    cautions_->clear();
    reason_->clear();
    name_->setEnabled(false);
    if (patient_->count() == 0) {
        summary_->setText(tr("Nobody is on service or referred."));
        return;
    }
    if (patient_->currentData().toLongLong() == kNobody) {
        ++generation_;
        job_ = nullptr; // stopped; it goes by itself
        summary_->setText(
            tr("No referral waits. To ask who can visit a patient once more, type a part of the "
               "name above and choose."));
        return;
    }
    asked_ = PatientId(patient_->currentData().toLongLong());
    summary_->setText(tr("Trying every nurse and day of this week and next…"));
    rounds::SolveOptions options;
    options.iterations = kIterations;
    const int generation = ++generation_;
    job_ = BackgroundJob::start(
        this,
        [agency = session_.agency(), stock = session_.stock(), patient = asked_,
         options](std::stop_token stop, const ProgressSink &progress) {
            return desk::whoCanTake(agency, patient, stock ? &stock->refills : nullptr, options, stop,
                                    progress);
        },
        [this, generation](Result<desk::ReferralAnswer> answer) {
            if (generation != generation_)
                return;
            job_ = nullptr;
            answered(std::move(answer));
        });
}

void ReferralDialog::answered(Result<desk::ReferralAnswer> answer) {
    if (!answer) {
        summary_->setText(desk::words(answer.error()));
        return;
    }
    const auto able = std::ranges::count_if(answer->places, &ReferralPlace::isPossible);
    QStringList lines;
    lines << (answer->kind == VisitKind::StartOfCare
                  ? tr("%1 of %2 nurses can make the first visit between %3 and %4.")
                  : tr("%1 of %2 nurses can make one more routine visit between %3 and %4."))
                 .arg(able)
                 .arg(answer->places.size())
                 .arg(desk::dayText(answer->days.from), desk::dayText(answer->days.to.plusDays(-1)));
    if (answer->deadline)
        lines << tr("The first visit is due by %1.").arg(desk::momentText(*answer->deadline));
    lines << answer->notes;
    summary_->setText(lines.join(QLatin1Char('\n')));
    answer_ = std::move(*answer);
    places_.setRows(answer_.places);
    table_->fitColumns(8);
    table_->selectSourceRow(0);
    showChoice();
}

void ReferralDialog::showCautions() {
    const int row = table_->currentSourceRow();
    if (row < 0 || row >= places_.rowCount()) {
        cautions_->clear();
        return;
    }
    const ReferralPlace &place = places_.row(row);
    cautions_->setText(place.note.isEmpty() ? tr("%1: nothing to know beside the figures.").arg(place.name)
                                            : tr("%1: %2").arg(place.name, place.note));
    Look::setInk(cautions_, place.note.isEmpty() ? Role::FaintInk : Role::Ink);
}

void ReferralDialog::showChoice() {
    showCautions();
    reason_->clear();
    const int row = table_->currentSourceRow();
    const bool isAble = row >= 0 && row < places_.rowCount() && places_.row(row).isPossible();
    name_->setEnabled(isAble && !session_.isReadOnly());
    if (!isAble)
        return;
    const auto backup = desk::backupFor(answer_, places_.row(row).nurse);
    const Nurse *nurse = backup ? session_.agency()->index().nurse(*backup) : nullptr;
    reason_->setPlainText(
        desk::assignmentReason(places_.row(row), nurse ? desk::personName(*nurse) : QString(), answer_));
    name_->setText(
        nurse ? tr("Name %1 as main nurse, %2 as backup").arg(places_.row(row).name, desk::personName(*nurse))
              : tr("Name %1 as main nurse").arg(places_.row(row).name));
}

void ReferralDialog::nameNurse() {
    const int row = table_->currentSourceRow();
    const Patient *patient = session_.agency()->index().patient(asked_);
    if (row < 0 || !patient || !places_.row(row).isPossible())
        return;
    Patient changed = *patient;
    changed.primaryNurse = places_.row(row).nurse;
    changed.backupNurse = desk::backupFor(answer_, places_.row(row).nurse);
    changed.assignmentReason = reason_->toPlainText().trimmed().toStdString();
    if (changed.assignmentReason.empty()) { // the choice is to be understood by who comes after
        Ask::problem(this, Problem{ProblemCode::Missing, "assignment_reason", {}});
        return;
    }
    const ReferralPlace main = places_.row(row);
    if (!session_.writeOrTell(this, tr("Named the nurses of %1").arg(desk::personName(*patient)),
                              [&](desk::Desk &desk) { return desk.save(changed); }))
        return;
    offerFirstVisit(main);
    accept();
}

// Named is not yet visited: what is still open is said, and may be placed at once where the week has a plan.
void ReferralDialog::offerFirstVisit(const ReferralPlace &main) {
    const desk::AgencyPtr agency = session_.agency();
    const Patient *patient = agency ? agency->index().patient(asked_) : nullptr;
    if (!patient || !desk::waitsForFirstVisit(*agency, *patient))
        return;
    const QString title = tr("The first visit is still open");
    const QString open =
        tr("%1 is main nurse of %2.").arg(main.name, desk::personName(*patient, agency->index())) +
        QLatin1Char('\n') + desk::firstVisitOpenText(answer_);
    desk::WeekPicturePtr placed;
    for (const desk::WeekPicturePtr &week : {session_.thisWeek(), session_.nextWeek()})
        if (week && !placed)
            placed = desk::withFirstVisit(*week, asked_, main.nurse, *main.cheapest);
    if (!placed) {
        Ask::tell(this, title,
                  open + QLatin1Char('\n') +
                      tr("Place it in the caseload calendar, best %1.").arg(slotText(main.cheapest)));
        return;
    }
    if (!Ask::confirm(this, title,
                      open + QLatin1Char('\n') +
                          tr("Placed now, it stands in the draft of the week of %1 with its day and nurse "
                             "held; publish the week in the caseload calendar.")
                              .arg(desk::dayText(placed->week.from)),
                      tr("Place it %1").arg(slotText(main.cheapest)), tr("Leave it open")))
        return;
    session_.writeOrTell(this, tr("Placed the first visit of %1").arg(desk::personName(*patient)),
                         [&](desk::Desk &desk) -> Result<std::vector<Plan>> {
                             const auto records = desk::planRecords(*placed);
                             if (!records)
                                 return records.error();
                             return desk.acceptPlans(*records, false);
                         });
}

} // namespace kitround::ui
