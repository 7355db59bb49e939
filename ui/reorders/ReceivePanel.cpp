#include "ui/reorders/ReceivePanel.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/reorders/ReceiveFaults.h"
#include "ui/reorders/ReceiveLineEdit.h"
#include "ui/reorders/RefusedBoxes.h"
#include "ui/reorders/ReverseReceipt.h"
#include "ui/reorders/ScanCatcher.h"
#include "ui/reorders/SignedNote.h"
#include "ui/shared/Look.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/ScanField.h"
#include "ui/shared/Session.h"

#include <QAction>
#include <QComboBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {

ReceivePanel::ReceivePanel(Session &session, QWidget *parent) : QWidget(parent), session_(session) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    layout->setSpacing(Look::kInside);
    auto *form = new QFormLayout;
    source_ = new QComboBox(this);
    source_->setObjectName(QStringLiteral("receiveSource"));
    form->addRow(tr("&Order, or supplier"), source_);
    slip_ = new QLineEdit(this);
    slip_->setObjectName(QStringLiteral("packing_slip"));
    form->addRow(tr("Packing &slip"), slip_);
    auto *when = new QHBoxLayout;
    day_ = new DateField(std::nullopt, Date(), this);
    day_->setObjectName(QStringLiteral("received_at"));
    day_->edit()->setAccessibleName(tr("Day received"));
    time_ = new QLineEdit(this);
    time_->setObjectName(QStringLiteral("received_time"));
    time_->setAccessibleName(tr("Time received"));
    time_->setMaximumWidth(100);
    when->addWidget(day_);
    when->addWidget(time_);
    when->addStretch(1);
    form->addRow(tr("Received"), when);
    source_->setAccessibleName(tr("Order, or supplier"));
    slip_->setAccessibleName(tr("Packing slip"));
    layout->addLayout(form);
    expected_ = new QLabel(this);
    expected_->setObjectName(QStringLiteral("receiveExpected"));
    expected_->setWordWrap(true);
    layout->addWidget(expected_);
    problem_ = new QLabel(this);
    problem_->setObjectName(QStringLiteral("receiveProblem"));
    problem_->setWordWrap(true);
    Look::setInk(problem_, Role::Act);
    problem_->hide();
    layout->addWidget(problem_);
    scan_ = new ScanField(this);
    scan_->setObjectName(QStringLiteral("receiveScan"));
    scan_->setAccessibleName(tr("Scanned label"));
    scan_->setPlaceholderText(tr("Scan a box, or type its label: (01)…(17)…(10)…, then Enter"));
    form->addRow(tr("S&can"), scan_);
    scanNote_ = new SignedNote(QStringLiteral("receiveScanNote"), this);
    layout->addWidget(scanNote_);
    refused_ = new RefusedBoxes(this);
    layout->addWidget(refused_);
    auto *area = new QScrollArea(this);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    list_ = new QWidget(area);
    list_->setAccessibleName(tr("Lines of the packing slip"));
    listLayout_ = new QVBoxLayout(list_);
    listLayout_->setContentsMargins(0, 0, 0, 0);
    listLayout_->addStretch(1);
    area->setWidget(list_);
    layout->addWidget(area, 1);
    auto *foot = new QHBoxLayout;
    add_ = new QPushButton(tr("Add a line"), this);
    add_->setObjectName(QStringLiteral("receiveAdd"));
    foot->addWidget(add_);
    news_ = new QPushButton(tr("Supplier's news…"), this);
    news_->setObjectName(QStringLiteral("receiveNews"));
    news_->setToolTip(tr("What the supplier says of the rest of the order just booked in."));
    news_->hide();
    foot->addWidget(news_);
    connect(news_, &QPushButton::clicked, this, [this] {
        if (newsOf_)
            Q_EMIT newsAsked(newsOf_->value());
    });
    foot->addStretch(1);
    auto *undo = new QPushButton(tr("Reverse a receipt…"), this);
    undo->setObjectName(QStringLiteral("receiveReverse"));
    foot->addWidget(undo);
    connect(undo, &QPushButton::clicked, this, &ReceivePanel::reverse);
    layout->addLayout(foot);
    flags_ = new QLabel(this);
    flags_->setObjectName(QStringLiteral("receiveFlags"));
    flags_->setWordWrap(true);
    layout->addWidget(flags_);
    auto *insert = new QAction(this);
    insert->setShortcut(QKeySequence(Qt::CTRL | Qt::Key_Insert));
    insert->setShortcutContext(Qt::WidgetWithChildrenShortcut);
    addAction(insert);
    add_->setToolTip(tr("Ctrl+Insert"));
    connect(insert, &QAction::triggered, this, &ReceivePanel::addLine);
    connect(add_, &QPushButton::clicked, this, &ReceivePanel::addLine);
    connect(source_, &QComboBox::activated, this, &ReceivePanel::sourceChanged);
    for (QLineEdit *edit : {slip_, time_, day_->edit()}) // what was said of it is over
        connect(edit, &QLineEdit::textEdited, problem_, &QLabel::hide);
    connect(scan_, &ScanField::scanned, this, &ReceivePanel::scanned);
    new ScanCatcher(*this, *scan_);
}

