#include "ui/reorders/ReceiveLineEdit.h"

#include "core/desk/words/Words.h"
#include "ui/reorders/ReceiveFaults.h"
#include "ui/shared/Look.h"
#include "ui/shared/RecordForm.h"

#include <QCheckBox>
#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

std::optional<std::int64_t> numberIn(const QLineEdit *edit) {
    bool ok = false;
    const qlonglong value = edit->text().trimmed().toLongLong(&ok);
    return ok ? std::optional<std::int64_t>(value) : std::nullopt;
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
    item_->setMinimumContentsLength(22); // items differ at the end of their names
    const auto isOrdered = [&](ItemId id) {
        return std::ranges::any_of(ordered_, [&](const PurchaseLine &l) { return l.item == id; });
    };
    for (const bool first : {true, false}) // what was ordered stands first
        for (const Item &item : agency.snapshot().items)
            if (isOrdered(item.id) == first) // an item no longer bought may still come in
                item_->addItem(QString::fromStdString(item.name), qint64(item.id.value()));
    for (const Item &item : agency.snapshot().items)
        casePack_[item.id.value()] = item.casePack.eachesPerCase.count();
    row->addWidget(item_, 4);
    lot_ = new QLineEdit(this);
    lot_->setPlaceholderText(tr("Lot"));
    name(lot_, "lot_number", tr("Lot number"));
    row->addWidget(lot_, 2);
    expires_ = new DateField(std::nullopt, agency.today(), this);
    expires_->edit()->setPlaceholderText(tr("Last day of use"));
    expires_->edit()->setMinimumWidth(104);
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
    connect(quantity_, &QLineEdit::returnPressed, this,
            [this] { Q_EMIT quantityEntered(quantity_->text()); });
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
    line.item = item();
    if (item_->currentIndex() < 0)
        wrong.push_back(fault(ProblemCode::Missing, "item_id", {}));
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

void ReceiveLineEdit::focusQuantity() {
    quantity_->setFocus(Qt::OtherFocusReason);
    quantity_->selectAll();
}

void ReceiveLineEdit::clearQuantity() {
    quantity_->clear();
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
