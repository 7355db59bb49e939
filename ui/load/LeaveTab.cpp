#include "ui/load/LeaveTab.h"

#include "core/desk/views/LeavePlan.h"
#include "core/desk/words/Words.h"
#include "ui/load/LeaveDialog.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

std::vector<RowsColumn<LeaveRow>> columns() {
    const auto day = [](Date TimeOff::*which) {
        return [which](const LeaveRow &r) { return QVariant(qlonglong((r.off.*which).dayNumber())); };
    };
    return {
        {.head = QObject::tr("Nurse"), .text = [](const LeaveRow &r) { return r.who; }},
        {.head = QObject::tr("Status"),
         .text = [](const LeaveRow &r) { return desk::words(r.off.status); },
         .ink =
             [](const LeaveRow &r) {
                 return r.off.status == LeaveStatus::Requested ? std::optional(Role::Watch) : std::nullopt;
             }},
        {.head = QObject::tr("Kind"), .text = [](const LeaveRow &r) { return desk::words(r.off.kind); }},
        {.head = QObject::tr("First day off"),
         .text = [](const LeaveRow &r) { return desk::dayText(r.off.from); },
         .sortBy = day(&TimeOff::from)},
        {.head = QObject::tr("First day back"),
         .text = [](const LeaveRow &r) { return desk::dayText(r.off.to); },
         .sortBy = day(&TimeOff::to)},
        {.head = QObject::tr("Asked on"),
         .text = [](const LeaveRow &r) { return r.off.askedOn ? desk::dayText(*r.off.askedOn) : QString(); },
         .sortBy =
             [](const LeaveRow &r) {
                 return QVariant(qlonglong(r.off.askedOn ? r.off.askedOn->dayNumber() : 0));
             }},
        {.head = QObject::tr("Decided by"), .text = [](const LeaveRow &r) { return r.decidedBy; }},
        {.head = QObject::tr("Note"),
         .text =
             [](const LeaveRow &r) {
                 const QString note = QString::fromStdString(r.off.note).simplified();
                 const QString decision = QString::fromStdString(r.off.decisionNote).simplified();
                 return decision.isEmpty() ? note : QObject::tr("%1 Decision: %2").arg(note, decision);
             }},
    };
}

} // namespace

LeaveTab::LeaveTab(Session &session, QWidget *parent) : QWidget(parent), session_(session), rows_(columns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    table_ = new DenseTable(QStringLiteral("leaveTable"), tr("Leave"), this);
    table_->setModel(new RowsProxy(&rows_, this));
    layout->addWidget(table_, 1);
    nothing_ = new QLabel(tr("No leave is asked for or approved from today on. Enter a request with \"New "
                             "request…\"; you then see who covers before it is decided."),
                          this);
    nothing_->setObjectName(QStringLiteral("leaveNothing"));
    nothing_->setWordWrap(true);
    layout->addWidget(nothing_, 1, Qt::AlignTop);
    auto *row = new QHBoxLayout;
    row->addStretch(1);
    ask_ = new QPushButton(tr("New request…"), this);
    ask_->setObjectName(QStringLiteral("leaveAsk"));
    review_ = new QPushButton(tr("Cover, and decide…"), this);
    review_->setObjectName(QStringLiteral("leaveReview"));
    review_->setEnabled(false);
    for (QPushButton *button : {ask_, review_})
        row->addWidget(button);
    layout->addLayout(row);
    connect(ask_, &QPushButton::clicked, this, &LeaveTab::ask);
    connect(review_, &QPushButton::clicked, this, [this] { review(table_->currentSourceRow()); });
    connect(table_, &DenseTable::opened, this, &LeaveTab::review);
    connect(table_, &DenseTable::currentRowChanged, this, [this](int at) { review_->setEnabled(at >= 0); });
}

int LeaveTab::show(const desk::Agency &agency) {
    const auto users = session_.desk().users();
    const auto nameOf = [&](UserId id) {
        if (users)
            for (const User &user : *users)
                if (user.id == id)
                    return QString::fromStdString(user.name);
        return QString();
    };
    std::vector<LeaveRow> rows;
    for (const TimeOff &off : desk::leaveList(agency))
        rows.push_back({off, desk::personName(*agency.index().nurse(off.nurse)),
                        off.decidedBy ? nameOf(*off.decidedBy) : QString()});
    const auto waiting =
        std::ranges::count_if(rows, [](const LeaveRow &r) { return r.off.status == LeaveStatus::Requested; });
    nothing_->setVisible(rows.empty());
    table_->setVisible(!rows.empty());
    rows_.setRows(std::move(rows));
    table_->fitColumns(7);
    ask_->setEnabled(!session_.isReadOnly());
    if (rows_.rowCount() > 0)
        table_->selectSourceRow(0);
    review_->setEnabled(rows_.rowCount() > 0);
    return static_cast<int>(waiting);
}

void LeaveTab::ask() {
    if (!session_.agency())
        return;
    RecordForm form(tr("New request for leave"), this);
    form.addChoice("nurse_id", tr("Nurse"), nurseChoices(session_.agency()->snapshot(), {}), 0);
    form.addChoice("kind", tr("Kind"),
                   choicesOf({TimeOffKind::Leave, TimeOffKind::Training, TimeOffKind::Other},
                             [](TimeOffKind k) { return desk::words(k); }),
                   static_cast<qint64>(TimeOffKind::Leave));
    form.addDate("from", tr("First day off"), std::nullopt, session_.today());
    form.addDate("to", tr("First day back"), std::nullopt, session_.today());
    form.addLongText("note", tr("Note"), {});
    form.addNote(tr("A request takes nobody out of the plan; only approved leave does."));
    form.require({"nurse_id", "from", "to"});
    form.onSave(
        [&] {
            TimeOff record;
            record.nurse = NurseId(form.choiceOf("nurse_id"));
            record.kind = static_cast<TimeOffKind>(form.choiceOf("kind"));
            record.from = form.neededDateOf("from");
            record.to = form.neededDateOf("to");
            record.note = form.textOf("note");
            record.status = LeaveStatus::Requested;
            return record;
        },
        [&](const TimeOff &record) {
            return session_.write(tr("Entered a request for leave"),
                                  [&](desk::Desk &d) { return d.save(record); });
        });
    form.exec();
}

void LeaveTab::review(int row) {
    if (row < 0 || row >= rows_.rowCount() || !session_.agency())
        return;
    const TimeOffId id = rows_.row(row).off.id; // the rows may be filled anew meanwhile
    LeaveDialog(session_, id, this).exec();
}

} // namespace kitround::ui
