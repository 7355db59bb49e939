#include "ui/stock/LotRows.h"

#include "core/desk/views/ReceiveScan.h"
#include "ui/shared/Look.h"

#include <QAbstractItemView>
#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

// Lots are offered with all that is known of them; what is chosen is the number.
QComboBox *makeLotChoice(const std::vector<desk::LotOffer> &offers, QWidget *parent) {
    auto *box = new QComboBox(parent);
    box->setEditable(true);
    box->setInsertPolicy(QComboBox::NoInsert);
    box->setCompleter(nullptr);
    box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    box->setMinimumContentsLength(16);
    int widest = 0;
    for (const desk::LotOffer &offer : offers) {
        box->addItem(offer.text, offer.number);
        widest = std::max(widest, box->fontMetrics().horizontalAdvance(offer.text));
    }
    box->view()->setMinimumWidth(widest + 2 * Look::kPage);
    box->setCurrentIndex(-1);
    box->lineEdit()->setPlaceholderText(QObject::tr("Lot number"));
    const auto showNumber = [box] {
        if (box->currentIndex() >= 0)
            box->setEditText(box->currentData().toString());
    };
    QObject::connect(box, &QComboBox::currentIndexChanged, box, showNumber);
    QObject::connect(box, &QComboBox::activated, box, showNumber);
    return box;
}

} // namespace

LotRows::LotRows(std::size_t number, const std::vector<desk::LotOffer> &offers, QWidget *parent)
    : QWidget(parent), number_(number), offers_(offers) {
    layout_ = new QVBoxLayout(this);
    layout_->setContentsMargins(0, 0, 0, 0);
    layout_->setSpacing(Look::kInside / 2);
    addRow();
    pointToFirst();
}

void LotRows::addRow() {
    Row row{makeLotChoice(offers_, this), new QLineEdit(this)};
    const std::size_t place = rows_.size();
    row.lot->setObjectName(QStringLiteral("lot_%1_%2").arg(number_).arg(place));
    row.lot->setAccessibleName(tr("Lot %1 of line %2").arg(place + 1).arg(number_ + 1));
    row.quantity->setObjectName(QStringLiteral("quantity_%1_%2").arg(number_).arg(place));
    row.quantity->setAccessibleName(tr("How many of lot %1, line %2").arg(place + 1).arg(number_ + 1));
    row.quantity->setMaximumWidth(90);
    row.quantity->setAlignment(Qt::AlignRight);
    auto *line = new QHBoxLayout;
    line->addWidget(row.lot, 1);
    line->addWidget(row.quantity);
    line->addWidget(new QLabel(tr("eaches"), this));
    layout_->addLayout(line);
    if (!rows_.empty())
        setTabOrder(rows_.back().quantity, row.lot);
    setTabOrder(row.lot, row.quantity);
    connect(row.lot, &QComboBox::editTextChanged, this, &LotRows::keepOneToSpare);
    connect(row.quantity, &QLineEdit::textChanged, this, &LotRows::keepOneToSpare);
    rows_.push_back(row);
}

void LotRows::keepOneToSpare() {
    if (!rows_.back().entered().isEmpty())
        addRow();
}

LotRows::Entered LotRows::Row::entered() const {
    return {lot->currentText().trimmed(), quantity->text().trimmed(), 0};
}

std::vector<LotRows::Entered> LotRows::entered() const {
    std::vector<Entered> all;
    for (std::size_t place = 0; place < rows_.size(); ++place)
        if (Entered entered = rows_[place].entered(); !entered.isEmpty()) {
            entered.place = place;
            all.push_back(std::move(entered));
        }
    return all;
}

void LotRows::pointToFirst() {
    setFocusProxy(rows_.front().lot);
}

void LotRows::pointToQuantity(std::size_t place) {
    setFocusProxy(rows_.at(place).quantity);
}

void LotRows::add(const QString &lot, Eaches quantity) {
    const Row spare = rows_.back(); // the row behind it comes by itself
    spare.quantity->setText(QString::number(quantity.count()));
    spare.lot->setEditText(lot);
}

bool LotRows::awaitsScan() const {
    return std::ranges::any_of(rows_,
                               [](const Row &row) { return !row.isScanned && !row.entered().isEmpty(); });
}

QString LotRows::take(const QString &lot) {
    const auto isIt = [&](const Row &row) {
        return desk::isSameLotNumber(row.lot->currentText().toStdString(), lot.toStdString());
    };
    if (const auto same = std::ranges::find_if(rows_, isIt); same != rows_.end()) {
        same->isScanned = true;
        return tr("Lot %1 is entered. Compare how many.").arg(lot);
    }
    const auto at = std::ranges::find(rows_, false, &Row::isScanned); // the spare one at the latest
    const QString before = at->entered().lot;
    const bool isOneMore = at->entered().isEmpty();
    at->isScanned = true;
    const Row row = *at; // filling it may add another
    row.lot->setEditText(lot);
    if (!isOneMore)
        return before.isEmpty() ? tr("Lot %1 is entered.").arg(lot)
                                : tr("Lot %1 is entered in place of %2.").arg(lot, before);
    row.quantity->setFocus(Qt::OtherFocusReason);
    return tr("Lot %1 was taken as well. Enter how many of each.").arg(lot);
}

} // namespace kitround::ui
