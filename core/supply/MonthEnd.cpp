#include "core/supply/MonthEnd.h"

#include "core/calendar/LocalDay.h"
#include "core/supply/OrderTerms.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace kitround::supply {
namespace {

bool isOurs(PlaceKind kind) {
    return isInside(kind) && kind != PlaceKind::Home;
}

// Adds `quantity` that left our stock for the place; negative where it came back.
void leave(MonthLine &line, PlaceKind to, bool wasExpired, Eaches quantity) {
    switch (to) {
    case PlaceKind::Home:
        line.issued += quantity;
        break;
    case PlaceKind::Used:
        line.used += quantity;
        break;
    case PlaceKind::Wasted:
        line.wasted += quantity;
        line.expired += wasExpired ? quantity : Eaches{};
        break;
    case PlaceKind::Supplier:
    case PlaceKind::Returned:
        line.returned += quantity;
        break;
    case PlaceKind::Variance:
        line.adjusted -= quantity;
        break;
    case PlaceKind::Storeroom:
    case PlaceKind::Quarantine:
    case PlaceKind::Car:
    case PlaceKind::Transit:
        break; // ours still
    }
}

void arrive(MonthLine &line, PlaceKind from, bool wasExpired, Eaches quantity) {
    if (from == PlaceKind::Supplier)
        line.received += quantity;
    else
        leave(line, from, wasExpired, -quantity);
}

void useAtHome(MonthLine &line, PlaceKind to, Eaches quantity) {
    if (to == PlaceKind::Used)
        line.homeUsed += quantity;
    if (to == PlaceKind::Wasted)
        line.homeWasted += quantity;
}

void addFlow(MonthLine &line, const MovementSum &sum) {
    if (isOurs(sum.from) && !isOurs(sum.to))
        leave(line, sum.to, sum.wasExpired, sum.quantity);
    if (!isOurs(sum.from) && isOurs(sum.to))
        arrive(line, sum.from, sum.wasExpired, sum.quantity);
    if (sum.from == PlaceKind::Home)
        useAtHome(line, sum.to, sum.quantity);
    if (sum.to == PlaceKind::Home)
        useAtHome(line, sum.from, -sum.quantity);
}

} // namespace

CasePrice casePriceOn(const SnapshotIndex &agency, ItemId item, Date day) {
    const Receipt *newest = nullptr;
    CasePrice price;
    for (const Receipt &receipt : agency.snapshot().receipts) {
        const PurchaseOrder *order = receipt.order ? agency.purchaseOrder(*receipt.order) : nullptr;
        if (!order || receipt.at.date > day || (newest && receipt.at < newest->at) ||
            std::ranges::find(receipt.lines, item, &ReceiptLine::item) == receipt.lines.end())
            continue;
        const auto line = std::ranges::find(order->lines, item, &PurchaseLine::item);
        if (line == order->lines.end())
            continue;
        newest = &receipt;
        price = {line->perCase, line->pack, PriceSource::LastPaid};
    }
    if (newest)
        return price;
    const auto offers = offersFor(agency, item);
    if (!offers.empty())
        return {offers.front()->perCase, offers.front()->pack, PriceSource::Offer};
    const Item *record = agency.item(item);
    return {{}, record ? record->casePack : PackSize{}, PriceSource::None};
}

std::int64_t patientDays(const SnapshotIndex &agency, Date month) {
    std::int64_t days = 0;
    const Date end = monthAfter(month);
    for (const Patient &patient : agency.snapshot().patients) {
        if (!patient.startOfCare)
            continue;
        Date to = end;
        if (isExit(patient.status) && patient.exitedAt)
            to = std::min(to, calendar::localDayOf(agency.snapshot().settings, *patient.exitedAt));
        for (Date day = std::max(month, *patient.startOfCare); day < to; ++day) {
            const Hold *hold = agency.holdOn(patient.id, day);
            days += hold && !hold->stillDraining ? 0 : 1;
        }
    }
    return days;
}

MonthBooks monthBooks(const SnapshotIndex &agency, const MonthQuestion &question) {
    std::map<ItemId, MonthLine> lines;
    std::map<ItemId, Eaches> ledger;
    const Date last = monthAfter(question.month).plusDays(-1);
    const auto lineOf = [&](ItemId item) -> MonthLine & {
        MonthLine &line = lines[item];
        line.item = item;
        return line;
    };
    for (const StockBalance &row : question.opening)
        if (isOurs(row.place.kind))
            lineOf(row.item).opening += row.quantity;
    for (const MovementSum &sum : question.flows)
        addFlow(lineOf(sum.item), sum);
    for (const StockBalance &row : question.closing) {
        if (!isOurs(row.place.kind))
            continue;
        ledger[row.item] += row.quantity;
        const Lot *lot = row.lot ? agency.lot(*row.lot) : nullptr;
        if (lot && lot->expiresOn && *lot->expiresOn <= last)
            lineOf(row.item).expiredOnHand += row.quantity;
    }
    MonthBooks books;
    books.close.month = question.month;
    books.close.patientDays = patientDays(agency, question.month);
    for (auto &[item, line] : lines) {
        line.closing = line.opening + line.received - line.returned - line.issued - line.used - line.wasted +
                       line.adjusted;
        const CasePrice price = casePriceOn(agency, item, last);
        line.perCase = price.perCase;
        line.pack = price.pack;
        line.price = price.source;
        if (line.closing != ledger[item])
            books.untied.push_back({item, line.closing, ledger[item]});
        ledger.erase(item);
        books.close.lines.push_back(line);
    }
    for (const auto &[item, there] : ledger)
        if (!there.isZero())
            books.untied.push_back({item, {}, there});
    return books;
}

Money valueOf(const MonthLine &line, Eaches eaches) {
    return Money::of(
        std::llround(static_cast<double>(eaches.count()) * static_cast<double>(line.perCase.count()) /
                     static_cast<double>(line.pack.eachesPerCase.count())));
}

MonthTotals totalsOf(const MonthClose &close) {
    MonthTotals totals;
    for (const MonthLine &line : close.lines) {
        totals.opening += valueOf(line, line.opening);
        totals.received += valueOf(line, line.received);
        totals.returned += valueOf(line, line.returned);
        totals.issued += valueOf(line, line.issued + line.used);
        totals.wasted += valueOf(line, line.wasted);
        totals.adjusted += valueOf(line, line.adjusted);
        totals.closing += valueOf(line, line.closing);
        totals.expired += valueOf(line, line.expired);
        totals.expiredOnHand += valueOf(line, line.expiredOnHand);
        totals.homeUsed += line.homeUsed.count();
        totals.issuedEaches += line.issued.count();
        totals.wastedEaches += line.wasted.count() + line.homeWasted.count();
    }
    return totals;
}

std::optional<double> spoilageOf(const MonthTotals &totals) {
    if (totals.issuedEaches <= 0)
        return std::nullopt;
    return static_cast<double>(totals.wastedEaches) / static_cast<double>(totals.issuedEaches);
}

std::optional<double> usePerPatientDay(const MonthClose &close, Eaches used) {
    if (close.patientDays <= 0)
        return std::nullopt;
    return static_cast<double>(used.count()) / static_cast<double>(close.patientDays);
}

} // namespace kitround::supply
