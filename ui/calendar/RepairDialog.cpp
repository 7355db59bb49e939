#include "ui/calendar/RepairDialog.h"

#include "core/desk/views/HandMoves.h"
#include "core/desk/views/RepairLoad.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/DialogSize.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"
#include "ui/shared/WrappedLabel.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

using desk::PlanChange;

RowsColumn<PlanChange> text(const QString &head, QString PlanChange::*value) {
    return {.head = head,
            .text = [value](const PlanChange &c) { return c.*value; },
            .ink =
                [](const PlanChange &c) {
                    return c.isUnplaced || c.isGone ? std::optional(Role::Act)
                           : c.isSmall              ? std::optional(Role::FaintInk)
                                                    : std::nullopt;
                }};
}

// How many of a mended plan's changes are of which kind.
struct ChangeCounts {
    std::int64_t left = 0, placed = 0, moved = 0;
};
ChangeCounts countsOf(const std::vector<PlanChange> &changes) {
    ChangeCounts counts;
    for (const PlanChange &change : changes)
        ++(change.isUnplaced ? counts.left : change.isNew ? counts.placed : counts.moved);
    return counts;
}

QString summaryOf(const ChangeCounts &counts, bool hasGreyRows) {
    if (counts.left + counts.placed + counts.moved == 0)
        return QObject::tr("No visit has to move, and nobody has to be phoned.");
    QStringList what, lines;
    if (counts.left > 0)
        what << desk::counted(counts.left, QObject::tr("1 visit finds no place."),
                              QObject::tr("%1 visits find no place."));
    if (counts.moved > 0)
        what << desk::counted(counts.moved, QObject::tr("1 visit moves."), QObject::tr("%1 visits move."));
    if (counts.placed > 0)
        what << desk::counted(counts.placed, QObject::tr("1 visit that had no place gets one."),
                              QObject::tr("%1 visits that had no place get one."));
    lines << what.join(u' ')
          << (hasGreyRows
                  ? QObject::tr("Phone everybody on the list but the grey rows at its end, before the "
                                "plan is relied on.")
                  : QObject::tr("Phone everybody on the list before the plan is relied on."));
    if (counts.left > 0)
        lines << QObject::tr("A visit without a place needs a decision: another day with the prescriber's "
                             "consent, a phone check, or the on-call nurse.");
    return lines.join(u'\n');
}

} // namespace

RepairDialog::RepairDialog(Session &session, desk::WeekPicturePtr before, const QString &title,
                           const QString &acceptText, Work work, QWidget *parent)
    : QDialog(parent), session_(session), before_(std::move(before)),
      changes_({text(tr("Patient"), &PlanChange::who), text(tr("Phone"), &PlanChange::phone),
                text(tr("Visit"), &PlanChange::kind), text(tr("Was"), &PlanChange::was),
                text(tr("Now"), &PlanChange::now), text(tr("Note"), &PlanChange::note)}) {
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
                text(tr("Stands now"), &PlanChange::now), text(tr("Note"), &PlanChange::note)}) {
    setWindowTitle(tr("Changed since publishing"));
    build({});
    summary_->setText(desk::changesText(*week_, changes));
    if (const desk::WeekPicturePtr published = desk::publishedPicture(*week_))
        showCosts(*published, *week_);
    showChanges(std::move(changes));
}

void RepairDialog::showCosts(const desk::WeekPicture &before, const desk::WeekPicture &after) {
    costs_->setText(desk::costChangeText(before, after));
    costs_->setToolTip(desk::costDifferences(before, after).join(QLatin1Char('\n')));
}

