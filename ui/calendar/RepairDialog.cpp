#include "ui/calendar/RepairDialog.h"

#include "core/desk/views/VisitCards.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

using desk::PlanChange;

RowsColumn<PlanChange> text(const QString &head, QString PlanChange::*value) {
    return {
        .head = head,
        .text = [value](const PlanChange &c) { return c.*value; },
        .ink = [](const PlanChange &c) { return c.isUnplaced ? std::optional(Role::Act) : std::nullopt; }};
}

} // namespace

RepairDialog::RepairDialog(Session &session, desk::WeekPicturePtr before, const QString &title,
                           const QString &acceptText, Work work, QWidget *parent)
    : QDialog(parent), session_(session), before_(std::move(before)),
      changes_({text(tr("Patient"), &PlanChange::who), text(tr("Phone"), &PlanChange::phone),
                text(tr("Visit"), &PlanChange::kind), text(tr("Was"), &PlanChange::was),
                text(tr("Now"), &PlanChange::now)}) {
    setWindowTitle(title);
    build(acceptText);
    summary_->setText(tr("Working out what has to move…"));
    BackgroundJob::start(
        this,
        [work = std::move(work)](std::stop_token stop, const ProgressSink &) {
            return work(std::move(stop));
        },
        [this](Result<desk::Repaired> result) { worked(std::move(result)); });
}

RepairDialog::RepairDialog(Session &session, desk::WeekPicturePtr week, std::vector<PlanChange> changes,
                           QWidget *parent)
    : QDialog(parent), session_(session), week_(std::move(week)),
      changes_({text(tr("Patient"), &PlanChange::who), text(tr("Phone"), &PlanChange::phone),
                text(tr("Visit"), &PlanChange::kind), text(tr("Was told"), &PlanChange::was),
                text(tr("Stands now"), &PlanChange::now)}) {
    setWindowTitle(tr("Changed since publishing"));
    build({});
    summary_->setText(changes.empty() ? tr("Every visit stands as it was published.")
                                      : desk::counted(static_cast<std::int64_t>(changes.size()),
                                                      tr("1 visit stands elsewhere than was published."),
                                                      tr("%1 visits stand elsewhere than was published.")));
    if (const desk::WeekPicturePtr published = desk::publishedPicture(*week_))
        showCosts(*published, *week_);
    show(std::move(changes));
}

void RepairDialog::showCosts(const desk::WeekPicture &before, const desk::WeekPicture &after) {
    const QStringList lines = desk::costDifferences(before, after);
    costs_->setText(lines.isEmpty() ? tr("The plan costs what it did.")
                                    : tr("Weighted minutes, before and after:") + QLatin1Char('\n') +
                                          lines.join(QLatin1Char('\n')));
}

