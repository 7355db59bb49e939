#include "ui/reorders/ReceivePanel.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <QAction>
#include <QCheckBox>
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
namespace {

Problem fault(ProblemCode code, const char *field, const QString &text) {
    Problem problem;
    problem.code = text.isEmpty() ? ProblemCode::Missing : code;
    problem.field = field;
    if (!text.isEmpty())
        problem.args = {text.toStdString()};
    return problem;
}

std::optional<std::int64_t> numberIn(const QLineEdit *edit) {
    bool ok = false;
    const qlonglong value = edit->text().trimmed().toLongLong(&ok);
    return ok ? std::optional<std::int64_t>(value) : std::nullopt;
}

void setFaultInk(QLabel *label) {
    QPalette p = label->palette();
    p.setColor(QPalette::WindowText, Look::colour(Role::Act));
    label->setPalette(p);
}

} // namespace

ReceiveLineEdit::ReceiveLineEdit(const desk::Agency &agency, const std::vector<PurchaseLine> &ordered,
                                 int number, QWidget *parent)
    : QWidget(parent), ordered_(ordered) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(2);
    auto *row = new QHBoxLayout;
    row->setSpacing(Look::kInside);
    layout->addLayout(row);
    const auto name = [&](QWidget *widget, const char *objectName, const QString &accessible) {
        widget->setObjectName(QStringLiteral("%1_%2").arg(QLatin1String(objectName)).arg(number));
        widget->setAccessibleName(tr("%1, line %2").arg(accessible).arg(number));
        widget->setToolTip(accessible);
    };
    item_ = new QComboBox(this);
    name(item_, "item_id", tr("Item"));
    item_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    item_->setMinimumContentsLength(18);
    const auto isOrdered = [&](ItemId id) {
        return std::ranges::any_of(ordered_, [&](const PurchaseLine &l) { return l.item == id; });
    };
    for (const bool first : {true, false}) // what was ordered stands first
        for (const Item &item : agency.snapshot().items)
            if (isOrdered(item.id) == first && (first || item.isActive))
                item_->addItem(QString::fromStdString(item.name), qint64(item.id.value()));
    for (const Item &item : agency.snapshot().items)
        casePack_[item.id.value()] = item.casePack.eachesPerCase.count();
    row->addWidget(item_, 3);
    lot_ = new QLineEdit(this);
    lot_->setPlaceholderText(tr("Lot"));
    name(lot_, "lot_number", tr("Lot number"));
    row->addWidget(lot_, 2);
    expires_ = new DateField(std::nullopt, agency.today(), this);
    expires_->edit()->setPlaceholderText(tr("Last day of use"));
    name(expires_, "expires_on", tr("Last day of use"));
    expires_->edit()->setAccessibleName(tr("Last day of use, line %1").arg(number));
    row->addWidget(expires_, 2);
    const auto numberEdit = [&](const char *objectName, const QString &text) {
        auto *edit = new QLineEdit(this);
        edit->setAlignment(Qt::AlignRight);
        edit->setPlaceholderText(text);
        edit->setMaximumWidth(84);
        name(edit, objectName, text);
        row->addWidget(edit);
        return edit;
    };
    quantity_ = numberEdit("quantity", tr("Quantity"));
    unit_ = new QComboBox(this);
    name(unit_, "unit", tr("Counted in"));
    row->addWidget(unit_);
    sum_ = new QLabel(this);
    sum_->setObjectName(QStringLiteral("sum_%1").arg(number));
    sum_->setMinimumWidth(78);
    row->addWidget(sum_);
    damaged_ = numberEdit("damaged", tr("Damaged"));
    damaged_->setToolTip(tr("Damaged, eaches; counted in and put into quarantine"));
    shortDated_ = new QCheckBox(tr("accept short-dated"), this);
    name(shortDated_, "short_dated", tr("Accept short-dated"));
    row->addWidget(shortDated_);
    auto *remove = new QPushButton(tr("Remove"), this);
    name(remove, "remove", tr("Remove this line"));
    row->addWidget(remove);
    fault_ = new QLabel(this);
    fault_->setObjectName(QStringLiteral("fault_%1").arg(number));
    fault_->setWordWrap(true);
    fault_->hide();
    layout->addWidget(fault_);
    connect(remove, &QPushButton::clicked, this, &ReceiveLineEdit::removeAsked);
    connect(item_, &QComboBox::currentIndexChanged, this, &ReceiveLineEdit::fillUnits);
    connect(unit_, &QComboBox::currentIndexChanged, this, &ReceiveLineEdit::showSum);
    connect(quantity_, &QLineEdit::textChanged, this, &ReceiveLineEdit::showSum);
    fillUnits();
}

