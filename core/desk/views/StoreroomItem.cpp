#include "core/desk/views/StoreroomItem.h"

#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/Ledger.h"
#include "core/supply/Lots.h"
#include "core/supply/OpenOrders.h"
#include "core/supply/Storeroom.h"

#include <QStringList>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <tuple>

namespace kitround::desk {
namespace {

Eaches *cellOf(LotRow &row, PlaceKind kind) {
    switch (kind) {
    case PlaceKind::Storeroom:
        return &row.storeroom;
    case PlaceKind::Quarantine:
        return &row.quarantine;
    case PlaceKind::Car:
        return &row.cars;
    case PlaceKind::Transit:
        return &row.transit;
    case PlaceKind::Home:
        return &row.homes;
    default:
        return nullptr;
    }
}

LotRow newRow(const Agency &agency, const Item *item, std::optional<LotId> lot) {
    LotRow row;
    row.lot = lot;
    const Lot *record = lot ? agency.index().lot(*lot) : nullptr;
    row.number = record ? fromStd(record->number) : Text::tr("lot not written down");
    if (!record)
        return row;
    row.lotState = record->state;
    row.expiresOn = record->expiresOn;
    row.isExpired = record->expiresOn && *record->expiresOn < agency.today();
    row.isShortDated =
        !row.isExpired && item && supply::isShortDated(*record, agency.today(), item->leastLifeToHome);
    row.state = words(record->state);
    if (row.isExpired)
        row.state = Text::tr("expired");
    else if (row.isShortDated && record->state == LotState::Usable)
        row.state = Text::tr("short-dated: given last");
    return row;
}

// Below nought somewhere: what was used had no lot on record, and comes off the lots that were sent there.
void explainLess(LotRow &row) {
    if (!row.lot &&
        std::ranges::any_of(std::array{row.storeroom, row.quarantine, row.cars, row.transit, row.homes},
                            [](Eaches there) { return there.isNegative(); }))
        row.state = Text::tr("used from stock without a lot on record: there is less of the other lots");
}

} // namespace

std::vector<LotRow> lotRows(const Agency &agency, ItemId itemId) {
    const Item *item = agency.index().item(itemId);
    std::map<std::optional<LotId>, LotRow> byLot;
    for (const StockBalance &balance : agency.snapshot().balances) {
        if (balance.item != itemId)
            continue;
        const auto at = byLot.try_emplace(balance.lot, newRow(agency, item, balance.lot)).first;
        if (Eaches *cell = cellOf(at->second, balance.place.kind))
            *cell += balance.quantity;
    }
    std::vector<LotRow> rows;
    for (auto &[lot, row] : byLot) {
        explainLess(row);
        rows.push_back(std::move(row));
    }
    const auto key = [](const LotRow &r) {
        return std::tuple(r.expiresOn ? r.expiresOn->dayNumber() : std::int64_t{1} << 30, r.number, r.lot);
    };
    std::ranges::stable_sort(rows, [&](const LotRow &a, const LotRow &b) { return key(a) < key(b); });
    return rows;
}

std::vector<OpenOrderRow> openOrderRows(const Agency &agency, ItemId item) {
    std::vector<OpenOrderRow> rows;
    for (const supply::OpenLine &line : supply::openLines(agency.index())) {
        if (line.item != item)
            continue;
        const PurchaseOrder *order = agency.index().purchaseOrder(line.order);
        const Supplier *supplier = agency.index().supplier(line.supplier);
        rows.push_back({line.order, order ? fromStd(order->number) : QString(),
                        supplier ? fromStd(supplier->name) : QString(), line.quantity, line.expectedOn,
                        line.isBackordered});
    }
    return rows;
}

std::vector<StoreroomWeek> storeroomWeeks(const Agency &agency, Eaches free,
                                          const std::vector<double> &demand,
                                          const std::vector<OpenOrderRow> &open,
                                          const std::vector<DemandBand> &bands) {
    std::vector<StoreroomWeek> weeks;
    double left = static_cast<double>(free.count());
    Eaches come = free; // with all that has arrived
    Date from = agency.today();
    for (const double mean : demand) {
        StoreroomWeek week;
        week.from = from;
        week.demand = mean;
        for (const OpenOrderRow &order : open)
            if (DateRange{from, from.plusDays(7)}.contains(order.expectedOn))
                week.arriving += order.quantity;
        left += static_cast<double>(week.arriving.count()) - mean;
        week.left = left;
        come += week.arriving;
        if (weeks.size() < bands.size()) {
            const DemandBand &band = bands[weeks.size()];
            week.leftLow = static_cast<double>(come.count() - band.p90);
            week.leftHigh = static_cast<double>(come.count() - band.p10);
        }
        weeks.push_back(week);
        from = from.plusDays(7);
    }
    return weeks;
}

QString leftText(double left) {
    const auto eaches = std::llround(left);
    return eaches < 0 ? Text::tr("short by %1").arg(numberText(-eaches)) : numberText(eaches);
}

namespace {

// Week by week over all items: a home's deliveries are worked out once for the days asked last.
void addBands(std::map<ItemId, ItemOutlook> &outlooks, const supply::StoreroomModel &model,
              const std::stop_token &stop) {
    constexpr std::size_t kWeeks = 12;
    for (std::size_t week = 1; week <= kWeeks; ++week)
        for (auto &[item, outlook] : outlooks) {
            if (stop.stop_requested())
                return;
            const forecast::Pmf demand =
                model.demand(item, Days::of(7 * static_cast<std::int64_t>(week))).total;
            outlook.bands.push_back({demand.quantile(0.1), demand.quantile(0.9)});
        }
}

} // namespace

std::map<ItemId, ItemOutlook> itemOutlooks(const StockPicture &picture, const std::stop_token &stop) {
    if (stop.stop_requested())
        return {};
    const Agency &agency = *picture.agency;
    const supply::StoreroomModel model(agency.index(), picture.homes);
    const auto positions = supply::positionsOf(agency.index());
    supply::TermsBook terms(agency.index());
    std::map<ItemId, ItemOutlook> outlooks;
    for (const ItemId item : model.items()) {
        if (stop.stop_requested())
            return outlooks;
        ItemOutlook outlook;
        outlook.demand = model.meanByWeek(item);
        outlook.fromReferrals = model.meanFromReferrals(item, Days::of(7 * std::ssize(outlook.demand)));
        const auto stands = positions.find(item);
        const Eaches free = stands == positions.end() ? Eaches{} : stands->second.free();
        std::vector<double> left;
        for (const StoreroomWeek &week :
             storeroomWeeks(agency, free, outlook.demand, openOrderRows(agency, item)))
            left.push_back(week.left);
        const auto offers = supply::offersFor(agency.index(), item);
        const SupplierItem *offer = offers.empty() ? nullptr : offers.front();
        outlook.opinion = supply::costOpinion(agency.settings(), model, item,
                                              terms.of(offer ? offer->supplier : SupplierId{}), offer, left);
        outlooks.emplace(item, std::move(outlook));
    }
    addBands(outlooks, model, stop);
    return outlooks;
}

QString opinionText(const Agency &agency, const ItemOutlook &outlook, std::optional<Eaches> orderUpTo) {
    QString text;
    if (const QString referrals = referralsText(outlook.fromReferrals, agency.index()); !referrals.isEmpty())
        text = Text::tr("%1 eaches are expected to be asked for in 12 weeks. %2")
                   .arg(shortNumber(std::accumulate(outlook.demand.begin(), outlook.demand.end(), 0.0)),
                        referrals);
    if (!outlook.opinion)
        return text;
    const supply::CostOpinion &opinion = *outlook.opinion;
    text += text.isEmpty() ? QString() : QStringLiteral(" ");
    text += Text::tr(
                "By cost alone, watched every day: with %1 or fewer free and on order, fill up to %2 eaches.")
                .arg(opinion.watched.least)
                .arg(opinion.watched.most);
    if (orderUpTo)
        text += u' ' + Text::tr("The agency's rule orders up to %1.").arg(numberText(orderUpTo->count()));
    QStringList weeks;
    for (std::size_t i = 0; i < opinion.orders.orders.size(); ++i)
        if (opinion.orders.orders[i] > 0)
            weeks << dayText(agency.today().plusDays(7 * static_cast<std::int64_t>(i)));
    text += u' ' + (weeks.isEmpty()
                        ? Text::tr("The coming 12 weeks need no order on average.")
                        : Text::tr("For average demand orders would be cheapest for the weeks from %1.")
                              .arg(weeks.join(QStringLiteral(", "))));
    return text + u' ' +
           Text::tr("A second opinion: order work, keeping, and a courier a day for a piece missing.");
}

} // namespace kitround::desk
