#include "ui/today/TodayPage.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/OrderAnswerForm.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"
#include "ui/today/HandOverDialog.h"
#include "ui/today/HolidayDialog.h"
#include "ui/today/PatientCallsDialog.h"
#include "ui/today/PhoneCallForm.h"
#include "ui/today/PlanToldForm.h"

#include <QAction>
#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

using desk::AttentionItem;
using desk::Harm;

Role inkOf(Harm harm) {
    switch (harm) {
    case Harm::Emergency:
        return Role::Act;
    case Harm::Today:
        return Role::Watch;
    case Harm::Soon:
        return Role::Ink;
    case Harm::Tidy:
        return Role::FaintInk;
    }
    return Role::Ink;
}

std::vector<RowsColumn<AttentionItem>> columns(const Session &session) {
    return {
        {.head = QObject::tr("When"),
         .text = [](const AttentionItem &i) { return desk::words(i.harm); },
         .sortBy = [](const AttentionItem &i) { return QVariant(static_cast<int>(i.harm)); },
         .ink = [](const AttentionItem &i) { return std::optional(inkOf(i.harm)); },
         .icon =
             [](const AttentionItem &i) {
                 return i.harm <= Harm::Today ? Look::icon(QStringLiteral("bell"), inkOf(i.harm)) : QIcon();
             }},
        {.head = QObject::tr("What"),
         .text = [](const AttentionItem &i) { return i.title; },
         .tip = [](const AttentionItem &i) { return i.detail; }},
        {.head = QObject::tr("Kind"), .text = [](const AttentionItem &i) { return desk::words(i.kind); }},
        {.head = QObject::tr("By"),
         .text = [&session](const AttentionItem &i) { return desk::dueWords(i, session.today()); },
         .sortBy =
             [](const AttentionItem &i) {
                 return QVariant(i.dueOn ? static_cast<qlonglong>(i.dueOn->dayNumber()) : 1000000);
             }},
    };
}

} // namespace

TodayPage::TodayPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("todayPage"), tr("Today"), parent), model_(columns(session)) {
    harm_ = new QComboBox(this);
    harm_->setObjectName(QStringLiteral("harmFilter"));
    harm_->setAccessibleName(tr("Show"));
    harm_->addItem(tr("Everything"), static_cast<int>(Harm::Tidy));
    harm_->addItem(tr("Today and emergencies"), static_cast<int>(Harm::Today));
    harm_->addItem(tr("Up to soon"), static_cast<int>(Harm::Soon));
    auto *logCall = new QPushButton(tr("Log a phone call…"), this);
    logCall->setObjectName(QStringLiteral("callLog"));
    head()->addWidget(logCall);
    connect(logCall, &QPushButton::clicked, this, [this] {
        if (this->session().agency() && !this->session().isReadOnly())
            logPhoneCall(this, this->session());
    });
    auto *handOver = new QPushButton(tr("Hand-over…"), this);
    handOver->setObjectName(QStringLiteral("handOverOpen"));
    head()->addWidget(handOver);
    connect(handOver, &QPushButton::clicked, this, &TodayPage::openHandOver);
    auto *holidays = new QPushButton(tr("Holiday plan…"), this);
    holidays->setObjectName(QStringLiteral("holidayOpen"));
    head()->addWidget(holidays);
    connect(holidays, &QPushButton::clicked, this, &TodayPage::openHolidays);
    head()->addStretch(1);
    head()->addWidget(harm_);
    connect(harm_, &QComboBox::currentIndexChanged, this, &TodayPage::filter);

    table_ = new DenseTable(QStringLiteral("attentionTable"), tr("What needs doing today"), this);
    table_->setModel(new RowsProxy(&model_, this));
    setBody(table_);
    makeSide();
    connect(table_, &DenseTable::currentRowChanged, this, &TodayPage::showDetail);
    connect(table_, &DenseTable::opened, this, &TodayPage::open);

    addPageAction(tr("&Print this list…"), QKeySequence::Print, this, [this] {
        offerPaper(this, this->session(), desk::attentionPaper(all_, *this->session().agency()));
    });
    addPageAction(tr("&Hand-over…"), QKeySequence(Qt::CTRL | Qt::Key_H), this, &TodayPage::openHandOver);
    addPageAction(tr("Patients &to phone…"), QKeySequence(Qt::CTRL | Qt::Key_T), this,
                  &TodayPage::openPatientCalls)
        ->setObjectName(QStringLiteral("actionPatientCalls"));
    addPageAction(tr("Holiday &plan…"), QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_H), this,
                  &TodayPage::openHolidays);
    addPageAction(
        tr("Print the hand-over &list…"), QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_P), this,
        [this] { offerPaper(this, this->session(), desk::handOverPaper(all_, *this->session().agency())); })
        ->setObjectName(QStringLiteral("actionHandOver"));

    connect(&session, &Session::agencyChanged, this, &TodayPage::show);
    connect(&session, &Session::computed, this, &TodayPage::show);
    connect(&session, &Session::userChanged, this, [this] {
        if (this->session().agency())
            show();
    });
    connect(&session, &Session::closed, this, [this] {
        all_.clear();
        model_.setRows({});
    });
}

