#include "core/desk/views/StockView.h"

#include "core/desk/views/HomeRisk.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/ItemReview.h"
#include "core/supply/Ledger.h"
#include "core/supply/OpenOrders.h"
#include "core/supply/OrderNumbers.h"
#include "core/supply/Storeroom.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace kitround::desk {
namespace {

constexpr double kMostDaysOfStock = 999;
constexpr Days kDemandDays = Days::of(28);

double chanceDryWithin(const forecast::ItemForecast &home, std::size_t days) {
    if (home.days.empty())
        return 0;
    return home.days[std::min(days, home.days.size()) - 1].chanceDry;
}

using HomeItem = std::pair<CatheterId, ItemId>;
std::map<HomeItem, Date> refillDays(const StockPicture &picture) {
    std::map<HomeItem, Date> days;
    for (const supply::RefillProposal &p : picture.refills)
        for (const supply::RefillLine &line : p.lines)
            days.try_emplace({line.catheter, line.item}, p.deliverBy);
    return days;
}

Date orNever(const std::optional<Date> &date) {
    return date ? *date : Date::fromDayNumber(1 << 24);
}

bool hasBackorder(const Snapshot &s, ItemId item) {
    for (const SupplierItem &offer : s.supplierItems)
        if (offer.item == item && offer.isPreferred && offer.backorderedUntil &&
            *offer.backorderedUntil > s.asOf)
            return true;
    for (const PurchaseOrder &order : s.purchaseOrders)
        if (order.status == PurchaseStatus::Sent || order.status == PurchaseStatus::PartlyReceived)
            for (const PurchaseLine &line : order.lines)
                if (line.item == item && line.backorderedUntil && *line.backorderedUntil > s.asOf)
                    return true;
    return false;
}

// The reorder list's own look at the item, whether it orders it or not.
void addRisk(StoreroomRow &row, const SnapshotIndex &index, const supply::StoreroomModel &model,
             supply::TermsBook &terms, const supply::Position &at) {
    const Item &item = *index.item(row.item);
    const auto offers = supply::offersFor(index, item.id);
    const SupplierItem *offer = offers.empty() ? nullptr : offers.front();
    const supply::Terms &bought = terms.of(offer ? offer->supplier : SupplierId{});
    const supply::ReorderLine line = supply::ItemReview(index, model, item, at, bought, offer).plan().line;
    row.orderUpTo = line.orderUpTo;
    row.nextReceipt = line.expectedOn;
    row.chanceShort = line.chanceShortBefore;
    const auto open = supply::openLines(index);
    const auto first = std::ranges::find(open, item.id, &supply::OpenLine::item);
    if (first != open.end()) {
        const Date today = index.snapshot().asOf;
        row.nextReceipt = first->expectedOn;
        row.chanceShort = std::max(
            row.chanceShort, model.demand(item.id, first->expectedOn - today).total.above(at.free().count()));
    }
    row.mayRunShort = row.chanceShort > 1 - static_cast<double>(line.servicePermille) / 1000.0;
}

StoreroomRow storeroomRow(const StockPicture &picture, const supply::StoreroomModel &model,
                          supply::TermsBook &terms, const Item &item) {
    const SnapshotIndex &index = picture.agency->index();
    const Snapshot &s = picture.agency->snapshot();
    StoreroomRow row;
    row.item = item.id;
    row.code = fromStd(item.code);
    row.name = fromStd(item.name);
    const supply::Position at = supply::positionOf(index, item.id);
    row.storeroom = at.storeroom;
    row.free = at.free();
    row.promised = at.promised;
    row.cars = at.cars;
    row.transit = at.transit;
    row.homes = at.homes;
    row.quarantine = at.quarantine;
    row.onOrder = at.onOrder;
    const double perDay = model.meanOver(item.id, kDemandDays) / static_cast<double>(kDemandDays.count());
    row.weeklyMean = perDay * 7;
    row.daysOfStock = kMostDaysOfStock;
    if (perDay * kMostDaysOfStock > static_cast<double>(std::max<std::int64_t>(row.free.count(), 0)))
        row.daysOfStock = std::max(0.0, static_cast<double>(row.free.count()) / perDay);
    for (const supply::SupplierReorder &order : picture.reorders)
        for (const supply::ReorderLine &line : order.lines)
            row.isToReorder = row.isToReorder || line.item == item.id;
    if (item.isActive)
        addRisk(row, index, model, terms, at);
    std::set<LotId> lots;
    for (const StockBalance &b : s.balances) {
        if (b.item != item.id || !b.lot)
            continue;
        const Lot *lot = index.lot(*b.lot);
        row.hasRecall = row.hasRecall || (lot && lot->state == LotState::Recalled && b.quantity.count() > 0);
        if (b.place.kind != PlaceKind::Storeroom || b.quantity.count() <= 0)
            continue;
        lots.insert(*b.lot);
        if (lot && lot->state == LotState::Usable && lot->expiresOn &&
            (!row.firstExpiry || *lot->expiresOn < *row.firstExpiry))
            row.firstExpiry = lot->expiresOn;
    }
    row.lots = static_cast<int>(lots.size());
    row.isBackordered = hasBackorder(s, item.id);
    return row;
}

// By day: what was agreed and is not on its way yet.
QString promisedTo(const SnapshotIndex &index, const forecast::ItemForecast &home, Date today) {
    std::map<Date, Eaches> days;
    for (const Delivery *delivery : index.deliveriesOf(home.patient))
        for (const DeliveryLine &line : delivery->lines)
            if (delivery->status == DeliveryStatus::Promised && line.catheter == home.catheter &&
                line.item == home.item)
                days[delivery->promisedFor] += line.quantity;
    QStringList parts;
    for (const auto &[on, units] : days)
        parts << promisedText(units, on, today);
    return parts.join(Text::tr(" and "));
}

} // namespace