// The packs this item was ordered in, then the catalogue's; cases become eaches only through them.
void ReceiveLineEdit::fillUnits() {
    const qint64 item = item_->currentData().toLongLong();
    std::vector<std::int64_t> packs;
    for (const PurchaseLine &line : ordered_)
        if (line.item.value() == item)
            packs.push_back(line.pack.eachesPerCase.count());
    if (const auto found = casePack_.find(item); found != casePack_.end())
        packs.push_back(found->second);
    unit_->clear();
    unit_->addItem(tr("eaches"), qint64(1));
    for (const std::int64_t pack : packs)
        if (pack > 1 && unit_->findData(qint64(pack)) < 0)
            unit_->addItem(tr("cases of %1").arg(pack), qint64(pack));
    showSum();
}

std::int64_t ReceiveLineEdit::perUnit() const {
    return std::max<qint64>(unit_->currentData().toLongLong(), 1);
}

void ReceiveLineEdit::showSum() {
    const auto typed = numberIn(quantity_);
    sum_->setText(typed ? tr("= %1 eaches").arg(*typed * perUnit()) : QString());
}

bool ReceiveLineEdit::isEmpty() const {
    return lot_->text().trimmed().isEmpty() && quantity_->text().trimmed().isEmpty() &&
           expires_->text().trimmed().isEmpty() && damaged_->text().trimmed().isEmpty();
}

Problems ReceiveLineEdit::read(desk::ReceiveLine &line) const {
    Problems wrong;
    line.item = ItemId(item_->currentData().toLongLong());
    line.lotNumber = lot_->text().trimmed().toStdString();
    if (!expires_->isReadable())
        wrong.push_back(fault(ProblemCode::NotADate, "expires_on", expires_->text().trimmed()));
    line.expiresOn = expires_->date();
    if (const auto typed = numberIn(quantity_))
        line.quantity = toEaches(Cases::of(*typed), PackSize{Eaches::of(perUnit())});
    else
        wrong.push_back(fault(ProblemCode::NotANumber, "quantity", quantity_->text().trimmed()));
    if (const auto typed = numberIn(damaged_))
        line.damaged = Eaches::of(*typed);
    else if (!damaged_->text().trimmed().isEmpty())
        wrong.push_back(fault(ProblemCode::NotANumber, "damaged", damaged_->text().trimmed()));
    line.acceptShortDated = shortDated_->isChecked();
    return wrong;
}

void ReceiveLineEdit::showProblems(const Problems &problems) {
    QStringList texts;
    for (Problem p : problems) {
        p.row = 0; // the place says which line
        texts << desk::words(p);
    }
    setFaultInk(fault_);
    fault_->setText(texts.join(QLatin1Char('\n')));
    fault_->setVisible(!texts.isEmpty());
    if (problems.empty())
        return;
    const std::string &field = problems.front().field;
    QWidget *at = field == "lot_number"   ? static_cast<QWidget *>(lot_)
                  : field == "expires_on" ? static_cast<QWidget *>(expires_->edit())
                  : field == "damaged"    ? static_cast<QWidget *>(damaged_)
                  : field == "item_id"    ? static_cast<QWidget *>(item_)
                                          : static_cast<QWidget *>(quantity_);
    at->setFocus(Qt::OtherFocusReason);
}

void ReceiveLineEdit::focusFirst() {
    item_->setFocus(Qt::OtherFocusReason);
}

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
    problem_->hide();
    layout->addWidget(problem_);
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
    foot->addStretch(1);
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
    connect(source_, &QComboBox::activated, this, &ReceivePanel::makeLines);
}

