// What is done from a line of the start page: the form that settles it, or the page where it is settled.
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/OrderAnswerForm.h"
#include "ui/shared/Session.h"
#include "ui/shared/VisitForm.h"
#include "ui/today/PlanToldForm.h"
#include "ui/today/TodayPage.h"
#include "ui/today/VisitsToRecordDialog.h"

#include <algorithm>

namespace kitround::ui {

using desk::AttentionItem;

namespace {

// Where a line that is about no one record is worked on.
QString workplaceOf(const AttentionItem &item) {
    if (!item.workplace.empty())
        return QString::fromStdString(item.workplace);
    switch (item.kind) {
    case desk::AttentionKind::OrderLate:
    case desk::AttentionKind::ReorderDue:
        return QStringLiteral("reorders");
    case desk::AttentionKind::UnknownFact: // of the agency itself
        return item.patient || item.nurse || item.formOf ? QString() : QStringLiteral("settings");
    default:
        return {};
    }
}

// The page or list that holds all of many lines told as one; empty where only the start page has them.
QString listText(const AttentionItem &many) {
    switch (many.kind) {
    case desk::AttentionKind::VisitNotPlaced:
        return QObject::tr("Open the calendar");
    case desk::AttentionKind::RefillCall:
        return QObject::tr("Open the refill calls");
    case desk::AttentionKind::DeliveryDue:
        return QObject::tr("Open the deliveries");
    case desk::AttentionKind::RunOut:
        return QObject::tr("Open the homes by risk");
    default:
        return {};
    }
}

} // namespace

QString TodayPage::openText(const AttentionItem &item) const {
    if (!item.folded.empty())
        return listText(item);
    switch (item.kind) {
    case desk::AttentionKind::HandOverWaiting:
        return tr("Open the hand-over");
    case desk::AttentionKind::PatientsToPhone:
        return tr("Open the call list…");
    case desk::AttentionKind::IncidentReport:
        return tr("Open the incidents");
    case desk::AttentionKind::LeaveWaiting:
        return tr("Open the requests");
    case desk::AttentionKind::VisitsUnrecorded:
        return tr("Record what happened…");
    case desk::AttentionKind::MissUntold:
        return session().isReadOnly() ? tr("Open the record") : tr("Record who was told…");
    case desk::AttentionKind::RefillCall:
        return tr("Call the home…");
    case desk::AttentionKind::PlanNotPublished:
        return tr("Open the calendar");
    case desk::AttentionKind::OrderLate:
    case desk::AttentionKind::ReorderDue:
        return tr("Open the orders");
    default:
        if (!item.workplace.empty())
            return tr("Do this step");
        if (!workplaceOf(item).isEmpty())
            return tr("Open the settings");
        return item.patient || item.nurse || item.item ? tr("Open the record") : QString();
    }
}

// What the row says is to be done; where that is to look at a record, the record.
void TodayPage::open(int row) {
    if (row < 0 || row >= model_.rowCount())
        return;
    const AttentionItem &item = model_.row(row);
    const bool mayWrite = !session().isReadOnly();
    if (item.form != desk::NextForm::None && mayWrite)
        fillIn();
    else if ((item.toTell || item.toLog) && mayWrite)
        closeCall();
    else
        openRecord();
}

// Those of the chosen line a line each, or as one again.
void TodayPage::showEach() {
    const AttentionItem *item = current();
    const std::string key = item ? desk::foldKey(*item) : std::string();
    if (key.empty())
        return;
    if (item->folded.empty())
        each_.erase(key);
    else
        each_.insert(key);
    filter();
}

void TodayPage::openMany(const AttentionItem &many) {
    if (listText(many).isEmpty())
        showEach();
    else if (many.weekOf)
        Q_EMIT showWeek(many.weekOf->dayNumber());
    else
        Q_EMIT showMany(many.kind);
}

void TodayPage::fillIn() {
    if (const AttentionItem *item = current(); item && item->formOf)
        Q_EMIT formAsked(item->form, item->formOf->value(), item->firstFor.value_or(CatheterId()).value());
}

void TodayPage::openRecord() {
    const AttentionItem *item = current();
    if (!item)
        return;
    if (!item->folded.empty())
        openMany(*item);
    else if (item->kind == desk::AttentionKind::HandOverWaiting)
        openHandOver();
    else if (item->kind == desk::AttentionKind::PatientsToPhone)
        openPatientCalls();
    else if (item->kind == desk::AttentionKind::VisitsUnrecorded && item->dueOn)
        VisitsToRecordDialog(*item->dueOn, session(), this).exec();
    else if (item->visit && item->kind == desk::AttentionKind::MissUntold && !session().isReadOnly())
        recordMissed(*item->visit);
    else if (item->kind == desk::AttentionKind::LeaveWaiting)
        Q_EMIT showLeave();
    else if (item->kind == desk::AttentionKind::IncidentReport)
        Q_EMIT showIncidents();
    else if (item->kind == desk::AttentionKind::RefillCall && item->patient)
        Q_EMIT callHome(item->patient->value());
    else if (item->weekOf && item->kind == desk::AttentionKind::PlanNotPublished)
        Q_EMIT showWeek(item->weekOf->dayNumber());
    else if (const QString place = workplaceOf(*item); !place.isEmpty())
        Q_EMIT showWorkplace(place);
    else if (item->patient)
        Q_EMIT showPatient(item->patient->value());
    else if (item->item) // also of a lot that a nurse carries: its steps are there
        Q_EMIT showItem(item->item->value());
    else if (item->nurse)
        Q_EMIT showNurse(item->nurse->value());
}

void TodayPage::recordMissed(VisitId id) {
    const SnapshotIndex &index = session().agency()->index();
    const Visit *visit = index.visit(id);
    const Patient *patient = visit ? index.patient(visit->patient) : nullptr;
    if (patient)
        recordVisit(this, session(), *visit, desk::personName(*patient, index));
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

void TodayPage::settleCall() {
    const AttentionItem *item = current();
    if (!item || !maySettleCall(*item)) {
        Q_EMIT said(noCallText(item));
        return;
    }
    if (item->order && item->kind == desk::AttentionKind::UnsignedOrder)
        recordSignature(this, session(), *item->order);
    else if (item->order)
        recordOrderAnswer(this, session(), *item->order);
    else
        closeCall();
}

// What the key of the main step says where there is no call to close.
QString TodayPage::noCallText(const AttentionItem *item) const {
    if (!item)
        return tr("No line is chosen.");
    if (!item->folded.empty())
        return tr("This line stands for several: show each, and close its call on its own line.");
    if (session().isReadOnly() && isCall(*item))
        return tr("The file can only be read here: no call can be closed.");
    const QString form = session().isReadOnly() ? QString() : desk::formText(*item, *session().agency());
    const QString step = form.isEmpty() ? openText(*item) : form;
    return step.isEmpty() ? tr("This line has no call to close.")
                          : tr("This line has no call to close. Enter does its step: %1").arg(step);
}

// A try that reached nobody leaves the line where it is.
void TodayPage::logWelfareCall(PhoneCall call, const QString &title) {
    const auto outcome = Ask::line(
        this, title, tr("Who was reached, when, and how is the patient? (Nobody reached: leave it open.)"));
    if (!outcome)
        return;
    call.outcome = outcome->trimmed().toStdString();
    call.at = std::max(call.at, session().now());
    call.closedAt = call.at;
    call.owner = session().userName().toStdString();
    session().writeOrTell(this, tr("Recorded a welfare call"), [&call](desk::Desk &d) -> Result<void> {
        if (call.outcome.empty())
            return Problem{ProblemCode::Missing, "outcome", {}};
        const auto saved = d.save(call);
        return saved ? Result<void>() : Result<void>(saved.error());
    });
}

void TodayPage::closeCall() {
    const AttentionItem *chosen = current();
    if (!chosen)
        return;
    const AttentionItem item = *chosen; // the list may be filled anew while the question is open
    if (item.toTell) {
        recordPlanTold(this, session(), *item.toTell, item.detail);
        return;
    }
    if (item.toLog) {
        logWelfareCall(*item.toLog, item.title);
        return;
    }
    const auto outcome =
        Ask::line(this, tr("Record the call"), tr("Who was told, when, and what they said:"));
    if (!outcome)
        return;
    const std::string words = outcome->trimmed().toStdString();
    session().writeOrTell(this, tr("Closed a call"), [&item, words, this](desk::Desk &d) -> Result<void> {
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
