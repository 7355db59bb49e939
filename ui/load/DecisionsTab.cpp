#include "ui/load/DecisionsTab.h"

#include "core/desk/words/Words.h"
#include "ui/load/ListParts.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QPlainTextEdit>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

using desk::DecisionRow;

constexpr qint64 kNoDecision = -1; // what it is has to be chosen

std::vector<RowsColumn<DecisionRow>> decisionColumns() {
    const auto text = [](std::string DecisionNote::*which) {
        return [which](const DecisionRow &r) { return QString::fromStdString(r.note.*which); };
    };
    const auto line = [](std::string DecisionNote::*which) {
        return [which](const DecisionRow &r) { return QString::fromStdString(r.note.*which).simplified(); };
    };
    return {
        {.head = QObject::tr("State"),
         .text = [](const DecisionRow &r) { return desk::stateText(r); },
         .sortBy =
             [](const DecisionRow &r) { return QVariant(r.note.closedOn ? -1 : qlonglong(r.weeksOpen)); },
         .ink =
             [](const DecisionRow &r) {
                 return r.weeksOpen > 0 ? std::optional(Role::Watch) : std::nullopt;
             }},
        {.head = QObject::tr("Week of"),
         .text = [](const DecisionRow &r) { return desk::dayText(r.note.weekStart); },
         .sortBy = [](const DecisionRow &r) { return QVariant(qlonglong(r.note.weekStart.dayNumber())); }},
        {.head = QObject::tr("What"), .text = [](const DecisionRow &r) { return desk::words(r.note.kind); }},
        {.head = QObject::tr("Decided"), .text = line(&DecisionNote::text), .tip = text(&DecisionNote::text)},
        {.head = QObject::tr("By"), .text = [](const DecisionRow &r) { return r.who; }},
        {.head = QObject::tr("Noted"),
         .text = [](const DecisionRow &r) { return desk::momentText(r.note.at); },
         .sortBy = [](const DecisionRow &r) { return QVariant(QString::fromStdString(toIso(r.note.at))); }},
        {.head = QObject::tr("Outcome"),
         .text = line(&DecisionNote::outcome),
         .tip = text(&DecisionNote::outcome)},
    };
}

QString chosenText(const DecisionRow &row) {
    const QString decided = QString::fromStdString(row.note.text).trimmed();
    return row.note.closedOn ? QObject::tr("%1\nClosed on %2: %3")
                                   .arg(decided, desk::dayText(*row.note.closedOn),
                                        QString::fromStdString(row.note.outcome).trimmed())
                             : decided;
}

} // namespace

DecisionsTab::DecisionsTab(Session &session, QWidget *parent)
    : QWidget(parent), session_(session), rows_(decisionColumns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *top = new QHBoxLayout;
    auto *hint =
        new QLabel(tr("What the review decided stays here, and on its paper, until somebody says what "
                      "came of it."),
                   this);
    hint->setWordWrap(true);
    which_ = new QComboBox(this);
    which_->setObjectName(QStringLiteral("decisionWhich"));
    which_->setAccessibleName(tr("Show"));
    which_->addItems({tr("Open, and this week's"), tr("All of them")});
    top->addWidget(hint, 1);
    top->addWidget(which_, 0, Qt::AlignTop);
    layout->addLayout(top);
    table_ = new DenseTable(QStringLiteral("decisionTable"), tr("Decisions of the review"), this);
    table_->setModel(new RowsProxy(&rows_, this));
    layout->addWidget(table_, 1);
    nothing_ = addWrapped(
        *layout, "decisionNothing",
        tr("No decision is open, and none was noted for this week. Where the review ends in something to do, "
           "for example patients shared out anew, intake frozen for a while, per-diem days or a post to "
           "fill, "
           "press \"Note a decision…\": it is kept with its week, and closed with what came of it."),
        1);
    facts_ = addWrapped(*layout, "decisionFacts");
    auto *row = new QHBoxLayout;
    layout->addLayout(row);
    buildButtons(*row);
    connect(which_, &QComboBox::currentIndexChanged, this, &DecisionsTab::fill);
    connect(table_, &DenseTable::opened, this, &DecisionsTab::change);
    connect(table_, &DenseTable::currentRowChanged, this, &DecisionsTab::showChosen);
    fill();
}

void DecisionsTab::buildButtons(QHBoxLayout &row) {
    csv_ = addButton(row, "decisionCsv", tr("Save as CSV…"), this,
                     [this] { saveTable(this, session_, desk::decisionTable(rows_.rows())); });
    row.addStretch(1);
    add_ = addButton(row, "decisionAdd", tr("Note a decision…"), this, &DecisionsTab::add);
    change_ =
        addButton(row, "decisionChange", tr("Change…"), this, [this] { change(table_->currentSourceRow()); });
    close_ =
        addButton(row, "decisionClose", tr("Close with the outcome…"), this, &DecisionsTab::closeOrReopen);
}

int DecisionsTab::show(const desk::AgencyPtr &agency, DateRange week) {
    shown_ = agency;
    week_ = week;
    fill();
    return agency ? desk::openDecisions(*agency) : 0;
}

void DecisionsTab::clear() {
    saved_.reset();
    show(nullptr, {});
}

bool DecisionsTab::isEmpty() const {
    return !shown_ || shown_->snapshot().decisionNotes.empty();
}