void TodayPage::makeSide() {
    auto *side = new QWidget(this);
    auto *layout = new QVBoxLayout(side);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(Look::kInside);
    const auto label = [&](const QString &objectName) {
        auto *l = new QLabel(side);
        l->setObjectName(objectName);
        l->setWordWrap(true);
        l->setTextInteractionFlags(Qt::TextSelectableByMouse);
        layout->addWidget(l);
        return l;
    };
    title_ = label(QStringLiteral("attentionTitle"));
    title_->setFont(Look::strongFont());
    detail_ = label(QStringLiteral("attentionDetail"));
    due_ = label(QStringLiteral("attentionDue"));
    const auto button = [&](const QString &objectName, const QString &text) {
        auto *b = new QPushButton(text, side);
        b->setObjectName(objectName);
        layout->addWidget(b);
        return b;
    };
    callButton_ = button(QStringLiteral("attentionClose"), tr("Record the call and close…"));
    openButton_ = button(QStringLiteral("attentionOpen"), tr("Open the record"));
    homeButton_ = button(QStringLiteral("attentionHome"), tr("Show the home's stock"));
    layout->addStretch(1);
    setSide(side, 320);
    connect(openButton_, &QPushButton::clicked, this, [this] { open(table_->currentSourceRow()); });
    connect(callButton_, &QPushButton::clicked, this, [this] {
        const AttentionItem *item = current();
        if (item && item->order)
            recordOrderAnswer(this, this->session(), *item->order);
        else
            closeCall();
    });
    connect(homeButton_, &QPushButton::clicked, this, [this] {
        if (const auto *item = current(); item && item->patient)
            Q_EMIT showHome(item->patient->value());
    });
}

void TodayPage::takeFocus() {
    table_->setFocus(Qt::OtherFocusReason);
    if (table_->currentSourceRow() < 0 && model_.rowCount() > 0)
        table_->selectSourceRow(0);
}

void TodayPage::show() {
    const desk::AgencyPtr agency = session().agency();
    all_ = desk::attentionFor(session().userRole(),
                              desk::attention(*agency, session().stock().get(), session().nextWeek().get()),
                              *agency);
    int now = 0;
    for (const AttentionItem &item : all_)
        now += item.harm <= Harm::Today ? 1 : 0;
    setSubtitle(
        tr("%1. %2 to do today, %3 in all.").arg(desk::dayText(session().today())).arg(now).arg(all_.size()) +
        (session().userRole() == UserRole::SupplyClerk ? tr(" Supplies come first.") : QString()) +
        (session().stock() ? QString() : tr(" The stock forecast is being worked out.")));
    filter();
    if (all_.empty())
        showEmpty(
            agency->snapshot().patients.empty()
                ? tr("No patients yet. Begin under Patients: a referral, its catheter and the orders. What "
                     "needs doing then appears here by itself.")
                : tr("Nothing needs doing today."));
    else
        showEmpty({});
}

void TodayPage::filter() {
    const int most = harm_->currentData().toInt();
    std::vector<AttentionItem> shown;
    for (const AttentionItem &item : all_)
        if (static_cast<int>(item.harm) <= most)
            shown.push_back(item);
    const bool isFirst = model_.rowCount() == 0;
    const int row = table_->currentSourceRow();
    model_.setRows(std::move(shown));
    if (isFirst)
        table_->fitColumns(1);
    if (model_.rowCount() > 0)
        table_->selectSourceRow(std::clamp(row, 0, model_.rowCount() - 1));
    showDetail(table_->currentSourceRow());
}

const AttentionItem *TodayPage::current() const {
    const int row = table_->currentSourceRow();
    return row >= 0 && row < model_.rowCount() ? &model_.row(row) : nullptr;
}