HomeRisk riskOf(const HomeRow &row, const AgencySettings &settings) {
    if (row.isOnHold)
        return HomeRisk::OnHold;
    if (row.knowledge == forecast::StockKnowledge::Unknown)
        return HomeRisk::Unknown;
    const double target = static_cast<double>(settings[SettingKey::RunOutTargetPermille]) / 1000.0;
    return row.chanceDry7 > target || row.usable().count() <= 0 ? HomeRisk::AtRisk : HomeRisk::Enough;
}

Result<StockPicturePtr> computeStock(AgencyPtr agency, std::stop_token stop, const ProgressSink &progress) {
    const auto tell = [&](double share, std::string_view stage) {
        if (progress)
            progress({.share = share, .stage = stage});
    };
    Problem cancelled;
    cancelled.code = ProblemCode::Cancelled;
    auto picture = std::make_shared<StockPicture>();
    picture->agency = agency;
    const SnapshotIndex &index = agency->index();
    picture->figures = forecast::learnFigures(index);
    auto homes = forecast::forecastAll(index, {}, picture->figures, stop, [&](const Progress &p) {
        tell(p.share < 0 ? p.share : p.share * 0.9, "forecast");
    });
    if (!homes)
        return homes.error();
    picture->homes = *std::move(homes);
    if (stop.stop_requested())
        return cancelled;
    picture->refills = supply::proposeRefills(index, picture->homes);
    tell(0.93, "refills");
    if (stop.stop_requested())
        return cancelled;
    picture->reorders = supply::reorderList(index, picture->homes);
    tell(0.98, "reorders");
    picture->expiring = supply::expiringLots(index, Days::of(agency->settings()[SettingKey::ExpiryWarnDays]));
    tell(1.0, "forecast");
    return StockPicturePtr(std::move(picture));
}