void RepairDialog::build(const QString &acceptText) {
    setObjectName(QStringLiteral("repairDialog"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    head_ = new QLabel(this);
    head_->setObjectName(QStringLiteral("repairHead"));
    head_->setFont(Look::strongFont());
    head_->setWordWrap(true);
    head_->hide();
    layout->addWidget(head_);
    summary_ = new QLabel(this);
    summary_->setObjectName(QStringLiteral("repairSummary"));
    summary_->setWordWrap(true);
    layout->addWidget(summary_);
    overFull_ = new QLabel(this);
    overFull_->setObjectName(QStringLiteral("repairOverFull"));
    overFull_->setWordWrap(true);
    Look::setInk(overFull_, Role::Act);
    overFull_->hide();
    layout->addWidget(overFull_);
    table_ = new DenseTable(QStringLiteral("repairTable"), tr("Visits that move"), this);
    table_->setModel(new RowsProxy(&changes_, this));
    table_->keepReadable(0);
    table_->wrapTexts(); // a note that is cut is a call that goes wrong
    layout->addWidget(table_, 1);
    costs_ = new QLabel(this);
    costs_->setObjectName(QStringLiteral("repairCosts"));
    costs_->setWordWrap(true);
    layout->addWidget(costs_);
    auto *buttons = new QHBoxLayout;
    const auto button = [&](const QString &objectName, const QString &words) {
        auto *b = new QPushButton(words, this);
        b->setObjectName(objectName);
        b->setAutoDefault(false); // Enter in the list takes nothing
        buttons->addWidget(b);
        return b;
    };
    print_ = button(QStringLiteral("repairPrint"), tr("&Print the call list…"));
    print_->setEnabled(false);
    buttons->addStretch(1);
    if (!acceptText.isEmpty()) {
        accept_ = button(QStringLiteral("repairAccept"), acceptText);
        accept_->setEnabled(false);
        connect(accept_, &QPushButton::clicked, this, &QDialog::accept);
    }
    auto *leave = button(QStringLiteral("repairLeave"),
                         acceptText.isEmpty() ? tr("&Close") : tr("&Leave the plan as it is"));
    connect(leave, &QPushButton::clicked, this, &QDialog::reject);
    connect(print_, &QPushButton::clicked, this,
            [this] { offerPaper(this, session_, desk::changesPaper(*week_, changes_.rows())); });
    layout->addLayout(buttons);
    connect(&session_, &Session::closed, this, &QDialog::reject);
    keepSize(*this, {1280, 640});
}

void RepairDialog::setHead(const QString &text) {
    head_->setText(text);
    head_->setVisible(!text.isEmpty());
}

void RepairDialog::showChanges(std::vector<PlanChange> changes) {
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
    QStringList lines;
    lines << summaryOf(countsOf(repaired_->changes), !repaired_->shifted.empty());
    if (!repaired_->shifted.empty())
        lines << desk::asAgreedText(static_cast<std::int64_t>(repaired_->shifted.size()));
    lines << desk::undecidedLeave(*week_);
    QStringList full = repaired_->toMind;
    for (const desk::TakerLoad &taker : desk::loadsOfTakers(*before_, *week_))
        (taker.isOverFull ? full : lines) << taker.text;
    summary_->setText(lines.join(QLatin1Char('\n')));
    overFull_->setText(full.join(QLatin1Char('\n')));
    overFull_->setVisible(!full.isEmpty());
    std::vector<PlanChange> listed = repaired_->changes;
    listed.insert(listed.end(), repaired_->shifted.begin(), repaired_->shifted.end());
    showChanges(std::move(listed));
    accept_->setEnabled(!session_.isReadOnly());
    table_->setFocus(Qt::OtherFocusReason);
}

namespace {

constexpr qint64 kThatDayOnly = -1; // no day's number
constexpr int kPreviewLines = 4;

// From today on; of weeks that are over, all.
Date firstChoice(DateRange week, Date today) {
    return week.contains(today) ? today : week.from;
}

std::vector<Choice> dayChoices(DateRange week, Date today) {
    std::vector<Choice> days;
    for (Date day = firstChoice(week, today); day < week.to; ++day)
        days.push_back({desk::dayText(day), day.dayNumber()});
    return days;
}

// A nurse beside this one who works on that day too; else any other.
NurseId anotherOn(const desk::WeekPicture &week, NurseId nurse, Date on) {
    NurseId other;
    for (std::size_t d = 0; d < week.problem.duties.size(); ++d) {
        const auto duty = static_cast<std::int32_t>(d);
        const NurseId one = desk::nurseOfDuty(week, duty);
        if (one == nurse)
            continue;
        if (desk::dayOfDuty(week, duty) == on)
            return one;
        if (!other.isSet())
            other = one;
    }
    return other;
}

} // namespace

std::optional<desk::CallOut> askCallOut(QWidget *window, Session &session, const desk::WeekPicture &picture,
                                        NurseId preset, Date on) {
    const DateRange week = picture.week;
    const desk::AgencyPtr agency = session.agency();
    RecordForm form(QObject::tr("A nurse calls out"), window);
    form.addChoice("nurse_id", QObject::tr("Nurse"), nurseChoices(agency->snapshot(), {}), preset.value());
    form.addChoice("on_date", QObject::tr("Day"), dayChoices(week, session.today()),
                   std::max(on, firstChoice(week, session.today())).dayNumber());
    form.addTime("until", QObject::tr("Works until"), std::nullopt);
    form.addNote(QObject::tr("Leave the hour empty where the nurse cannot come at all."));
    std::vector<Choice> lastDays = dayChoices(week, session.today());
    lastDays.insert(lastDays.begin(), Choice{QObject::tr("that day only"), kThatDayOnly});
    form.addChoice("last_day", QObject::tr("Away until"), lastDays, kThatDayOnly);
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
            if (const qint64 last = form.choiceOf("last_day"); last != kThatDayOnly)
                read.lastDay = Date::fromDayNumber(last);
            return read;
        },
        [&](const desk::CallOut &read) -> std::optional<Problem> {
            if (desk::dutyOf(picture, read.nurse, read.on) < 0)
                form.refuse(QObject::tr("%1 does not work on %2. Choose another nurse or another day.")
                                .arg(desk::nurseNameIn(picture, read.nurse), desk::dayText(read.on)));
            else if (read.lastDay && *read.lastDay < read.on)
                form.refuse(QObject::tr("The last day away, %1, is before %2. Choose %2 or a later day.")
                                .arg(desk::dayText(*read.lastDay), desk::dayText(read.on)));
            else
                out = read;
            return std::nullopt;
        });
    return form.exec() == QDialog::Accepted ? out : std::nullopt;
}