void TodayPage::showDetail(int row) {
    showSide(row >= 0);
    const AttentionItem *item = current();
    if (!item)
        return;
    title_->setText(item->title);
    detail_->setText(item->detail);
    const QString due = desk::dueWords(*item, session().today());
    const bool isAhead = item->dueOn && *item->dueOn >= session().today();
    due_->setText(isAhead ? tr("By %1").arg(due) : due.left(1).toUpper() + due.mid(1));
    const bool mayClose = item->callItem || item->toStore || item->phoneCall || item->toTell || item->order;
    callButton_->setVisible(mayClose && !session().isReadOnly());
    callButton_->setText(item->toTell  ? tr("Record that the nurse was told…")
                         : item->order ? tr("Record the prescriber's answer…")
                                       : tr("Record the call and close…"));
    const bool isHandOver = item->kind == desk::AttentionKind::HandOverWaiting;
    const bool isCallList = item->kind == desk::AttentionKind::PatientsToPhone;
    const bool isIncident = item->kind == desk::AttentionKind::IncidentReport;
    openButton_->setVisible(item->patient || item->nurse || item->item || isHandOver || isCallList ||
                            isIncident);
    openButton_->setText(isHandOver                                        ? tr("Open the hand-over")
                         : isCallList                                      ? tr("Open the call list…")
                         : isIncident                                      ? tr("Open the incidents")
                         : item->kind == desk::AttentionKind::LeaveWaiting ? tr("Open the requests")
                         : item->kind == desk::AttentionKind::RefillCall   ? tr("Call the home…")
                                                                           : tr("Open the record"));
    homeButton_->setVisible(item->patient.has_value());
}

void TodayPage::openHandOver() {
    if (session().agency())
        HandOverDialog(session(), this).exec();
}

void TodayPage::openPatientCalls() {
    if (session().agency())
        PatientCallsDialog(session(), this).exec();
}

void TodayPage::openHolidays() {
    if (!session().agency())
        return;
    HolidayDialog dialog(session(), this);
    connect(&dialog, &HolidayDialog::showPatient, this, &TodayPage::showPatient);
    dialog.exec();
}

void TodayPage::open(int row) {
    if (row < 0 || row >= model_.rowCount())
        return;
    const AttentionItem &item = model_.row(row);
    if (item.kind == desk::AttentionKind::HandOverWaiting)
        openHandOver();
    else if (item.kind == desk::AttentionKind::PatientsToPhone)
        openPatientCalls();
    else if (item.kind == desk::AttentionKind::LeaveWaiting)
        Q_EMIT showLeave();
    else if (item.kind == desk::AttentionKind::IncidentReport)
        Q_EMIT showIncidents();
    else if (item.kind == desk::AttentionKind::RefillCall && item.patient)
        Q_EMIT callHome(item.patient->value());
    else if (item.patient)
        Q_EMIT showPatient(item.patient->value());
    else if (item.nurse)
        Q_EMIT showNurse(item.nurse->value());
    else if (item.item)
        Q_EMIT showItem(item.item->value());
}

Result<void> TodayPage::closePhoneCall(desk::Desk &desk, PhoneCallId id, const std::string &outcome) const {
    for (PhoneCall call : session().agency()->snapshot().phoneCalls)
        if (call.id == id) {
            call.closedAt = session().now();
            call.outcome = outcome;
            const auto saved = desk.save(call);
            return saved ? Result<void>() : Result<void>(saved.error());
        }
    return Problem{ProblemCode::UnknownRecord, "phone_call", {"phone call", std::to_string(id.value())}};
}

void TodayPage::closeCall() {
    const AttentionItem *item = current();
    if (!item)
        return;
    if (item->toTell) {
        recordPlanTold(this, session(), *item->toTell, item->detail);
        return;
    }
    const auto outcome =
        Ask::line(this, tr("Record the call"), tr("Who was told, when, and what they said:"));
    if (!outcome)
        return;
    const std::string words = outcome->trimmed().toStdString();
    session().writeOrTell(this, tr("Closed a call"),
                          [item = *item, words, this](desk::Desk &d) -> Result<void> {
                              if (item.phoneCall)
                                  return closePhoneCall(d, *item.phoneCall, words);
                              if (item.callItem)
                                  return d.closeCallItem(*item.callItem, words);
                              const auto raised = d.raise(*item.toStore);
                              if (!raised)
                                  return raised.error();
                              return d.closeCallItem(raised->id, words);
                          });
}

} // namespace kitround::ui