void RepairDialog::build(const QString &acceptText) {
    setObjectName(QStringLiteral("repairDialog"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    summary_ = new QLabel(this);
    summary_->setObjectName(QStringLiteral("repairSummary"));
    summary_->setWordWrap(true);
    layout->addWidget(summary_);
    table_ = new DenseTable(QStringLiteral("repairTable"), tr("Visits that move"), this);
    table_->setModel(new RowsProxy(&changes_, this));
    layout->addWidget(table_, 1);
    costs_ = new QLabel(this);
    costs_->setObjectName(QStringLiteral("repairCosts"));
    costs_->setWordWrap(true);
    layout->addWidget(costs_);
    auto *buttons = new QHBoxLayout;
    const auto button = [&](const QString &objectName, const QString &words) {
        auto *b = new QPushButton(words, this);
        b->setObjectName(objectName);
        buttons->addWidget(b);
        return b;
    };
    print_ = button(QStringLiteral("repairPrint"), tr("Print the call list…"));
    print_->setEnabled(false);
    buttons->addStretch(1);
    if (!acceptText.isEmpty()) {
        accept_ = button(QStringLiteral("repairAccept"), acceptText);
        accept_->setEnabled(false);
        connect(accept_, &QPushButton::clicked, this, &QDialog::accept);
    }
    auto *leave = button(QStringLiteral("repairLeave"),
                         acceptText.isEmpty() ? tr("Close") : tr("Leave the plan as it is"));
    connect(leave, &QPushButton::clicked, this, &QDialog::reject);
    connect(print_, &QPushButton::clicked, this,
            [this] { offerPaper(this, session_, desk::changesPaper(*week_, changes_.rows())); });
    layout->addLayout(buttons);
    connect(&session_, &Session::closed, this, &QDialog::reject);
    resize(900, 480);
}

void RepairDialog::show(std::vector<PlanChange> changes) {
    print_->setEnabled(!changes.empty());
    changes_.setRows(std::move(changes));
    table_->fitColumns(4);
    table_->selectSourceRow(0);
}

void RepairDialog::worked(Result<desk::Repaired> result) {
    if (!result) {
        Ask::problem(this, result.error());
        reject();
        return;
    }
    repaired_ = std::move(*result);
    showCosts(*before_, *repaired_->after);
    week_ = repaired_->after;
    const auto left = std::ranges::count(repaired_->changes, true, &PlanChange::isUnplaced);
    const auto moved = static_cast<qsizetype>(repaired_->changes.size()) - left;
    QStringList lines;
    lines << desk::counted(moved, tr("1 visit moves;"), tr("%1 visits move;")) + u' ' +
                 desk::counted(left, tr("1 finds no place."), tr("%1 find no place."));
    lines << tr("Phone everybody on the list before the plan is relied on. A visit without a place needs a "
                "decision: another day with the prescriber's consent, a phone check, or the on-call nurse.");
    summary_->setText(lines.join(QLatin1Char('\n')));
    show(repaired_->changes);
    accept_->setEnabled(!session_.isReadOnly());
    accept_->setFocus(Qt::OtherFocusReason);
}

namespace {

std::vector<Choice> dayChoices(DateRange week) {
    std::vector<Choice> days;
    for (Date day = week.from; day < week.to; ++day)
        days.push_back({desk::dayText(day), day.dayNumber()});
    return days;
}

} // namespace

std::optional<desk::CallOut> askCallOut(QWidget *window, Session &session, const desk::WeekPicture &picture,
                                        NurseId preset, Date on) {
    const DateRange week = picture.week;
    const desk::AgencyPtr agency = session.agency();
    RecordForm form(QObject::tr("A nurse calls out"), window);
    form.addChoice("nurse_id", QObject::tr("Nurse"), nurseChoices(agency->snapshot(), {}), preset.value());
    form.addChoice("on_date", QObject::tr("Day"), dayChoices(week), on.dayNumber());
    form.addTime("until", QObject::tr("Works until"), std::nullopt);
    form.addNote(QObject::tr("Leave the hour empty where the nurse cannot come at all."));
    form.addChoice(
        "kind", QObject::tr("Reason"),
        choicesOf({TimeOffKind::Sick, TimeOffKind::Leave, TimeOffKind::Training, TimeOffKind::Other},
                  [](TimeOffKind kind) { return desk::words(kind); }),
        static_cast<qint64>(TimeOffKind::Sick));
    form.addNote(QObject::tr("Leave is a nurse manager's to agree to."));
    form.setSaveText(QObject::tr("Show what moves…"));
    std::optional<desk::CallOut> out;
    form.onSave(
        [&] {
            desk::CallOut read;
            read.nurse = NurseId(form.choiceOf("nurse_id"));
            read.on = Date::fromDayNumber(form.choiceOf("on_date"));
            read.from = form.timeOf("until");
            read.kind = static_cast<TimeOffKind>(form.choiceOf("kind"));
            return read;
        },
        [&](const desk::CallOut &read) -> std::optional<Problem> {
            if (desk::dutyOf(picture, read.nurse, read.on) < 0)
                return Problem{ProblemCode::Conflict, "on_date", {"no_duty"}};
            out = read;
            return std::nullopt;
        });
    return form.exec() == QDialog::Accepted ? out : std::nullopt;
}

std::optional<DaySwap> askSwap(QWidget *window, Session &session, DateRange week, NurseId preset, Date on) {
    const desk::AgencyPtr agency = session.agency();
    RecordForm form(QObject::tr("Swap two nurses' days"), window);
    const auto nurses = nurseChoices(agency->snapshot(), {});
    form.addChoice("nurse_id", QObject::tr("Nurse"), nurses, preset.value());
    form.addChoice("on_date", QObject::tr("Day"), dayChoices(week), on.dayNumber());
    form.addChoice("second_nurse_id", QObject::tr("Changes with"), nurses, preset.value());
    form.addChoice("second_on_date", QObject::tr("Day"), dayChoices(week), on.dayNumber());
    form.addNote(QObject::tr("Locked visits and visits of two nurses stay where they are."));
    form.setSaveText(QObject::tr("Swap"));
    DaySwap swap;
    form.onSave(
        [&] {
            return DaySwap{NurseId(form.choiceOf("nurse_id")), NurseId(form.choiceOf("second_nurse_id")),
                           Date::fromDayNumber(form.choiceOf("on_date")),
                           Date::fromDayNumber(form.choiceOf("second_on_date"))};
        },
        [&](const DaySwap &read) -> std::optional<Problem> {
            if (read.one == read.other && read.onOne == read.onOther)
                return Problem{
                    ProblemCode::Duplicate, "second_nurse_id", {desk::dayText(read.onOne).toStdString()}};
            swap = read;
            return std::nullopt;
        });
    return form.exec() == QDialog::Accepted ? std::optional(swap) : std::nullopt;
}

} // namespace kitround::ui
