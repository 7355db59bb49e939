#include "ui/stock/RefillPanel.h"

#include "core/desk/views/RefillCallView.h"
#include "core/desk/words/PhoneScript.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Session.h"
#include "ui/stock/SupplyForms.h"

#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QSplitter>
#include <QTimer>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

RefillRow rowOf(const supply::RefillProposal &p, const SnapshotIndex &index) {
    RefillRow row;
    row.proposal = p;
    row.reason = desk::reason(p, index);
    row.recall = desk::recalledText(index, p.patient);
    row.past = desk::expiredText(index, p.patient);
    row.called = desk::calledTodayText(index, p.patient);
    row.answered = desk::answeredTodayText(index, p.patient);
    if (const Patient *patient = index.patient(p.patient))
        row.patient = desk::personName(*patient, index);
    QStringList lines;
    for (const supply::RefillLine &line : p.lines)
        lines << desk::offeredText(line, index);
    row.lines = lines.join(QStringLiteral("; "));
    return row;
}

constexpr int kCalled = 2, kToOffer = 6; // the columns of those heads

bool isAnyCalled(const std::vector<RefillRow> &rows) {
    return std::ranges::any_of(rows, [](const RefillRow &row) { return !row.called.isEmpty(); });
}

RowsColumn<RefillRow> dayColumn(const QString &head, Date supply::RefillProposal::*day) {
    return {
        .head = head,
        .text = [day](const RefillRow &r) { return desk::dayText(r.proposal.*day); },
        .sortBy = [day](const RefillRow &r) { return QVariant(qlonglong((r.proposal.*day).dayNumber())); }};
}

} // namespace

// What is said on the phone stands before what is rarely asked for: a narrow window cuts the last columns.
std::vector<RowsColumn<RefillRow>> RefillPanel::columns() {
    using supply::RefillUrgency;
    return {
        {.head = tr("When"),
         .text =
             [](const RefillRow &r) { return r.isAnswered() ? r.answered : desk::words(r.proposal.urgency); },
         .sortBy =
             [](const RefillRow &r) {
                 return QVariant(static_cast<int>(r.proposal.urgency) +
                                 (r.isAnswered() ? static_cast<int>(RefillUrgency::Later) + 1 : 0));
             },
         .ink =
             [](const RefillRow &r) {
                 return r.isAnswered()                                   ? std::nullopt
                        : r.proposal.urgency == RefillUrgency::Overdue   ? std::optional(Role::Act)
                        : r.proposal.urgency == RefillUrgency::CallToday ? std::optional(Role::Watch)
                                                                         : std::nullopt;
             },
         .icon =
             [](const RefillRow &r) {
                 return r.isToday() ? Look::icon(QStringLiteral("bell"),
                                                 r.proposal.urgency == RefillUrgency::Overdue ? Role::Act
                                                                                              : Role::Watch)
                                    : QIcon();
             }},
        {.head = tr("Patient"), .text = [](const RefillRow &r) { return r.patient; }},
        {.head = tr("Called today"),
         .text = [](const RefillRow &r) { return r.called; },
         .tip = [](const RefillRow &r) { return r.called; }},
        {.head = tr("Lots"),
         .text =
             [](const RefillRow &r) {
                 QStringList lots;
                 if (!r.recall.isEmpty())
                     lots << tr("recalled");
                 if (!r.past.isEmpty())
                     lots << tr("past its day");
                 return lots.join(QStringLiteral(", "));
             },
         .ink = [](const RefillRow &) { return std::optional(Role::Act); },
         .tip =
             [](const RefillRow &r) {
                 QStringList lots{r.recall, r.past};
                 lots.removeAll(QString());
                 return lots.join(QStringLiteral("; "));
             }},
        dayColumn(tr("Call by"), &supply::RefillProposal::callBy),
        dayColumn(tr("Deliver on"), &supply::RefillProposal::deliverOn),
        {.head = tr("To offer"),
         .text =
             [](const RefillRow &r) {
                 return r.proposal.stockIsUnknown ? tr("count first; then %1").arg(r.lines) : r.lines;
             },
         .tip = [](const RefillRow &r) { return r.reason; }},
        {.head = tr("Way"),
         .text =
             [](const RefillRow &r) {
                 return r.proposal.hasNoWay ? tr("no way known") : desk::words(r.proposal.way);
             }},
        dayColumn(tr("Call from"), &supply::RefillProposal::callFrom),
    };
}