void ReceivePanel::show() {
    const desk::AgencyPtr agency = session_.agency();
    const bool isDraft = hasDraft(); // what is being typed is not thrown away by a reload
    const QVariant kept = source_->currentData();
    const bool isFirst = source_->count() == 0;
    source_->clear();
    for (const PurchaseOrder &order : agency->snapshot().purchaseOrders) {
        if (order.status != PurchaseStatus::Sent && order.status != PurchaseStatus::PartlyReceived)
            continue;
        const Supplier *supplier = agency->index().supplier(order.supplier);
        source_->addItem(tr("Order %1, %2, %3")
                             .arg(QString::fromStdString(order.number),
                                  supplier ? QString::fromStdString(supplier->name) : QString(),
                                  desk::words(order.status)),
                         qint64(order.id.value()));
    }
    for (const Supplier &supplier : agency->snapshot().suppliers)
        if (supplier.isActive)
            source_->addItem(tr("%1, without an order").arg(QString::fromStdString(supplier.name)),
                             qint64(-supplier.id.value()));
    const int at = kept.isValid() ? source_->findData(kept) : -1;
    // What is received in full leaves the list; nothing else is chosen in its place.
    source_->setCurrentIndex(at < 0 && isFirst ? 0 : at);
    if (at < 0 && kept.isValid())
        left_ = PurchaseOrderId(kept.toLongLong());
    setEnabled(!session_.isReadOnly() && source_->count() > 0);
    tellLines();
    showExpected();
    if (!isDraft)
        makeLines();
    if (at < 0 && kept.isValid() && scan_->hasFocus()) // the order just left: the next one is asked for
        takeFocus();
}

std::optional<PurchaseOrder> ReceivePanel::chosenOrder() const {
    const PurchaseOrderId id(source_->currentData().toLongLong());
    const desk::AgencyPtr agency = session_.agency();
    const PurchaseOrder *order = agency && id.isSet() ? agency->index().purchaseOrder(id) : nullptr;
    return order ? std::optional(*order) : std::nullopt;
}

void ReceivePanel::makeLines() {
    for (ReceiveLineEdit *line : lines_)
        line->deleteLater();
    lines_.clear();
    problem_->hide();
    scan_->clear();
    sayScan({}, std::nullopt);
    slip_->clear();
    const LocalTime now = momentNow(session_);
    day_->setDate(now.date);
    time_->setText(QString::fromStdString(clockText(now.minute)));
    showExpected();
    addLine();
}

void ReceivePanel::showExpected() {
    QStringList open;
    if (const auto order = chosenOrder()) {
        const desk::AgencyPtr agency = session_.agency();
        for (const PurchaseLine &line : order->lines)
            open << tr("%1: %2 of %3 eaches received")
                        .arg(desk::itemName(agency->index(), line.item))
                        .arg(desk::numberText(line.received.count()),
                             desk::numberText(toEaches(line.cases, line.pack).count()));
    }
    const desk::AgencyPtr now = session_.agency();
    const PurchaseOrder *left = now ? now->index().purchaseOrder(left_) : nullptr;
    if (source_->currentIndex() < 0)
        expected_->setText(left && left->status == PurchaseStatus::Received
                               ? tr("Order %1 is received in full. Choose the next order, or a supplier.")
                                     .arg(QString::fromStdString(left->number))
                               : tr("No order is chosen. Choose the next order, or a supplier."));
    else
        expected_->setText(
            open.isEmpty() ? tr("Without an order nothing is checked off; lots and dates are still checked.")
                           : open.join(QStringLiteral("   ·   ")));
}

