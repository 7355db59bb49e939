#include "ui/stock/FoundLots.h"

#include "core/desk/views/StoreroomCounts.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/ScanField.h"
#include "ui/shared/WrappedLabel.h"

#include <QCompleter>
#include <QLineEdit>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace kitround::ui {
namespace {

constexpr std::size_t kMostFound = 6; // at one count
constexpr const char *kScan = "scan";

Problem missingAt(const std::string &field) {
    Problem missing;
    missing.field = field;
    return missing;
}

} // namespace

FoundLots::FoundLots(RecordForm &form, desk::AgencyPtr agency, ItemId item, std::vector<CountedLine> listed)
    : form_(form), agency_(std::move(agency)), item_(item), listed_(std::move(listed)) {}

std::string FoundLots::lotField(std::size_t line) {
    return "found_lot_" + std::to_string(line);
}
std::string FoundLots::expiryField(std::size_t line) {
    return "found_expires_" + std::to_string(line);
}
std::string FoundLots::quantityField(std::size_t line) {
    return "found_" + std::to_string(line);
}

void FoundLots::add() {
    form_.addHeading(QObject::tr("Another lot on the shelf"));
    auto *box = new QWidget(&form_);
    auto *column = new QVBoxLayout(box);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(2);
    scan_ = new ScanField(box);
    scan_->setObjectName(QStringLiteral("countScan"));
    scan_->setAccessibleName(QObject::tr("Label of another lot"));
    scan_->setPlaceholderText(QObject::tr("scan the label, or type the number below"));
    says_ = new WrappedLabel({}, box);
    says_->setObjectName(QStringLiteral("countScanSays"));
    says_->hide();
    column->addWidget(scan_);
    column->addWidget(says_);
    box->setFocusProxy(scan_);
    form_.addWidget(kScan, QObject::tr("Its label"), box);
    QObject::connect(scan_, &ScanField::scanned, box, [this](const QString &text) { (void)scanned(text); });
    QStringList known; // whoever finds a lot that was used up by the ledger need not type all of it
    for (const std::string &number : desk::lotsNotOnShelf(*agency_, item_))
        known << QString::fromStdString(number);
    for (std::size_t line = 0; line < kMostFound; ++line) {
        QLineEdit *lot = form_.addText(lotField(line), QObject::tr("Its lot number"), {});
        auto *completer = new QCompleter(known, lot);
        completer->setCaseSensitivity(Qt::CaseInsensitive);
        lot->setCompleter(completer);
        form_.addDate(expiryField(line), QObject::tr("Its last day of use"), std::nullopt, agency_->today());
        form_.addNumber(quantityField(line), QObject::tr("Counted of it"), std::nullopt, {});
        for (const std::string &field : {lotField(line), expiryField(line), quantityField(line)})
            form_.setFieldShown(field, line < shown_);
    }
    form_.addButton(QStringLiteral("countOneMoreLot"), QObject::tr("One more lot"), [this] {
        showNext();
        form_.lookAt(lotField(shown_ - 1));
    });
}

void FoundLots::showNext() {
    if (shown_ == kMostFound) {
        say({QObject::tr("Record this count first, then count the item again for further lots.")}, true);
        return;
    }
    for (const std::string &field : {lotField(shown_), expiryField(shown_), quantityField(shown_)})
        form_.setFieldShown(field, true);
    ++shown_;
}

bool FoundLots::isEmpty(std::size_t line) const {
    return form_.textOf(lotField(line)).empty() && form_.textOf(expiryField(line)).empty() &&
           form_.textOf(quantityField(line)).empty();
}

void FoundLots::say(const QStringList &texts, bool isRefused) {
    says_->setText(texts.join(QLatin1Char('\n')));
    says_->setVisible(!texts.isEmpty());
    Look::setInk(says_, isRefused ? Role::Act : Role::Ink);
}