RefillPanel::RefillPanel(Session &session, QWidget *parent)
    : QWidget(parent), session_(session), model_(columns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *splitter = new QSplitter(Qt::Horizontal, this);
    splitter->setChildrenCollapsible(false);
    table_ = new DenseTable(QStringLiteral("refillTable"), tr("Refill calls"), splitter);
    table_->setModel(new RowsProxy(&model_, this));
    table_->keepReadable(kToOffer);
    table_->keepReadable(kCalled, 190); // when, and who said what
    splitter->addWidget(table_);

    auto *area = new QScrollArea(splitter);
    area->setObjectName(QStringLiteral("refillReasons"));
    area->setAccessibleName(tr("Why"));
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    auto *side = new QWidget(area);
    auto *sideLayout = new QVBoxLayout(side);
    who_ = new QLabel(side);
    who_->setObjectName(QStringLiteral("refillWho"));
    who_->setFont(Look::strongFont());
    who_->setWordWrap(true);
    why_ = new QLabel(side);
    why_->setObjectName(QStringLiteral("refillWhy"));
    why_->setWordWrap(true);
    why_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    call_ = new QPushButton(tr("Record the call…"), side);
    call_->setObjectName(QStringLiteral("refillCall"));
    home_ = new QPushButton(tr("Show the home's stock"), side);
    home_->setObjectName(QStringLiteral("refillHome"));
    sideLayout->addWidget(who_);
    sideLayout->addWidget(why_);
    sideLayout->addWidget(call_);
    sideLayout->addWidget(home_);
    sideLayout->addStretch(1);
    area->setWidget(side);
    area->setMinimumWidth(300);
    splitter->addWidget(area);
    splitter->setStretchFactor(0, 1);
    splitter->setSizes({790, 290});
    layout->addWidget(splitter, 1);

    connect(table_, &DenseTable::currentRowChanged, this, &RefillPanel::showDetail);
    connect(table_, &DenseTable::opened, this, &RefillPanel::callCurrent);
    connect(call_, &QPushButton::clicked, this, &RefillPanel::callCurrent);
    connect(home_, &QPushButton::clicked, this, [this] {
        if (const int row = table_->currentSourceRow(); row >= 0)
            Q_EMIT homeAsked(model_.row(row).proposal.patient.value());
    });
}

void RefillPanel::show(desk::StockPicturePtr picture) {
    const int before = table_->currentSourceRow();
    const auto kept = before >= 0 ? std::optional(model_.row(before).proposal.patient) : std::nullopt;
    const bool isFirst = model_.rowCount() == 0;
    const bool hadCalls = isAnyCalled(model_.rows());
    picture_ = std::move(picture);
    std::vector<RefillRow> rows;
    if (picture_)
        for (const supply::RefillProposal &p : picture_->refills)
            rows.push_back(rowOf(p, picture_->agency->index()));
    std::ranges::stable_partition(rows, [](const RefillRow &row) { return !row.isAnswered(); });
    model_.setRows(std::move(rows));
    if ((isFirst && model_.rowCount() > 0) || (!hadCalls && isAnyCalled(model_.rows())))
        table_->fitColumns(kToOffer);
    if (const int row = rowToGoOn(kept); row >= 0)
        table_->selectSourceRow(row);
    if (picture_)
        next_.clear();
    showDetail();
    if (callAgain_ && picture_) {
        const PatientId patient = *callAgain_;
        callAgain_.reset();
        QTimer::singleShot(0, this, [this, patient] { callPatient(patient); });
    }
}

