#include "core/desk/views/ReceiveScan.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/exchange/Gs1.h"

#include <algorithm>
#include <cctype>

namespace kitround::desk {
namespace {

// A slip and a notice write blanks, hyphens and case as they like.
std::string folded(const std::string &number) {
    std::string kept;
    for (const char c : number)
        if (std::isalnum(static_cast<unsigned char>(c)))
            kept += static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    return kept;
}

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

} // namespace

bool isSameLotNumber(const std::string &a, const std::string &b) {
    return folded(a) == folded(b);
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
    if (folded(line.lotNumber).empty())
        wrong.push_back(fault(ProblemCode::Missing, "lot_number"));
    const Lot *known = lotNumbered(agency.snapshot(), line.item, line.lotNumber);
    if (known && known->state == LotState::Recalled)
        wrong.push_back(fault(ProblemCode::NotAllowed, "lot_number", {"recalled", known->number}));
    if (known && known->expiresOn && line.expiresOn && *known->expiresOn != *line.expiresOn)
        wrong.push_back(fault(ProblemCode::Conflict, "expires_on",
                              {"other_expiry", known->number, known->expiresOn->toIso()}));
    const std::optional<Date> expiry = line.expiresOn ? line.expiresOn
                                       : known        ? known->expiresOn
                                                      : std::nullopt;
    const Date least = line.acceptShortDated ? on : on + item->leastLifeOnReceipt;
    if (expiry && *expiry < least)
        wrong.push_back(fault(ProblemCode::OutOfRange, "expires_on", {expiry->toIso(), least.toIso(), ""}));
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
        Eaches came, open;
        for (const ReceiveLine &other : record.lines)
            if (other.item == line.item)
                came += other.quantity;
        bool isOrdered = false;
        for (const PurchaseLine &ordered : order->lines)
            if (ordered.item == line.item) {
                isOrdered = true;
                open += std::max(toEaches(ordered.cases, ordered.pack) - ordered.received, Eaches{});
            }
        const std::string name = nameOf(agency.index(), line.item);
        if (!isOrdered)
            beyond.push_back(fault(ProblemCode::Conflict, "quantity", {"not_on_order", name, order->number}));
        else if (came > open)
            beyond.push_back(
                fault(ProblemCode::Conflict, "quantity",
                      {"over_receipt", name, std::to_string(open.count()), std::to_string(came.count())}));
    }
    return beyond;
}

} // namespace kitround::desk