// Remarks are of what was chosen before. What was scanned stays: the boxes are the same.
void ReceivePanel::sourceChanged() {
    flags_->clear();
    news_->hide();
    left_ = {};
    problem_->hide();
    tellLines();
    showExpected();
    if (hasDraft())
        return;
    refused_->forget();
    makeLines();
}

void ReceivePanel::reverse() {
    const qint64 chosen = source_->currentData().toLongLong();
    reverseReceipt(this, session_, [chosen](const Receipt &receipt) {
        return chosen == 0 ||
               (receipt.order ? receipt.order->value() == chosen : receipt.supplier.value() == -chosen);
    });
}

// What the lines bring but for one.
std::vector<desk::ReceiveLine> ReceivePanel::broughtBeside(const ReceiveLineEdit *line) const {
    std::vector<desk::ReceiveLine> brought;
    for (const ReceiveLineEdit *other : lines_)
        if (const auto brings = other == line ? std::nullopt : other->brings())
            brought.push_back(*brings);
    return brought;
}

std::vector<PurchaseLine> ReceivePanel::orderedLines() const {
    const auto order = chosenOrder();
    return order ? order->lines : std::vector<PurchaseLine>();
}

void ReceivePanel::tellLines() {
    for (ReceiveLineEdit *line : lines_)
        line->setOrder(orderedLines(), broughtBeside(line));
}

ReceiveLineEdit *ReceivePanel::addLine() {
    const desk::AgencyPtr agency = session_.agency();
    if (!agency || source_->count() == 0)
        return nullptr;
    auto *line = new ReceiveLineEdit(*agency, orderedLines(), broughtBeside(nullptr), ++made_, list_);
    listLayout_->insertWidget(listLayout_->count() - 1, line);
    lines_.push_back(line);
    connect(line, &ReceiveLineEdit::changed, problem_, &QLabel::hide);
    connect(line, &ReceiveLineEdit::changed, this, &ReceivePanel::tellLines);
    connect(line, &ReceiveLineEdit::removeAsked, this, [this, line] { removeLine(line); });
    connect(line, &ReceiveLineEdit::quantityEntered, scan_, // the next box
            [this] { scan_->setFocus(Qt::OtherFocusReason); });
    connect(line, &ReceiveLineEdit::shortDatedToggled, this,
            [this, line](bool isAccepted) { checkShortDated(line, isAccepted); });
    if (isVisible() && lines_.size() > 1)
        line->focusFirst();
    return line;
}

void ReceivePanel::sayScan(const QStringList &texts, std::optional<Role> role) {
    scanNote_->say(texts.join(QLatin1Char('\n')), role);
}

// What can't be taken in however it is typed: said, and no line is made of it.
bool ReceivePanel::isRefused(const desk::ScanReading &reading) {
    if (!reading.item)
        return false;
    desk::ReceiveLine asked{*reading.item, reading.lotNumber, reading.expiresOn, Eaches::of(1), {}, true};
    QStringList texts;
    for (const Problem &p :
         desk::receiveProblems(*session_.agency(), asked, day_->date().value_or(session_.today())))
        if (p.code != ProblemCode::Missing)
            texts << desk::words(p);
    if (texts.isEmpty())
        return false;
    const Item *item = session_.agency()->index().item(*reading.item);
    texts.prepend(tr("Not taken in: %1, lot %2.")
                      .arg(item ? QString::fromStdString(item->name) : QString(),
                           QString::fromStdString(reading.lotNumber)));
    sayScan(texts, Role::Act);
    texts.removeFirst();
    refused_->add(tr("%1, lot %2 (%3)")
                      .arg(item ? QString::fromStdString(item->name) : QString(),
                           QString::fromStdString(reading.lotNumber), texts.join(u' ')));
    scan_->selectAll();
    return true;
}