std::vector<HomeRow> homeRows(const StockPicture &picture) {
    const SnapshotIndex &index = picture.agency->index();
    const AgencySettings &settings = picture.agency->settings();
    const std::map<HomeItem, Date> refills = refillDays(picture);
    std::vector<HomeRow> rows;
    for (std::size_t i = 0; i < picture.homes.size(); ++i) {
        const forecast::ItemForecast &home = picture.homes[i];
        HomeRow row;
        row.patient = home.patient;
        row.catheter = home.catheter;
        row.item = home.item;
        if (const Patient *patient = index.patient(home.patient))
            row.patientName = personName(*patient, index);
        if (const Catheter *catheter = index.catheter(home.catheter))
            row.place = catheterText(*catheter);
        if (const Item *item = index.item(home.item))
            row.itemName = fromStd(item->name);
        row.knowledge = home.knowledge;
        row.onHand = home.onHand;
        row.recalled = home.recalled;
        row.expired = home.expired;
        row.recall = recalledText(index, home.catheter, home.item);
        row.past = expiredText(index, home.catheter, home.item);
        row.runOutP10 = home.runOutP10;
        row.runOutP50 = home.runOutP50;
        row.chanceDry7 = chanceDryWithin(home, 7);
        row.daysOfSupply = home.daysOfSupply;
        if (const auto by = refills.find({home.catheter, home.item}); by != refills.end())
            row.refillBy = by->second;
        row.isOnHold = home.isOnHold;
        row.standIn = servedByStandIn(index, home.catheter, home.item, picture.agency->today());
        row.promised = promisedTo(index, home, picture.agency->today());
        row.forecast = i;
        rows.push_back(std::move(row));
    }
    const auto key = [&](const HomeRow &r) {
        return std::tuple(riskOf(r, settings), -r.chanceDry7, orNever(r.runOutP10), orNever(r.runOutP50),
                          r.daysOfSupply, r.patientName, r.catheter, r.item);
    };
    std::ranges::stable_sort(rows, [&](const HomeRow &a, const HomeRow &b) { return key(a) < key(b); });
    return rows;
}

std::vector<StoreroomRow> storeroomRows(const StockPicture &picture, const std::stop_token &stop) {
    const supply::StoreroomModel model(picture.agency->index(), picture.homes);
    supply::TermsBook terms(picture.agency->index());
    std::vector<StoreroomRow> rows;
    for (const Item &item : picture.agency->snapshot().items) {
        if (stop.stop_requested())
            break;
        StoreroomRow row = storeroomRow(picture, model, terms, item);
        const Eaches anywhere =
            row.storeroom + row.cars + row.transit + row.homes + row.quarantine + row.onOrder;
        if (item.isActive || !anywhere.isZero())
            rows.push_back(std::move(row));
    }
    std::ranges::stable_sort(rows, {}, [](const StoreroomRow &r) { return std::pair(r.code, r.item); });
    return rows;
}

void sortByRisk(std::vector<StoreroomRow> &rows) {
    const auto rank = [](const StoreroomRow &r) {
        return r.hasRecall                        ? 0
               : r.free.isNegative()              ? 1
               : r.mayRunShort || r.isBackordered ? 2
               : r.isToReorder                    ? 3
                                                  : 4;
    };
    std::ranges::stable_sort(rows, {}, [&](const StoreroomRow &r) {
        return std::tuple(rank(r), -r.chanceShort, r.daysOfStock, r.code, r.item);
    });
}

std::vector<PurchaseOrder> draftOrders(const StockPicture &picture) {
    const Snapshot &s = picture.agency->snapshot();
    std::vector<PurchaseOrder> drafts;
    for (const supply::SupplierReorder &reorder : picture.reorders) {
        const Supplier *supplier = picture.agency->index().supplier(reorder.supplier);
        if (!supplier)
            continue;
        PurchaseOrder order;
        order.number = supply::nextOrderNumber(s, drafts);
        order.supplier = reorder.supplier;
        for (const supply::ReorderLine &line : reorder.lines) {
            if (line.cases.count() <= 0)
                continue;
            order.lines.push_back({.item = line.item,
                                   .cases = line.cases,
                                   .pack = line.pack,
                                   .perCase = line.perCase,
                                   .received = {},
                                   .backorderedUntil = std::nullopt,
                                   .reason = reason(line, picture.agency->index()).toStdString()});
            if (!order.expectedOn || *order.expectedOn < line.expectedOn)
                order.expectedOn = line.expectedOn;
        }
        if (!order.lines.empty())
            drafts.push_back(std::move(order));
    }
    return drafts;
}

} // namespace kitround::desk