std::optional<desk::MoveOffer> askSwap(QWidget *window, Session &session, const desk::WeekPicture &picture,
                                       NurseId preset, Date on) {
    struct DaySwap {
        NurseId one, other;
        Date onOne, onOther;
        bool isOfOneSide() const { return one == other && onOne == onOther; }
    };
    const desk::AgencyPtr agency = session.agency();
    const Date first = std::max(on, firstChoice(picture.week, session.today()));
    RecordForm form(QObject::tr("Swap two nurses' days"), window);
    const auto nurses = nurseChoices(agency->snapshot(), {});
    form.addChoice("nurse_id", QObject::tr("Nurse"), nurses, preset.value());
    form.addChoice("on_date", QObject::tr("Day"), dayChoices(picture.week, session.today()),
                   first.dayNumber());
    form.addChoice("second_nurse_id", QObject::tr("Changes with"), nurses,
                   anotherOn(picture, preset, first).value());
    form.addChoice("second_on_date", QObject::tr("Day"), dayChoices(picture.week, session.today()),
                   first.dayNumber());
    form.addNote(QObject::tr("Locked visits and visits of two nurses stay where they are."));
    auto *preview = new WrappedLabel({}, &form);
    preview->setAlignment(Qt::AlignLeft | Qt::AlignTop);
    preview->setMinimumHeight(kPreviewLines * preview->fontMetrics().lineSpacing()); // nothing jumps
    form.addWidget("swap_preview", QObject::tr("What it does"), preview);
    form.setSaveText(QObject::tr("S&wap"));
    const auto read = [&] {
        return DaySwap{NurseId(form.choiceOf("nurse_id")), NurseId(form.choiceOf("second_nurse_id")),
                       Date::fromDayNumber(form.choiceOf("on_date")),
                       Date::fromDayNumber(form.choiceOf("second_on_date"))};
    };
    const auto offerOf = [&](const DaySwap &swap) {
        return desk::offerSwap(picture, swap.one, swap.onOne, swap.other, swap.onOther);
    };
    const auto showPreview = [&] {
        const DaySwap swap = read();
        preview->setText(swap.isOfOneSide()
                             ? QObject::tr("Both sides are the same.")
                             : desk::swapLines(picture, offerOf(swap)).join(QLatin1Char('\n')));
    };
    for (QComboBox *choice : form.findChildren<QComboBox *>())
        QObject::connect(choice, &QComboBox::currentIndexChanged, preview, showPreview);
    showPreview();
    std::optional<desk::MoveOffer> taken;
    form.onSave(read, [&](const DaySwap &swap) -> std::optional<Problem> {
        if (swap.isOfOneSide()) {
            form.refuse(QObject::tr("Both sides are the same nurse on the same day. Choose another nurse "
                                    "or another day for one of them."));
            return std::nullopt;
        }
        desk::MoveOffer offer = offerOf(swap);
        if (offer.isAllowed())
            taken = std::move(offer);
        else
            form.refuse(QObject::tr("Not swapped: %1").arg(offer.summary));
        return std::nullopt;
    });
    return form.exec() == QDialog::Accepted ? taken : std::nullopt;
}

} // namespace kitround::ui
