#include "core/desk/views/ReceiveScan.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/exchange/Gs1.h"

#include <algorithm>
#include <set>
#include <utility>

namespace kitround::desk {
namespace {

Problem fault(ProblemCode code, const char *field, std::vector<std::string> args = {}) {
    Problem p;
    p.code = code;
    p.field = field;
    p.args = std::move(args);
    return p;
}

bool isOuterPackOf(const std::string &scanned, const std::string &gtin) {
    return gtin.size() == 14 && scanned.size() == 14 && scanned[0] >= '1' && scanned[0] <= '8' &&
           scanned[0] != gtin[0] && scanned.compare(1, 12, gtin, 1, 12) == 0;
}

void findItem(const Agency &agency, ScanReading &reading) {
    const auto &items = agency.snapshot().items;
    if (const auto same = std::ranges::find(items, reading.gtin, &Item::gtin); same != items.end()) {
        reading.item = same->id;
        return;
    }
    const auto inner =
        std::ranges::find_if(items, [&](const Item &i) { return isOuterPackOf(reading.gtin, i.gtin); });
    if (inner == items.end()) {
        reading.remarks << Text::tr("No item has the article number %1. Choose the item on the line; enter "
                                    "the number under Items and suppliers to have it found next time.")
                               .arg(fromStd(reading.gtin));
        return;
    }
    reading.item = inner->id;
    reading.perUnit = inner->casePack.eachesPerCase;
    reading.remarks << Text::tr("The label is that of an outer pack of %1: counted in cases of %2. Check how "
                                "many are inside.")
                           .arg(fromStd(inner->name), numberText(inner->casePack.eachesPerCase.count()));
}

// What of an item is still to come, line by line: too much of one does not make up for another. None: it was
// not ordered.
std::optional<Eaches> openOf(std::span<const PurchaseLine> ordered, ItemId item) {
    std::optional<Eaches> open;
    for (const PurchaseLine &line : ordered)
        if (line.item == item)
            open =
                open.value_or(Eaches{}) + std::max(toEaches(line.cases, line.pack) - line.received, Eaches{});
    return open;
}

Eaches quantityOf(std::span<const ReceiveLine> lines, ItemId item) {
    Eaches sum;
    for (const ReceiveLine &line : lines)
        if (line.item == item)
            sum += line.quantity;
    return sum;
}

} // namespace

OrderStanding standingOn(std::span<const PurchaseLine> ordered, std::span<const ReceiveLine> others,
                         ItemId item) {
    const std::optional<Eaches> open = openOf(ordered, item);
    if (!open)
        return OrderStanding::NotOrdered;
    if (open->isZero())
        return OrderStanding::Complete;
    return quantityOf(others, item) >= *open ? OrderStanding::OnOtherLines : OrderStanding::Open;
}

QString orderStandingText(OrderStanding standing) {
    switch (standing) {
    case OrderStanding::Open:
        break;
    case OrderStanding::OnOtherLines:
        return Text::tr("What is open of this order is on the other lines here.");
    case OrderStanding::Complete:
        return Text::tr("Of this order all has come already.");
    case OrderStanding::NotOrdered:
        return Text::tr("Not on this order.");
    }
    return {};
}

bool isSameLotNumber(const std::string &a, const std::string &b) {
    return asLotNumber(a) == asLotNumber(b);
}

const Lot *lotNumbered(const Snapshot &agency, ItemId item, const std::string &number) {
    const auto found = std::ranges::find_if(
        agency.lots, [&](const Lot &lot) { return lot.item == item && isSameLotNumber(lot.number, number); });
    return found == agency.lots.end() ? nullptr : &*found;
}

Result<ScanReading> readScan(const Agency &agency, const std::string &text) {
    const auto label = exchange::readElementStrings(text, agency.today().year());
    if (!label)
        return label.error();
    ScanReading reading;
    reading.gtin = label->gtin;
    reading.lotNumber = label->lot;
    reading.expiresOn = label->expiresOn;
    if (reading.gtin.empty())
        reading.remarks << Text::tr("The label names no article. Choose the item on the line.");
    else
        findItem(agency, reading);
    if (label->count)
        reading.quantity = toEaches(Cases::of(*label->count), PackSize{reading.perUnit});
    if (label->mayLackSeparator)
        reading.remarks << Text::tr("The lot number ends like an expiry date: the scanner may have dropped "
                                    "the separator. Compare lot and date with the label.");
    if (const Lot *known = reading.item && !reading.lotNumber.empty()
                               ? lotNumbered(agency.snapshot(), *reading.item, reading.lotNumber)
                               : nullptr) {
        reading.knownLot = known->id;
        if (!reading.expiresOn)
            reading.expiresOn = known->expiresOn;
    }
    return reading;
}

Result<ScanReading> readScanOf(const Agency &agency, ItemId itemId, const std::string &text) {
    Result<ScanReading> reading = readScan(agency, text);
    if (!reading)
        return reading;
    const Item *item = agency.index().item(itemId);
    if (!item)
        return fault(ProblemCode::UnknownRecord, "item_id", {"item", std::to_string(itemId.value())});
    if (reading->item && *reading->item != itemId)
        return fault(ProblemCode::Conflict, "scan",
                     {"label_of_other_item", nameOf(agency.index(), *reading->item), item->name});
    if (!reading->item) {
        if (!reading->gtin.empty() && !item->gtin.empty())
            return fault(ProblemCode::Conflict, "scan",
                         {"label_of_other_article", reading->gtin, item->name});
        // The first remark asks to choose the item, and here it is chosen.
        reading->remarks.front() =
            reading->gtin.empty()
                ? Text::tr("The label names no article. Make sure that it is %1.").arg(fromStd(item->name))
                : Text::tr("No item has the article number %1. Make sure that it is %2.")
                      .arg(fromStd(reading->gtin), fromStd(item->name));
        reading->item = itemId;
        if (const Lot *known = lotNumbered(agency.snapshot(), itemId, reading->lotNumber)) {
            reading->knownLot = known->id;
            if (!reading->expiresOn)
                reading->expiresOn = known->expiresOn;
        }
    }
    if (asLotNumber(reading->lotNumber).empty())
        return fault(ProblemCode::Conflict, "scan", {"label_without_lot"});
    return reading;
}

Problems lotLabelProblems(const Agency &agency, ItemId item, const std::string &number,
                          std::optional<Date> expiresOn, Date least) {
    Problems wrong;
    if (asLotNumber(number).empty())
        wrong.push_back(fault(ProblemCode::Missing, "lot_number"));
    const Lot *known = lotNumbered(agency.snapshot(), item, number);
    if (known && known->expiresOn && expiresOn && *known->expiresOn != *expiresOn)
        wrong.push_back(fault(ProblemCode::Conflict, "expires_on",
                              {"other_expiry", known->number, known->expiresOn->toIso()}));
    const std::optional<Date> expiry = expiresOn ? expiresOn : known ? known->expiresOn : std::nullopt;
    if (expiry && *expiry < least)
        wrong.push_back(fault(ProblemCode::OutOfRange, "expires_on", {expiry->toIso(), least.toIso(), ""}));
    return wrong;
}

Problems receiveProblems(const Agency &agency, const ReceiveLine &line, Date on) {
    const Item *item = agency.index().item(line.item);
    if (!item)
        return {fault(ProblemCode::UnknownRecord, "item_id", {"item", std::to_string(line.item.value())})};
    Problems wrong;
    if (line.quantity.count() <= 0)
        wrong.push_back(
            fault(ProblemCode::OutOfRange, "quantity", {std::to_string(line.quantity.count()), "1", ""}));
    else if (line.damaged.isNegative() || line.damaged > line.quantity)
        wrong.push_back(
            fault(ProblemCode::OutOfRange, "damaged",
                  {std::to_string(line.damaged.count()), "0", std::to_string(line.quantity.count())}));
    const Lot *known = lotNumbered(agency.snapshot(), line.item, line.lotNumber);
    if (known && known->state == LotState::Recalled)
        wrong.push_back(fault(ProblemCode::NotAllowed, "lot_number", {"recalled", known->number}));
    const Date least = line.acceptShortDated ? on : on + item->leastLifeOnReceipt;
    for (Problem &p : lotLabelProblems(agency, line.item, line.lotNumber, line.expiresOn, least))
        wrong.push_back(std::move(p));
    return wrong;
}

Problems beyondOrder(const Agency &agency, const ReceiveRecord &record) {
    const PurchaseOrder *order = record.order ? agency.index().purchaseOrder(*record.order) : nullptr;
    if (!order)
        return {};
    Problems beyond;
    std::vector<ItemId> asked;
    for (const ReceiveLine &line : record.lines) {
        if (std::ranges::find(asked, line.item) != asked.end())
            continue;
        asked.push_back(line.item);
        const Eaches came = quantityOf(record.lines, line.item);
        const std::optional<Eaches> open = openOf(order->lines, line.item);
        const std::string name = nameOf(agency.index(), line.item);
        if (!open)
            beyond.push_back(fault(ProblemCode::Conflict, "quantity", {"not_on_order", name, order->number}));
        else if (came > *open)
            beyond.push_back(
                fault(ProblemCode::Conflict, "quantity",
                      {"over_receipt", name, std::to_string(open->count()), std::to_string(came.count())}));
    }
    return beyond;
}

namespace {

// What is still to come of the record's order once it is booked in, each item once.
std::vector<std::pair<ItemId, Eaches>> stillOpen(const SnapshotIndex &index, const ReceiveRecord &record) {
    const PurchaseOrder *order = record.order ? index.purchaseOrder(*record.order) : nullptr;
    std::vector<std::pair<ItemId, Eaches>> open;
    std::set<ItemId> seen;
    for (const PurchaseLine &line : order ? order->lines : std::vector<PurchaseLine>()) {
        if (!seen.insert(line.item).second)
            continue;
        const Eaches left =
            openOf(order->lines, line.item).value_or(Eaches{}) - quantityOf(record.lines, line.item);
        if (left.count() > 0)
            open.push_back({line.item, left});
    }
    return open;
}

} // namespace

bool isStillOpen(const Agency &agency, const ReceiveRecord &record) {
    return !stillOpen(agency.index(), record).empty();
}

QString bookedInText(const Agency &agency, const ReceiveRecord &record) {
    const SnapshotIndex &index = agency.index();
    Eaches total, damaged;
    for (const ReceiveLine &line : record.lines) {
        total += line.quantity;
        damaged += line.damaged;
    }
    const Supplier *supplier = index.supplier(record.supplier);
    QStringList texts{Text::tr("Booked in from %1: %2 in %3.")
                          .arg(supplier ? fromStd(supplier->name) : QString(),
                               counted(total.count(), Text::tr("%1 each"), Text::tr("%1 eaches")),
                               counted(std::ssize(record.lines), Text::tr("%1 lot"), Text::tr("%1 lots")))};
    if (damaged.count() > 0)
        texts
            << Text::tr("Of these %1 came damaged and stand in quarantine.").arg(numberText(damaged.count()));
    const PurchaseOrder *order = record.order ? index.purchaseOrder(*record.order) : nullptr;
    if (!order)
        return texts.join(u' ');
    QStringList open;
    for (const auto &[item, left] : stillOpen(index, record))
        open << Text::tr("%1 of %2").arg(numberText(left.count()), itemName(index, item));
    texts << (open.isEmpty() ? Text::tr("Order %1 has come in full.").arg(fromStd(order->number))
                             : Text::tr("Still open of order %1: %2.")
                                   .arg(fromStd(order->number), open.join(QStringLiteral("; "))));
    return texts.join(u' ');
}

Problems likelyWrongUnit(const Agency &agency, const ReceiveRecord &record) {
    const PurchaseOrder *order = record.order ? agency.index().purchaseOrder(*record.order) : nullptr;
    if (!order)
        return {};
    Problems doubtful;
    std::vector<ItemId> asked;
    for (const PurchaseLine &ordered : order->lines) {
        const std::int64_t perCase = ordered.pack.eachesPerCase.count();
        if (perCase <= 1 || std::ranges::find(asked, ordered.item) != asked.end())
            continue;
        asked.push_back(ordered.item);
        const Eaches came = quantityOf(record.lines, ordered.item);
        const Eaches open = openOf(order->lines, ordered.item).value_or(Eaches{});
        if (came.count() <= 0 || came >= open) // all of it came, or more, which is asked anyhow
            continue;
        const bool isAsCases = came.count() * perCase == open.count();
        if (isAsCases || came.count() % perCase != 0)
            doubtful.push_back(fault(ProblemCode::Conflict, "quantity",
                                     {isAsCases ? "receipt_as_cases" : "receipt_broken_case",
                                      nameOf(agency.index(), ordered.item), std::to_string(came.count()),
                                      std::to_string(perCase)}));
    }
    return doubtful;
}

} // namespace kitround::desk
