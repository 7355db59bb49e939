#include "ui/load/WatchTab.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/words/Words.h"
#include "ui/load/ListParts.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Printing.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QLineEdit>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

using desk::WatchRow;
using desk::WatchState;

enum Which { kOnTheList, kPutOff, kClosed }; // by place in the choice of lists

Role inkOfUrgency(CautionUrgency urgency) {
    switch (urgency) {
    case CautionUrgency::Emergency:
    case CautionUrgency::Now:
        return Role::Act;
    case CautionUrgency::Today:
        return Role::Watch;
    case CautionUrgency::Soon:
        return Role::Ink;
    }
    return Role::Ink;
}

// What is put off comes back on its day; otherwise the day of the next step.
std::optional<Date> dueOn(const WatchRow &row) {
    if (!row.entry)
        return std::nullopt;
    return row.state == WatchState::Snoozed ? row.entry->snoozedTo : row.entry->nextOn;
}

std::vector<RowsColumn<WatchRow>> watchColumns() {
    const auto day = [](const std::optional<Date> &date) {
        return QVariant(date ? qlonglong(date->dayNumber()) : 1'000'000);
    };
    return {
        {.head = QObject::tr("Urgency"),
         .text = [](const WatchRow &r) { return r.reasons.empty() ? QString() : desk::words(r.urgency); },
         .sortBy = [](const WatchRow &r) { return QVariant(static_cast<int>(r.urgency)); },
         .ink = [](const WatchRow &r) { return std::optional(inkOfUrgency(r.urgency)); }},
        {.head = QObject::tr("Patient"), .text = [](const WatchRow &r) { return r.who; }},
        {.head = QObject::tr("Why"),
         .text = [](const WatchRow &r) { return desk::reasonsText(r); },
         .tip = [](const WatchRow &r) { return desk::reasonsText(r); }},
        {.head = QObject::tr("Since"),
         .text = [](const WatchRow &r) { return r.since ? desk::dayText(*r.since) : QString(); },
         .sortBy = [day](const WatchRow &r) { return day(r.since); }},
        {.head = QObject::tr("State"),
         .text = [](const WatchRow &r) { return desk::words(r.state); },
         .ink =
             [](const WatchRow &r) {
                 const bool isOpen = r.state == WatchState::NoOwner || r.state == WatchState::New ||
                                     r.state == WatchState::Overdue;
                 return isOpen ? std::optional(Role::Watch) : std::nullopt;
             }},
        {.head = QObject::tr("Owner"), .text = [](const WatchRow &r) { return r.owner; }},
        {.head = QObject::tr("Next step"),
         .text =
             [](const WatchRow &r) {
                 return r.entry
                            ? QString::fromStdString(r.state == WatchState::Snoozed ? r.entry->snoozeReason
                                                                                    : r.entry->nextStep)
                            : QString();
             }},
        {.head = QObject::tr("By"),
         .text =
             [](const WatchRow &r) {
                 const auto on = dueOn(r);
                 return on ? desk::dayText(*on) : QString();
             },
         .sortBy = [day](const WatchRow &r) { return day(dueOn(r)); }},
    };
}

// Users and nurses in one list: a user's number is positive, a nurse's negative.
std::vector<Choice> ownerChoices(const Snapshot &agency) {
    std::vector<Choice> choices{{QObject::tr("choose"), 0}};
    for (const User &user : agency.users)
        if (user.isActive)
            choices.push_back({QString::fromStdString(user.name), qint64(user.id.value())});
    for (const Nurse &nurse : agency.nurses)
        if (nurse.isActive)
            choices.push_back({desk::personName(nurse), -qint64(nurse.id.value())});
    return choices;
}

// What the person who decides has read.
std::vector<std::string> subjectsShown(const WatchRow &row) {
    std::vector<std::string> subjects;
    for (const desk::WatchReason &reason : row.reasons)
        subjects.push_back(reason.subject);
    return subjects;
}

qint64 ownerValue(const WatchEntry &entry) {
    if (entry.ownerUser)
        return entry.ownerUser->value();
    return entry.ownerNurse ? -entry.ownerNurse->value() : 0;
}

} // namespace

