#include "ui/load/LeaveDialog.h"

#include "core/desk/words/Words.h"
#include "ui/load/PlainTable.h"
#include "ui/load/WhatIfDialog.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Look.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollBar>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

// Of a table of a row or two: none of them waits behind a scroll bar.
void showAllRows(DenseTable &table) {
    const int rows = table.model() ? table.model()->rowCount() : 0;
    table.setMinimumHeight(table.horizontalHeader()->sizeHint().height() +
                           rows * table.verticalHeader()->defaultSectionSize() +
                           table.horizontalScrollBar()->sizeHint().height() + 2 * table.frameWidth());
}

} // namespace

LeaveDialog::LeaveDialog(Session &session, TimeOffId request, QWidget *parent)
    : QDialog(parent), session_(session) {
    setObjectName(QStringLiteral("leaveDialog"));
    const auto plan = desk::leavePlan(*session.agency(), request);
    if (plan) {
        plan_ = *plan;
        build(plan_);
    } else {
        auto *layout = new QVBoxLayout(this);
        auto *text = new QLabel(desk::words(plan.error()), this);
        text->setWordWrap(true);
        layout->addWidget(text);
        auto *close = new QPushButton(tr("Close"), this);
        close->setObjectName(QStringLiteral("leaveClose"));
        layout->addWidget(close, 0, Qt::AlignRight);
        connect(close, &QPushButton::clicked, this, &QDialog::reject);
        setWindowTitle(tr("Leave"));
    }
    connect(&session_, &Session::closed, this, &QDialog::reject);
}