void ReceivePanel::scanned(const QString &text) {
    const desk::AgencyPtr agency = session_.agency();
    if (!agency || source_->count() == 0)
        return;
    const auto reading = desk::readScan(*agency, text.toStdString());
    if (!reading) {
        sayScan({desk::words(reading.error())}, Role::Act);
        scan_->selectAll();
        return;
    }
    if (isRefused(*reading))
        return;
    scan_->clear();
    QStringList remarks = reading->remarks;
    const auto same = std::ranges::find_if(lines_, [&](const ReceiveLineEdit *line) {
        return reading->item && line->isOf(*reading->item, reading->lotNumber);
    });
    if (same != lines_.end()) {
        sayScan(remarks << tr("This lot is on a line already: change its quantity."), std::nullopt);
        (*same)->focusQuantity();
        return;
    }
    const auto empty = std::ranges::find_if(lines_, [](const ReceiveLineEdit *l) { return l->isEmpty(); });
    ReceiveLineEdit *line = empty != lines_.end() ? *empty : addLine();
    line->fill(*reading);
    const auto order = chosenOrder();
    const bool isAstray =
        order && reading->item &&
        desk::standingOn(order->lines, {}, *reading->item) == desk::OrderStanding::NotOrdered;
    if (isAstray)
        remarks << tr("This item is not on the order. Check the packing slip and the order number.");
    Problems near; // short-dated is for the person to accept, on the line
    if (reading->item)
        near = desk::receiveProblems(
            *agency, {*reading->item, reading->lotNumber, reading->expiresOn, Eaches::of(1), {}, false},
            day_->date().value_or(session_.today()));
    line->showProblems(near);
    sayScan(remarks, isAstray ? std::optional(Role::Watch) : std::nullopt);
    if (!reading->item)
        line->focusFirst();
    else if (reading->quantity && near.empty())
        scan_->setFocus(Qt::OtherFocusReason);
    else
        line->focusQuantity();
}

// What was said of the line is said anew: a lot that is accepted is not to be set aside.
void ReceivePanel::checkShortDated(ReceiveLineEdit *line, bool isAccepted) {
    const desk::AgencyPtr agency = session_.agency();
    if (!agency || !line->hasProblems())
        return;
    desk::ReceiveLine asked;
    Problems wrong = line->read(asked);
    asked.acceptShortDated = isAccepted;
    asked.quantity = std::max(asked.quantity, Eaches::of(1)); // what is missing is told when it is booked
    if (wrong.empty() || line->item().isSet())
        wrong = desk::receiveProblems(*agency, asked, day_->date().value_or(session_.today()));
    line->showProblems(wrong);
}

void ReceivePanel::removeLine(ReceiveLineEdit *line) {
    std::erase(lines_, line);
    line->deleteLater();
    if (lines_.empty())
        addLine();
    tellLines();
    scan_->setFocus(Qt::OtherFocusReason); // its button is gone
}

void ReceivePanel::choose(PurchaseOrderId order) {
    const int at = source_->findData(qint64(order.value()));
    if (at < 0)
        return;
    source_->setCurrentIndex(at);
    sourceChanged();
    scan_->setFocus(Qt::OtherFocusReason);
}

void ReceivePanel::takeFocus() {
    source_->setFocus(Qt::OtherFocusReason);
}

bool ReceivePanel::hasDraft() const {
    return std::ranges::any_of(lines_, [](const ReceiveLineEdit *line) { return !line->isEmpty(); });
}

