#include "ui/reorders/ReceiveLineEdit.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/reorders/ReceiveFaults.h"
#include "ui/reorders/SignedNote.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/Look.h"
#include "ui/shared/RecordForm.h"

#include <QCheckBox>
#include <QComboBox>
#include <QGridLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalBlocker>

#include <algorithm>
#include <initializer_list>
#include <utility>

namespace kitround::ui {
namespace {

constexpr int kEditFrame = 20; // border and padding, by the look
constexpr int kComboFrame = 40;

} // namespace

ReceiveLineEdit::ReceiveLineEdit(const desk::Agency &agency, std::vector<PurchaseLine> ordered,
                                 std::vector<desk::ReceiveLine> others, int number, QWidget *parent)
    : QWidget(parent), ordered_(std::move(ordered)), others_(std::move(others)) {
    makeFields(agency, number);
    auto *remove = new QPushButton(tr("Remove"), this);
    nameField(remove, "remove", tr("Remove this line"), number);
    fault_ = new QLabel(this);
    fault_->setObjectName(QStringLiteral("fault_%1").arg(number));
    fault_->setWordWrap(true);
    Look::setInk(fault_, Role::Act);
    fault_->hide();
    place(remove);
    connect(remove, &QPushButton::clicked, this, &ReceiveLineEdit::removeAsked);
    connect(item_, &QComboBox::currentIndexChanged, this, &ReceiveLineEdit::fillUnits);
    connect(unit_, &QComboBox::currentIndexChanged, this, &ReceiveLineEdit::showSum);
    connect(quantity_, &QLineEdit::textChanged, this, &ReceiveLineEdit::showSum);
    connect(quantity_, &QLineEdit::returnPressed, this, &ReceiveLineEdit::quantityEntered);
    connect(expires_, &DateField::changed, this, &ReceiveLineEdit::changed);
    for (const QComboBox *box : {item_, unit_})
        connect(box, &QComboBox::currentIndexChanged, this, &ReceiveLineEdit::changed);
    for (QLineEdit *edit : {lot_, quantity_, damaged_})
        connect(edit, &QLineEdit::textChanged, this, &ReceiveLineEdit::changed);
    connect(shortDated_, &QCheckBox::toggled, this, &ReceiveLineEdit::shortDatedToggled);
    fillUnits();
}

void ReceiveLineEdit::nameField(QWidget *widget, const char *objectName, const QString &accessible,
                                int number) {
    widget->setObjectName(QStringLiteral("%1_%2").arg(QLatin1String(objectName)).arg(number));
    widget->setAccessibleName(tr("%1, line %2").arg(accessible).arg(number));
    widget->setToolTip(accessible);
}

void ReceiveLineEdit::makeFields(const desk::Agency &agency, int number) {
    item_ = new QComboBox(this);
    nameField(item_, "item_id", tr("Item"), number);
    item_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    item_->setMinimumContentsLength(22); // items differ at the end of their names
    using enum desk::OrderStanding;
    for (const desk::OrderStanding standing : {Open, OnOtherLines, Complete, NotOrdered})
        for (const Item &item : agency.snapshot().items)
            if (standingOf(item.id) == standing) // an item no longer bought may still come in
                item_->addItem(QString::fromStdString(item.name), qint64(item.id.value()));
    // Where nothing is still to come, nothing is offered in its place.
    item_->setPlaceholderText(tr("choose the item"));
    if (!ordered_.empty() && standingOf(item()) != Open)
        item_->setCurrentIndex(-1);
    order_ = new SignedNote(QStringLiteral("of_order_%1").arg(number), this);
    for (const Item &item : agency.snapshot().items)
        casePack_[item.id.value()] = item.casePack.eachesPerCase.count();
    // As wide as what stands in it, so that nothing is cut and the columns of all lines are the same.
    const auto textEdit = [&](const char *objectName, const QString &text, const QString &widest) {
        auto *edit = new QLineEdit(this);
        edit->setPlaceholderText(text);
        edit->setFixedWidth(edit->fontMetrics().horizontalAdvance(widest) + kEditFrame);
        nameField(edit, objectName, text, number);
        return edit;
    };
    lot_ = textEdit("lot_number", tr("Lot number"), QStringLiteral("NA12-3456-7890"));
    expires_ = new DateField(std::nullopt, agency.today(), this);
    expires_->edit()->setPlaceholderText(tr("Last day of use"));
    expires_->edit()->setMinimumWidth(120);
    // The day in words stands below: beside the date it would push the columns about.
    if (auto *beside = expires_->findChild<QLabel *>(QString(), Qt::FindDirectChildrenOnly))
        beside->hide();
    expiryDay_ = new QLabel(this);
    connect(expires_, &DateField::changed, this, [this, today = agency.today()] {
        const auto day = expires_->date();
        expiryDay_->setText(day ? desk::dayText(*day, today) : QString());
    });
    nameField(expires_, "expires_on", tr("Last day of use"), number);
    expires_->edit()->setAccessibleName(tr("Last day of use, line %1").arg(number));
    // Tab goes by the order in which they are made: as they stand.
    quantity_ = textEdit("quantity", tr("Quantity"), tr("Quantity") + QStringLiteral("00"));
    unit_ = new QComboBox(this);
    nameField(unit_, "unit", tr("Counted in"), number);
    unit_->setFixedWidth(unit_->fontMetrics().horizontalAdvance(tr("cases of %1").arg(1000)) + kComboFrame);
    damaged_ = textEdit("damaged", tr("Damaged"), tr("Damaged") + QStringLiteral("00"));
    damaged_->setToolTip(tr("Damaged, eaches; counted in and put into quarantine"));
    for (QLineEdit *edit : {quantity_, damaged_})
        edit->setAlignment(Qt::AlignRight);
    sum_ = new QLabel(this);
    sum_->setObjectName(QStringLiteral("sum_%1").arg(number));
    shortDated_ = new QCheckBox(tr("accept short-dated"), this);
    nameField(shortDated_, "short_dated", tr("Accept short-dated"), number);
}

// What is typed in one row; what is said of it, and what is rarely ticked, below.
void ReceiveLineEdit::place(QPushButton *remove) {
    auto *grid = new QGridLayout(this);
    grid->setContentsMargins(0, 0, 0, Look::kInside);
    grid->setHorizontalSpacing(Look::kInside);
    grid->setVerticalSpacing(2);
    int column = 0;
    for (QWidget *field :
         std::initializer_list<QWidget *>{item_, lot_, expires_, quantity_, unit_, damaged_, remove})
        grid->addWidget(field, 0, column++);
    grid->setColumnStretch(0, 1);
    grid->addWidget(order_, 1, 0, 1, 2);
    grid->addWidget(expiryDay_, 1, 2);
    grid->addWidget(sum_, 1, 3, 1, 2);
    grid->addWidget(shortDated_, 1, 5, 1, 2);
    grid->addWidget(fault_, 2, 0, 1, column);
}

desk::OrderStanding ReceiveLineEdit::standingOf(ItemId item) const {
    return desk::standingOn(ordered_, others_, item);
}

void ReceiveLineEdit::setOrder(std::vector<PurchaseLine> ordered, std::vector<desk::ReceiveLine> others) {
    ordered_ = std::move(ordered);
    others_ = std::move(others);
    showOrder();
}

void ReceiveLineEdit::showOrder() {
    const bool isAsked = !ordered_.empty() && item_->currentIndex() >= 0;
    order_->say(isAsked ? desk::orderStandingText(standingOf(item())) : QString(), Role::Watch);
}

// The packs this item was ordered in, then the catalogue's; cases become eaches only through them.
void ReceiveLineEdit::fillUnits() {
    showOrder();
    const qint64 item = item_->currentData().toLongLong();
    std::vector<std::int64_t> packs;
    for (const PurchaseLine &line : ordered_)
        if (line.item.value() == item)
            packs.push_back(line.pack.eachesPerCase.count());
    if (const auto found = casePack_.find(item); found != casePack_.end())
        packs.push_back(found->second);
    const QVariant before = unit_->currentData();
    const bool isTyped = !quantity_->text().trimmed().isEmpty();
    const QSignalBlocker quiet(unit_); // told once, with the item
    unit_->clear();
    unit_->addItem(tr("eaches"), qint64(1));
    for (const std::int64_t pack : packs)
        if (pack > 1 && unit_->findData(qint64(pack)) < 0)
            unit_->addItem(tr("cases of %1").arg(pack), qint64(pack));
    // Counted as it was ordered; but a number that stands there already keeps its meaning.
    const auto ordered =
        std::ranges::find_if(ordered_, [&](const PurchaseLine &l) { return l.item.value() == item; });
    const qint64 asOrdered = ordered == ordered_.end() ? 1 : ordered->pack.eachesPerCase.count();
    unit_->setCurrentIndex(std::max(0, unit_->findData(isTyped ? before : QVariant(asOrdered))));
    showSum();
}

std::int64_t ReceiveLineEdit::perUnit() const {
    return std::max<qint64>(unit_->currentData().toLongLong(), 1);
}

void ReceiveLineEdit::showSum() {
    const auto typed = numberIn(quantity_->text());
    sum_->setText(typed ? desk::counted(*typed * perUnit(), tr("= %1 each"), tr("= %1 eaches")) : QString());
}

bool ReceiveLineEdit::isEmpty() const {
    return lot_->text().trimmed().isEmpty() && quantity_->text().trimmed().isEmpty() &&
           expires_->text().trimmed().isEmpty() && damaged_->text().trimmed().isEmpty();
}

Eaches ReceiveLineEdit::eachesOf(std::int64_t typed) const {
    return toEaches(Cases::of(typed), PackSize{Eaches::of(perUnit())});
}

std::optional<desk::ReceiveLine> ReceiveLineEdit::brings() const {
    const auto typed = numberIn(quantity_->text());
    if (!typed || item_->currentIndex() < 0)
        return std::nullopt;
    desk::ReceiveLine line;
    line.item = item();
    line.quantity = eachesOf(*typed);
    return line;
}

Problems ReceiveLineEdit::read(desk::ReceiveLine &line) const {
    Problems wrong;
    line.item = item();
    if (item_->currentIndex() < 0)
        wrong.push_back(fault(ProblemCode::Missing, "item_id", {}));
    line.lotNumber = lot_->text().trimmed().toStdString();
    if (!expires_->isReadable())
        wrong.push_back(fault(ProblemCode::NotADate, "expires_on", expires_->text().trimmed()));
    line.expiresOn = expires_->date();
    if (const auto typed = numberIn(quantity_->text()))
        line.quantity = eachesOf(*typed);
    else
        wrong.push_back(fault(ProblemCode::NotANumber, "quantity", quantity_->text().trimmed()));
    if (const auto typed = numberIn(damaged_->text()))
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

bool ReceiveLineEdit::hasProblems() const {
    return !fault_->isHidden();
}

void ReceiveLineEdit::focusFirst() {
    item_->setFocus(Qt::OtherFocusReason);
}

void ReceiveLineEdit::focusQuantity() {
    quantity_->setFocus(Qt::OtherFocusReason);
    quantity_->selectAll();
}

ItemId ReceiveLineEdit::item() const {
    return ItemId(item_->currentData().toLongLong());
}

bool ReceiveLineEdit::isOf(ItemId item, const std::string &lotNumber) const {
    return item == this->item() && !lotNumber.empty() &&
           desk::isSameLotNumber(lot_->text().toStdString(), lotNumber);
}

void ReceiveLineEdit::fill(const desk::ScanReading &reading) {
    item_->setCurrentIndex(reading.item ? item_->findData(qint64(reading.item->value())) : -1);
    if (!reading.lotNumber.empty())
        lot_->setText(QString::fromStdString(reading.lotNumber));
    if (reading.expiresOn)
        expires_->setDate(reading.expiresOn);
    const int cases = unit_->findData(qint64(reading.perUnit.count()));
    if (reading.quantity) {
        unit_->setCurrentIndex(0); // a label's count is in eaches
        quantity_->setText(QString::number(reading.quantity->count()));
    } else if (cases >= 0)
        unit_->setCurrentIndex(cases);
}

} // namespace kitround::ui