std::optional<desk::ScanReading> FoundLots::readLabel(const QString &text, Problem &wrong) const {
    const auto reading = desk::readScanOf(*agency_, item_, text.toStdString());
    if (!reading) {
        wrong = reading.error();
        return std::nullopt;
    }
    desk::LotCount found;
    found.counted = Eaches::of(1); // how many is asked for on the line
    found.lotNumber = reading->lotNumber;
    found.expiresOn = reading->expiresOn;
    Problems all = desk::foundLotProblems(*agency_, item_, found);
    std::erase_if(all,
                  [](const Problem &p) { return p.code == ProblemCode::Missing; }); // the line asks for it
    if (all.empty())
        return *reading;
    wrong = all.front();
    wrong.field = kScan;
    return std::nullopt;
}

std::optional<Problem> FoundLots::scanned(const QString &text) {
    Problem wrong;
    const auto reading = readLabel(text, wrong);
    if (!reading) {
        say({desk::words(wrong)}, true);
        scan_->selectAll();
        return wrong;
    }
    scan_->clear();
    say(reading->remarks, false);
    return take(reading->lotNumber, reading->expiresOn, reading->quantity);
}

std::optional<Problem> FoundLots::take(const std::string &lot, std::optional<Date> expiresOn,
                                       std::optional<Eaches> quantity) {
    const auto isListed = [&](const CountedLine &line) {
        return desk::isSameLotNumber(line.lot.toStdString(), lot);
    };
    if (const auto listed = std::ranges::find_if(listed_, isListed); listed != listed_.end()) {
        say({QObject::tr("Lot %1 stands above. Enter there how many are on the shelf.").arg(listed->lot)},
            false);
        form_.lookAt(listed->field);
        return form_.textOf(listed->field).empty() ? std::optional(missingAt(listed->field)) : std::nullopt;
    }
    std::size_t at = shown_;
    for (std::size_t line = 0; line < shown_; ++line)
        if (desk::isSameLotNumber(form_.textOf(lotField(line)), lot) || (at == shown_ && isEmpty(line)))
            at = line;
    if (at == shown_) {
        showNext();
        if (at == shown_)
            return Problem{ProblemCode::Cancelled, kScan, {}};
    }
    form_.findChild<QLineEdit *>(QString::fromStdString(lotField(at)))->setText(QString::fromStdString(lot));
    if (expiresOn)
        form_.findChild<DateField *>(QString::fromStdString(expiryField(at)))->setDate(expiresOn);
    auto *counted = form_.findChild<QLineEdit *>(QString::fromStdString(quantityField(at)));
    const qint64 perUnit = form_.choiceOf("counted_in"); // a label's count is in eaches
    if (quantity && counted->text().trimmed().isEmpty() && quantity->count() % perUnit == 0)
        counted->setText(QString::number(quantity->count() / perUnit));
    form_.lookAt(quantityField(at));
    return std::nullopt;
}

void FoundLots::read(desk::StoreroomCount &count, std::int64_t perUnit, std::vector<std::string> &rows) {
    if (const QString left = scan_->text().trimmed(); !left.isEmpty()) {
        if (const auto wrong = scanned(left)) // its Enter was forgotten
            form_.addReadFault(*wrong);
    }
    for (std::size_t line = 0; line < shown_; ++line) {
        if (isEmpty(line))
            continue;
        desk::LotCount found;
        found.lotNumber = form_.textOf(lotField(line));
        if (found.lotNumber.empty())
            form_.addReadFault(missingAt(lotField(line)));
        found.expiresOn = form_.dateOf(expiryField(line));
        found.counted = Eaches::of(form_.neededNumberOf(quantityField(line)) * perUnit);
        found.seen = Eaches{};
        for (const CountedLine &listed : listed_)
            if (desk::isSameLotNumber(listed.lot.toStdString(), found.lotNumber))
                found.seen = listed.byLedger;
        count.lots.push_back(std::move(found));
        rows.push_back(quantityField(line));
    }
}

Problem FoundLots::atField(Problem problem, const std::string &line) {
    for (std::size_t i = 0; i < kMostFound; ++i)
        if (quantityField(i) == line) {
            problem.field = problem.field == "lot_number"   ? lotField(i)
                            : problem.field == "expires_on" ? expiryField(i)
                                                            : line;
            return problem;
        }
    problem.field = line;
    return problem;
}

} // namespace kitround::ui