void ReceivePanel::book() {
    if (!isEnabled() || session_.isReadOnly())
        return;
    flags_->clear();
    if (source_->currentIndex() < 0) {
        showHead({fault(ProblemCode::Missing, "supplier_id", {})});
        return;
    }
    desk::ReceiveRecord record;
    const auto order = chosenOrder();
    const qint64 chosen = source_->currentData().toLongLong();
    if (order) {
        record.order = order->id;
        record.supplier = order->supplier;
    } else
        record.supplier = SupplierId(-chosen);
    record.packingSlip = slip_->text().trimmed().toStdString();
    Problems head;
    const auto minute = clockAsTyped(time_->text().trimmed().toStdString());
    if (!day_->date())
        head.push_back(fault(ProblemCode::NotADate, "received_at", day_->text().trimmed()));
    if (!minute)
        head.push_back(fault(ProblemCode::NotATime, "received_at", time_->text().trimmed()));
    record.at = {day_->date().value_or(session_.today()), minute.value_or(Minutes{})};
    std::vector<ReceiveLineEdit *> sent;
    std::vector<Problems> found;
    bool isReadable = head.empty();
    for (ReceiveLineEdit *line : lines_) {
        if (line->isEmpty()) {
            line->showProblems({});
            continue;
        }
        desk::ReceiveLine read;
        found.push_back(line->read(read));
        isReadable = isReadable && found.back().empty();
        record.lines.push_back(read);
        sent.push_back(line);
    }
    showLines(found, sent);
    showHead(head);
    if (!isReadable)
        return;
    if (!mayBook(record))
        return;
    const desk::AgencyPtr agency = session_.agency();
    std::optional<desk::Received> received;
    const auto problem = session_.write(tr("Booked in a receipt"), [&](desk::Desk &d) -> Result<void> {
        auto done = d.receive(record);
        if (!done)
            return done.error();
        received = *std::move(done);
        return {};
    });
    if (problem) {
        showRefusal(*problem, sent);
        return;
    }
    makeLines();
    scan_->setFocus(Qt::OtherFocusReason); // the fields the keyboard was in are gone
    if (source_->currentIndex() < 0)       // the order is complete: the next one is asked for
        takeFocus();
    showFlags(*received, *agency, record);
}

void ReceivePanel::showHead(const Problems &problems) {
    QStringList texts;
    for (const Problem &p : problems)
        texts << desk::words(p);
    problem_->setText(texts.join(QLatin1Char('\n')));
    problem_->setVisible(!texts.isEmpty());
    if (!problems.empty() && problems.front().field == "received_at")
        (problems.front().code == ProblemCode::NotATime ? time_ : day_->edit())->setFocus();
}

// More than is open, or what nobody ordered, is often a wrong unit or order: asked while nothing is written.
bool ReceivePanel::mayBook(const desk::ReceiveRecord &record) {
    QStringList texts;
    for (const Problem &p : desk::beyondOrder(*session_.agency(), record))
        texts << desk::words(p);
    for (const Problem &p : desk::likelyWrongUnit(*session_.agency(), record))
        texts << desk::words(p);
    return texts.isEmpty() || Ask::confirm(this, tr("Not as ordered"), texts.join(QLatin1Char('\n')),
                                           tr("Book it in as it came"), tr("Check it again"));
}

void ReceivePanel::showRefusal(const Problem &problem, const std::vector<ReceiveLineEdit *> &sent) {
    Problems others;
    std::vector<Problems> byLine(sent.size());
    for (const Problem &p : flattened(problem))
        if (p.row > 0 && static_cast<std::size_t>(p.row) <= sent.size())
            byLine[static_cast<std::size_t>(p.row) - 1].push_back(p);
        else
            others.push_back(p);
    showLines(byLine, sent);
    showHead(others);
}

// Backwards, so that the first fault keeps the keyboard.
void ReceivePanel::showLines(const std::vector<Problems> &byLine,
                             const std::vector<ReceiveLineEdit *> &sent) {
    for (std::size_t i = sent.size(); i-- > 0;)
        sent[i]->showProblems(byLine[i]);
}

void ReceivePanel::showFlags(const desk::Received &received, const desk::Agency &agency,
                             const desk::ReceiveRecord &record) {
    QStringList texts{desk::bookedInText(agency, record)};
    if (!refused_->text().isEmpty())
        texts << refused_->text();
    refused_->forget();
    newsOf_ = desk::isStillOpen(agency, record) ? record.order : std::nullopt;
    news_->setVisible(newsOf_.has_value());
    for (const Problem &flag : received.flags)
        texts << desk::words(flag);
    flags_->setText(texts.join(QLatin1Char('\n')));
    // What goes beyond the order was asked before.
    const bool hasNews =
        std::ranges::any_of(received.flags, [](const Problem &flag) { return flag.field != "quantity"; });
    if (hasNews)
        Ask::tell(this, tr("Booked in, with remarks"), texts.join(QLatin1Char('\n')));
}

} // namespace kitround::ui