WatchTab::WatchTab(Session &session, QWidget *parent)
    : QWidget(parent), session_(session), rows_(watchColumns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *top = new QHBoxLayout;
    auto *hint = new QLabel(
        tr("Most urgent first, then the longest. Give every line an owner and a next step; "
           "what is put off comes back on its day, or when something new is found. The list changes "
           "no order: it leads to the nurse and the prescriber."),
        this);
    hint->setWordWrap(true);
    which_ = new QComboBox(this);
    which_->setObjectName(QStringLiteral("watchWhich"));
    which_->setAccessibleName(tr("Show"));
    which_->addItems({tr("On the list"), tr("Put off"), tr("Closed")});
    top->addWidget(hint, 1);
    top->addWidget(which_, 0, Qt::AlignTop);
    layout->addLayout(top);
    table_ = new DenseTable(QStringLiteral("watchTable"), tr("Watch list"), this);
    table_->setModel(new RowsProxy(&rows_, this));
    layout->addWidget(table_, 1);
    why_ = new QLabel(this);
    why_->setObjectName(QStringLiteral("watchWhy"));
    why_->setWordWrap(true);
    layout->addWidget(why_);
    makeButtons(layout);
    connect(which_, &QComboBox::currentIndexChanged, this, &WatchTab::showOtherList);
    connect(table_, &DenseTable::currentRowChanged, this, &WatchTab::choose);
    connect(table_, &DenseTable::opened, this, &WatchTab::decide);
    showChosen();
}

void WatchTab::makeButtons(QVBoxLayout *layout) {
    auto *row = new QHBoxLayout;
    layout->addLayout(row);
    addButton(*row, "watchPrint", tr("Print the list…"), this, &WatchTab::print);
    row->addStretch(1);
    open_ = addButton(*row, "watchOpen", tr("Open the record"), this, [this] {
        if (const WatchRow *r = current())
            Q_EMIT opened(r->patient.value());
    });
    close_ = addButton(*row, "watchClose", tr("Close with the outcome…"), this, &WatchTab::closeWatch);
    decide_ = addButton(*row, "watchDecide", tr("Owner and next step…"), this, &WatchTab::decide);
}

int WatchTab::show(const desk::AgencyPtr &agency) {
    if (agency != shown_) {
        shown_ = agency;
        list_ = desk::watchList(*agency);
        showRows();
    }
    return static_cast<int>(list_.rows.size());
}

void WatchTab::clear() {
    shown_.reset();
    list_ = {};
    chosen_.reset();
    showRows();
}

void WatchTab::takeFocus() {
    table_->setFocus(Qt::OtherFocusReason);
}

bool WatchTab::isEmpty() const {
    return list_.rows.empty() && list_.snoozed.empty() && list_.closed.empty();
}

const std::vector<WatchRow> &WatchTab::listShown() const {
    switch (which_->currentIndex()) {
    case kPutOff:
        return list_.snoozed;
    case kClosed:
        return list_.closed;
    default:
        return list_.rows;
    }
}

void WatchTab::showOtherList() {
    if (rowOfChosen() < 0)
        chosen_.reset();
    showRows();
}

// A choice that has left the list is not handed on to whoever stands in its place now.
void WatchTab::showRows() {
    rows_.setRows(listShown());
    table_->fitColumns(2);
    table_->selectSourceRow(chosen_ ? rowOfChosen() : 0);
    showChosen();
}

int WatchTab::rowOfChosen() const {
    if (!chosen_)
        return -1;
    const std::vector<WatchRow> &rows = listShown();
    const auto isSameEntry = [&](const WatchRow &row) {
        return chosen_->entry && row.entry && row.entry->id == *chosen_->entry;
    };
    auto found = std::ranges::find_if(rows, isSameEntry);
    if (found == rows.end())
        found = std::ranges::find(rows, chosen_->patient, &WatchRow::patient);
    return found == rows.end() ? -1 : static_cast<int>(found - rows.begin());
}

void WatchTab::choose(int row) {
    if (row >= 0 && row < rows_.rowCount()) {
        const WatchRow &r = rows_.row(row);
        chosen_ = Chosen{r.patient, r.entry ? std::optional(r.entry->id) : std::nullopt, r.who};
    }
    showChosen();
}