void ReceivePanel::show() {
    const desk::AgencyPtr agency = session_.agency();
    const bool isDraft = hasDraft(); // what is being typed is not thrown away by a reload
    const QVariant kept = source_->currentData();
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
    source_->setCurrentIndex(at >= 0 ? at : 0);
    setEnabled(!session_.isReadOnly() && source_->count() > 0);
    if (!isDraft || at < 0)
        makeLines();
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
    slip_->clear();
    const LocalTime now = momentNow(session_);
    day_->setDate(now.date);
    time_->setText(QString::fromStdString(clockText(now.minute)));
    QStringList open;
    if (const auto order = chosenOrder()) {
        const desk::AgencyPtr agency = session_.agency();
        for (const PurchaseLine &line : order->lines) {
            const Item *item = agency->index().item(line.item);
            open << tr("%1: %2 of %3 eaches received")
                        .arg(item ? QString::fromStdString(item->name) : tr("an unknown item"))
                        .arg(line.received.count())
                        .arg(toEaches(line.cases, line.pack).count());
        }
    }
    expected_->setText(open.isEmpty()
                           ? tr("Without an order nothing is checked off; lots and dates are still checked.")
                           : open.join(QStringLiteral("   ·   ")));
    addLine();
}

void ReceivePanel::addLine() {
    const desk::AgencyPtr agency = session_.agency();
    if (!agency || source_->count() == 0)
        return;
    const auto order = chosenOrder();
    auto *line =
        new ReceiveLineEdit(*agency, order ? order->lines : std::vector<PurchaseLine>(), ++made_, list_);
    listLayout_->insertWidget(listLayout_->count() - 1, line);
    lines_.push_back(line);
    connect(line, &ReceiveLineEdit::removeAsked, this, [this, line] { removeLine(line); });
    if (isVisible() && lines_.size() > 1)
        line->focusFirst();
}

void ReceivePanel::removeLine(ReceiveLineEdit *line) {
    std::erase(lines_, line);
    line->deleteLater();
    if (lines_.empty())
        addLine();
}

void ReceivePanel::choose(PurchaseOrderId order) {
    const int at = source_->findData(qint64(order.value()));
    if (at < 0)
        return;
    source_->setCurrentIndex(at);
    makeLines();
    if (!lines_.empty())
        lines_.front()->focusFirst();
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
    const auto minute = clockFromText(time_->text().trimmed().toStdString());
    if (!day_->date())
        head.push_back(fault(ProblemCode::NotADate, "received_at", day_->text().trimmed()));
    if (!minute)
        head.push_back(fault(ProblemCode::NotATime, "received_at", time_->text().trimmed()));
    record.at = {day_->date().value_or(session_.today()), minute.value_or(Minutes{})};
    std::vector<ReceiveLineEdit *> sent;
    bool isReadable = head.empty();
    for (ReceiveLineEdit *line : lines_) {
        if (line->isEmpty()) {
            line->showProblems({});
            continue;
        }
        desk::ReceiveLine read;
        const Problems wrong = line->read(read);
        line->showProblems(wrong);
        isReadable = isReadable && wrong.empty();
        record.lines.push_back(read);
        sent.push_back(line);
    }
    const auto showHead = [this](const Problems &problems) {
        QStringList texts;
        for (const Problem &p : problems)
            texts << desk::words(p);
        setFaultInk(problem_);
        problem_->setText(texts.join(QLatin1Char('\n')));
        problem_->setVisible(!texts.isEmpty());
    };
    showHead(head);
    if (!isReadable)
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
        Problems others;
        std::vector<Problems> byLine(sent.size());
        for (const Problem &p : flattened(*problem))
            if (p.row > 0 && static_cast<std::size_t>(p.row) <= sent.size())
                byLine[static_cast<std::size_t>(p.row) - 1].push_back(p);
            else
                others.push_back(p);
        for (std::size_t i = sent.size(); i-- > 0;) // backwards, so that the first fault keeps the keyboard
            sent[i]->showProblems(byLine[i]);
        showHead(others);
        return;
    }
    makeLines();
    showFlags(*received, *agency);
}

void ReceivePanel::showFlags(const desk::Received &received, const desk::Agency &agency) {
    QStringList texts;
    Eaches total;
    for (const ReceiptLine &line : received.receipt.lines)
        total += line.quantity;
    const Supplier *supplier = agency.index().supplier(received.receipt.supplier);
    texts << tr("Booked in from %1: %2 eaches in %3 lots.")
                 .arg(supplier ? QString::fromStdString(supplier->name) : QString())
                 .arg(total.count())
                 .arg(received.receipt.lines.size());
    for (const Problem &flag : received.flags)
        texts << desk::words(flag);
    flags_->setText(texts.join(QLatin1Char('\n')));
    if (!received.flags.empty())
        Ask::tell(this, tr("Booked in, with remarks"), texts.join(QLatin1Char('\n')));
}

} // namespace kitround::ui