void DecisionsTab::fill() {
    const DecisionRow *before = current();
    const DecisionNoteId chosen = saved_ ? *saved_ : before ? before->note.id : DecisionNoteId();
    const bool isAll = which_->currentIndex() == 1;
    rows_.setRows(!shown_ ? std::vector<DecisionRow>()
                  : isAll ? desk::allDecisions(*shown_)
                          : desk::decisionsFor(*shown_, week_));
    const bool isEmpty = rows_.rowCount() == 0;
    nothing_->setVisible(isEmpty);
    table_->setVisible(!isEmpty);
    facts_->setVisible(!isEmpty);
    table_->fitColumns(3);
    choose(chosen);
    add_->setEnabled(shown_ && !session_.isReadOnly());
    csv_->setEnabled(!isEmpty);
    showChosen(table_->currentSourceRow());
}

void DecisionsTab::takeFocus() {
    if (rows_.rowCount() > 0)
        table_->setFocus(Qt::OtherFocusReason);
    else
        add_->setFocus(Qt::OtherFocusReason);
}

void DecisionsTab::choose(DecisionNoteId id) {
    const std::vector<DecisionRow> &rows = rows_.rows();
    const auto found = std::ranges::find_if(rows, [id](const DecisionRow &row) { return row.note.id == id; });
    if (saved_ && found != rows.end() && found->note.id == *saved_)
        saved_.reset();
    table_->selectSourceRow(found == rows.end() ? 0 : static_cast<int>(found - rows.begin()));
}

const DecisionRow *DecisionsTab::current() const {
    const int row = table_->currentSourceRow();
    return row >= 0 && row < rows_.rowCount() ? &rows_.row(row) : nullptr;
}

void DecisionsTab::showChosen(int row) {
    const bool isChosen = row >= 0 && row < rows_.rowCount();
    const bool mayWrite = isChosen && shown_ && !session_.isReadOnly();
    const bool isClosed = isChosen && rows_.row(row).note.closedOn;
    change_->setEnabled(mayWrite && !isClosed);
    close_->setEnabled(mayWrite);
    close_->setText(isClosed ? tr("Open again…") : tr("Close with the outcome…"));
    facts_->setText(isChosen ? chosenText(rows_.row(row)) : QString());
}

void DecisionsTab::add() {
    if (!session_.agency() || session_.isReadOnly())
        return;
    DecisionNote blank;
    blank.weekStart = week_.from;
    edit(blank);
}

void DecisionsTab::change(int row) {
    if (row < 0 || row >= rows_.rowCount() || session_.isReadOnly() || rows_.row(row).note.closedOn)
        return;
    const DecisionNote note = rows_.row(row).note; // the rows may be filled anew meanwhile
    edit(note);
}

void DecisionsTab::edit(const DecisionNote &before) {
    using enum DecisionKind;
    const bool isNew = !before.id.isSet();
    const QString week = desk::dayText(before.weekStart);
    RecordForm form(isNew ? tr("Note a decision, week of %1").arg(week)
                          : tr("Decision of the week of %1").arg(week),
                    this);
    form.addChoice("kind", tr("What"),
                   choicesOf({Rebalance, IntakeFrozen, PerDiem, Hire, Other},
                             [](DecisionKind kind) { return desk::words(kind); }),
                   isNew ? kNoDecision : static_cast<qint64>(before.kind));
    form.addLongText("text", tr("What was decided, and why"), before.text)
        ->setPlaceholderText(tr("for example: two patients in the north go to another nurse, with a joint "
                                "visit first"));
    form.addNote(
        tr("Kept with the week, your name and the moment. It is never thrown away: close it with what "
           "came of it."));
    form.require({"kind", "text"});
    std::optional<DecisionNoteId> kept;
    form.onSave(
        [&] {
            DecisionNote record = before;
            record.kind = static_cast<DecisionKind>(form.neededChoiceOf("kind"));
            record.text = form.textOf("text");
            return record;
        },
        [&](const DecisionNote &record) {
            return session_.write(isNew ? tr("Noted a decision") : tr("Changed a decision"),
                                  [&](desk::Desk &d) {
                                      Result<DecisionNote> saved = d.save(record);
                                      if (saved)
                                          kept = saved->id;
                                      return saved;
                                  });
        });
    form.exec();
    if (kept) {
        saved_ = kept; // it stands among the rows now, or a moment later
        fill();
    }
    takeFocus();
}

void DecisionsTab::closeOrReopen() {
    const DecisionRow *row = current();
    if (!row)
        return;
    DecisionNote note = row->note;
    if (!note.closedOn) {
        closeNote(note);
        return;
    }
    if (!Ask::confirm(
            this, tr("Open again"),
            tr("The decision is open again; its outcome stays written down until it is closed anew."),
            tr("Open it again"), tr("Leave it closed")))
        return;
    note.closedOn.reset();
    session_.writeOrTell(this, tr("Opened a decision again"), [&](desk::Desk &d) { return d.save(note); });
}

void DecisionsTab::closeNote(const DecisionNote &note) {
    RecordForm form(tr("Close the decision of the week of %1").arg(desk::dayText(note.weekStart)), this);
    form.addNote(
        QStringLiteral("%1: %2").arg(desk::words(note.kind), QString::fromStdString(note.text).trimmed()));
    form.addLongText("outcome", tr("What came of it"), note.outcome);
    form.addDate("closed_on", tr("Closed on"), session_.today(), session_.today());
    form.setSaveText(tr("Close it"));
    form.setLeaveText(tr("Leave it open"));
    form.require({"outcome", "closed_on"});
    form.onSave(
        [&] {
            DecisionNote record = note;
            record.outcome = form.textOf("outcome");
            record.closedOn = form.neededDateOf("closed_on");
            return record;
        },
        [&](const DecisionNote &record) {
            return session_.write(tr("Closed a decision"), [&](desk::Desk &d) { return d.save(record); });
        });
    form.exec();
}

} // namespace kitround::ui