void LeaveDialog::build(const desk::LeavePlan &plan) {
    const desk::Agency &agency = *session_.agency();
    const TimeOff &off = plan.request;
    const Nurse &nurse = *agency.index().nurse(off.nurse);
    setWindowTitle(tr("Leave of %1").arg(desk::personName(nurse)));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    auto *facts = new QLabel(
        tr("%1, %2 to %3: %4 working days. Status: %5.")
            .arg(desk::personName(nurse), desk::dayText(off.from), desk::dayText(off.to.plusDays(-1)))
            .arg(plan.visitingDays)
            .arg(desk::words(off.status)),
        this);
    facts->setObjectName(QStringLiteral("leaveFacts"));
    facts->setFont(Look::strongFont());
    facts->setWordWrap(true);
    layout->addWidget(facts);
    auto *known = new QLabel(desk::leaveCountedText(plan), this);
    known->setObjectName(QStringLiteral("leaveCounted"));
    known->setWordWrap(true);
    layout->addWidget(known);
    auto *warning = new QLabel(desk::leaveVerdict(plan, agency, u'\n'), this);
    warning->setObjectName(QStringLiteral("leaveWarnings"));
    warning->setWordWrap(true);
    if (plan.isFlagged())
        Look::setInk(warning, Role::Act);
    layout->addWidget(warning);
    const QStringList moves = desk::leaveMoves(plan);
    auto *moving = new QLabel(moves.join(QLatin1Char('\n')), this);
    moving->setObjectName(QStringLiteral("leaveMoves"));
    moving->setWordWrap(true);
    moving->setVisible(!moves.isEmpty());
    layout->addWidget(moving);
    auto *cover = new PlainTable(QStringLiteral("leaveCover"), tr("Skill left in the area"), this);
    cover->setTable(desk::leaveCoverTable(plan, agency), 6, tr("The nurse holds no drain skill."));
    auto *visits = new PlainTable(QStringLiteral("leaveVisits"), tr("Owed visits in the leave"), this);
    visits->setTable(desk::leaveVisitTable(plan, agency), 4, desk::noLeaveVisitsText(plan));
    showAllRows(*cover->table());
    if (!plan.visits.empty()) // the room is the visits': they are many
        cover->table()->setMaximumHeight(cover->table()->minimumHeight());
    layout->addWidget(cover, plan.visits.empty() ? 1 : 0);
    layout->addWidget(visits, plan.visits.empty() ? 0 : 1);

    auto *planning = new QHBoxLayout;
    week_ = new QComboBox(this);
    week_->setObjectName(QStringLiteral("leaveWeek"));
    week_->setAccessibleName(tr("Week to plan"));
    for (const Date week : plan.weeks)
        week_->addItem(tr("Week of %1").arg(desk::dayText(week)), qint64(week.dayNumber()));
    auto *planIt = new QPushButton(tr("Plan that week without this nurse…"), this);
    planIt->setObjectName(QStringLiteral("leavePlan"));
    planIt->setEnabled(week_->count() > 0 && off.status == LeaveStatus::Requested);
    planning->addWidget(week_);
    planning->addWidget(planIt);
    planning->addStretch(1);
    layout->addLayout(planning);

    if (off.status == LeaveStatus::Requested && session_.userRole() != UserRole::NurseManager) {
        auto *whose = new QLabel(tr("A nurse manager decides leave; %1 works here as %2. To decide as one, "
                                    "choose the user in Settings › Agency and users › Work as this user.")
                                     .arg(session_.userName(), desk::words(session_.userRole())),
                                 this);
        whose->setObjectName(QStringLiteral("leaveWhose"));
        whose->setWordWrap(true);
        layout->addWidget(whose);
    }
    auto *deciding = new QHBoxLayout;
    note_ = new QLineEdit(this);
    note_->setObjectName(QStringLiteral("leaveNote"));
    note_->setAccessibleName(tr("Note to the decision"));
    note_->setPlaceholderText(tr("Note to the decision: who covers, or why not"));
    approve_ = new QPushButton(tr("Approve"), this);
    approve_->setObjectName(QStringLiteral("leaveApprove"));
    decline_ = new QPushButton(tr("Decline"), this);
    decline_->setObjectName(QStringLiteral("leaveDecline"));
    auto *close = new QPushButton(tr("Close"), this);
    close->setObjectName(QStringLiteral("leaveClose"));
    const bool isOpen = off.status == LeaveStatus::Requested && !session_.isReadOnly();
    note_->setVisible(isOpen);
    deciding->addWidget(note_, 1);
    if (!isOpen)
        deciding->addStretch(1);
    for (QPushButton *button : {approve_, decline_}) {
        button->setVisible(isOpen);
        deciding->addWidget(button);
    }
    deciding->addWidget(close);
    layout->addLayout(deciding);
    if (session_.userRole() != UserRole::NurseManager)
        for (QPushButton *button : {approve_, decline_}) {
            button->setEnabled(false);
            button->setToolTip(tr("A nurse manager decides leave. To decide as one, choose the user in "
                                  "Settings › Agency and users › Work as this user."));
        }
    connect(planIt, &QPushButton::clicked, this, &LeaveDialog::planWeek);
    connect(approve_, &QPushButton::clicked, this, [this] { decide(true); });
    connect(decline_, &QPushButton::clicked, this, [this] { decide(false); });
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
    resize(900, 680);
}

void LeaveDialog::planWeek() {
    const Date day = Date::fromDayNumber(week_->currentData().toLongLong());
    const DateRange week = desk::weekHolding(*session_.agency(), day);
    WhatIfDialog(session_, day, desk::leaveQuestion(plan_, week), this).exec();
}

void LeaveDialog::decide(bool approve) {
    if (approve && plan_.isFlagged() &&
        !Ask::confirm(this, tr("Approve all the same?"),
                      desk::leaveWarnings(plan_, *session_.agency()).join(QLatin1Char('\n')),
                      tr("Approve the leave"), tr("Go back")))
        return;
    const desk::AgencyPtr agency = session_.agency(); // before the leave: its visits are still placed
    const QString what = approve ? desk::approvedLeaveText(plan_, *agency) : tr("Declined leave");
    const bool leavesVisits = approve && desk::plannedInLeave(plan_, *agency) > 0;
    if (!session_.writeOrTell(this, what, [&](desk::Desk &desk) {
            return desk.decideLeave(plan_.request.id, approve, note_->text().trimmed().toStdString());
        }))
        return;
    if (leavesVisits)
        Ask::tell(this, windowTitle(), what);
    accept();
}

} // namespace kitround::ui