const WatchRow *WatchTab::current() const {
    const int row = table_->currentSourceRow();
    return row >= 0 && row < rows_.rowCount() ? &rows_.row(row) : nullptr;
}

QString WatchTab::textWithoutRow() const {
    if (rows_.rowCount() > 0)
        return chosen_ ? tr("%1 is not on this list any more. Choose a line.").arg(chosen_->who) : QString();
    switch (which_->currentIndex()) {
    case kPutOff:
        return tr("Nothing is put off.");
    case kClosed:
        return tr("No watch has been closed yet.");
    default:
        return tr("Nobody is on the list: no sign, no change, no silence that asks for it.");
    }
}

void WatchTab::showChosen() {
    const WatchRow *row = current();
    const bool mayWrite = row && row->state != WatchState::Closed && !session_.isReadOnly();
    decide_->setEnabled(mayWrite);
    close_->setEnabled(mayWrite && row->entry);
    open_->setEnabled(row != nullptr);
    why_->setText(row ? QStringLiteral("%1: %2").arg(row->who, desk::reasonsText(*row)) : textWithoutRow());
}

void WatchTab::decide() {
    const WatchRow *row = current();
    if (!row || row->state == WatchState::Closed || session_.isReadOnly())
        return;
    WatchEntry entry = row->entry.value_or(WatchEntry{});
    entry.patient = row->patient;
    entry.known = subjectsShown(*row);
    const desk::AgencyPtr agency = session_.agency(); // kept: a reload may come while the form is open
    RecordForm form(tr("Watch: %1").arg(row->who), this);
    form.addNote(desk::reasonsText(*row));
    form.addChoice("owner", tr("Who has it"), ownerChoices(agency->snapshot()), ownerValue(entry));
    form.addText("next_step", tr("Next step"), entry.nextStep)
        ->setPlaceholderText(tr("for example: nurse calls the home, ask the prescriber, case conference"));
    form.addDate("next_on", tr("By"), entry.nextOn, session_.today());
    form.addHeading(tr("Put off"));
    form.addNote(
        tr("Only where nothing urgent stands. It comes back on its day, or when something new is found."));
    form.addDate("snoozed_to_on", tr("Show again on"),
                 row->state == WatchState::Snoozed ? entry.snoozedTo : std::nullopt, session_.today());
    form.addText("snooze_reason", tr("Why it can wait"),
                 row->state == WatchState::Snoozed ? entry.snoozeReason : std::string());
    form.setSaveText(tr("Keep"));
    form.require({"owner", "next_step", "next_on"});
    form.onSave(
        [&] {
            WatchEntry record = entry;
            const qint64 owner = form.choiceOf("owner");
            record.ownerUser = owner > 0 ? std::optional(UserId(owner)) : std::nullopt;
            record.ownerNurse = owner < 0 ? std::optional(NurseId(-owner)) : std::nullopt;
            record.nextStep = form.textOf("next_step");
            record.nextOn = form.dateOf("next_on");
            record.snoozedTo = form.dateOf("snoozed_to_on");
            record.snoozeReason = form.textOf("snooze_reason");
            return record;
        },
        [&](const WatchEntry &record) {
            return session_.write(tr("Took up the watch"), [&](desk::Desk &d) { return d.save(record); });
        });
    form.exec();
}

void WatchTab::closeWatch() {
    const WatchRow *row = current();
    if (!row || !row->entry)
        return;
    WatchEntry entry = *row->entry; // the rows may be filled anew while the question is open
    entry.known = subjectsShown(*row);
    const auto outcome = Ask::line(this, tr("Close the watch of %1").arg(row->who),
                                   tr("What came of it: who was told, what was decided:"));
    if (!outcome)
        return;
    entry.outcome = outcome->trimmed().toStdString();
    entry.closedAt = session_.now();
    session_.writeOrTell(this, tr("Closed a watch"), [&](desk::Desk &d) { return d.save(entry); });
}

void WatchTab::print() {
    if (session_.agency())
        offerPaper(this, session_, desk::watchPaper(*session_.agency()));
}

} // namespace kitround::ui