// After a call the next home below that wants one today, else the first that does; otherwise the home that
// was chosen.
int RefillPanel::rowToGoOn(std::optional<PatientId> kept) const {
    const auto rowOfPatient = [&](PatientId patient) {
        for (int i = 0; i < model_.rowCount(); ++i)
            if (model_.row(i).proposal.patient == patient)
                return i;
        return -1;
    };
    for (const PatientId patient : next_)
        if (const int row = rowOfPatient(patient); row >= 0 && model_.row(row).isToday())
            return row;
    if (const int row = kept && next_.empty() ? rowOfPatient(*kept) : -1; row >= 0)
        return row;
    return model_.rowCount() > 0 ? 0 : -1;
}

void RefillPanel::takeFocus() {
    table_->setFocus(Qt::OtherFocusReason);
}

int RefillPanel::callsToday() const {
    int calls = 0;
    for (const RefillRow &row : model_.rows())
        calls += row.isToday() ? 1 : 0;
    return calls;
}

void RefillPanel::showDetail() {
    const int row = table_->currentSourceRow();
    call_->setEnabled(row >= 0 && !session_.isReadOnly());
    home_->setEnabled(row >= 0);
    if (row < 0 || !picture_) {
        who_->setText(picture_ ? tr("No refill is due within the forecast.")
                               : tr("The calls are being worked out."));
        why_->clear();
        return;
    }
    const RefillRow &r = model_.row(row);
    const SnapshotIndex &index = picture_->agency->index();
    who_->setText(r.patient);
    QStringList parts;
    if (const Patient *patient = index.patient(r.proposal.patient))
        parts << desk::phoneLine(*patient);
    if (!r.called.isEmpty())
        parts << (r.isAnswered() ? tr("Called today %1 (%2). Call again tomorrow, unless the home calls.")
                                       .arg(r.called, r.answered)
                                 : tr("Called today %1.").arg(r.called));
    parts << r.reason;
    if (!r.recall.isEmpty())
        parts << tr("In the home: %1. Not counted on; have it set aside.").arg(r.recall);
    if (r.proposal.payerRuleBinds)
        parts << tr("The payer's rule does not let it be delivered earlier.");
    for (const supply::RefillLine &line : r.proposal.lines)
        parts << desk::reason(line, index);
    for (const supply::BarredLine &barred : r.proposal.barred)
        parts << tr("%1 is not offered: it does not suit this person. A nurse or the prescriber decides.")
                     .arg(desk::itemName(index, barred.item));
    parts << desk::planningCaution();
    why_->setText(parts.join(QStringLiteral("\n\n")));
}

void RefillPanel::callCurrent() {
    if (const int row = table_->currentSourceRow(); row >= 0)
        call(supply::RefillProposal(model_.row(row).proposal)); // a reload may come while the form is open
}

void RefillPanel::callPatient(PatientId patient) {
    for (int i = 0; i < model_.rowCount(); ++i)
        if (model_.row(i).proposal.patient == patient) {
            table_->selectSourceRow(i);
            call(supply::RefillProposal(model_.row(i).proposal));
            return;
        }
    said_.reset();
    Ask::tell(this, tr("Refill call"),
              tr("No refill is proposed for this home: it is supplied, promised a delivery, "
                 "or on hold."));
}

void RefillPanel::call(const supply::RefillProposal &proposal) {
    if (session_.isReadOnly())
        return;
    const PatientId patient = proposal.patient;
    std::vector<PatientId> below;
    for (int i = table_->currentSourceRow() + 1; i < model_.rowCount(); ++i)
        below.push_back(model_.row(i).proposal.patient);
    takeFocus();
    std::optional<desk::TriedRefill> tried = tried_();
    if (tried && tried->offer.patient != patient)
        tried.reset();
    if (said_ && said_->first != patient)
        said_.reset();
    std::optional<CallEntries> entries = said_ ? std::optional(said_->second) : std::nullopt;
    const CallOutcome outcome = refillCall(this, session_, proposal, tried, &entries);
    said_ = entries ? std::optional(std::pair(patient, *entries)) : std::nullopt;
    if (outcome == CallOutcome::CountedFirst)
        callAgain_ = patient;
    else if (outcome == CallOutcome::Stored)
        next_ = std::move(below);
}

} // namespace kitround::ui
