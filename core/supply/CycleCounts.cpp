#include "core/supply/CycleCounts.h"

#include "core/supply/CarStock.h"
#include "core/supply/OrderTerms.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>

namespace kitround::supply {
namespace {

constexpr double kDaysOfYear = 365;

void setClasses(std::vector<CountDue> &items, const CountRules &rules) {
    std::ranges::stable_sort(items, std::greater<>(), &CountDue::yearlyValue);
    double total = 0, before = 0;
    for (const CountDue &item : items)
        total += static_cast<double>(item.yearlyValue.count());
    for (CountDue &item : items) {
        const auto value = static_cast<double>(item.yearlyValue.count());
        if (value > 0) // the item that crosses a border belongs above it
            item.countClass = before < rules.shareA * total    ? StockClass::A
                              : before < rules.shareAB * total ? StockClass::B
                                                               : StockClass::C;
        before += value;
    }
}

Days interval(StockClass countClass, const CountRules &rules) {
    switch (countClass) {
    case StockClass::A:
        return rules.everyA;
    case StockClass::B:
        return rules.everyB;
    case StockClass::C:
        return rules.everyC;
    }
    return rules.everyA;
}

} // namespace

CountRules countRulesOf(const AgencySettings &settings) {
    return {static_cast<double>(settings[SettingKey::ClassASharePercent]) / 100.0,
            static_cast<double>(settings[SettingKey::ClassBSharePercent]) / 100.0,
            Days::of(settings[SettingKey::CountDaysA]),
            Days::of(settings[SettingKey::CountDaysB]),
            Days::of(settings[SettingKey::CountDaysC]),
            Money::of(settings[SettingKey::CountSecondPersonMinor])};
}

int openPicksOf(const SnapshotIndex &agency, ItemId item) {
    return static_cast<int>(std::ranges::count_if(agency.snapshot().deliveries, [&](const Delivery &d) {
        return d.status == DeliveryStatus::Picked && !hasLeftStoreroom(d) &&
               std::ranges::any_of(d.lines, [&](const DeliveryLine &l) { return l.item == item; });
    }));
}

double minorPerEach(const SnapshotIndex &agency, ItemId item) {
    const auto offers = offersFor(agency, item);
    if (offers.empty())
        return 0;
    return static_cast<double>(offers.front()->perCase.count()) /
           static_cast<double>(offers.front()->pack.eachesPerCase.count());
}

bool looksLikeWrongUnit(Eaches ledger, Eaches counted, PackSize casePack) {
    const std::int64_t pack = casePack.eachesPerCase.count();
    if (pack <= 1 || ledger == counted || ledger.count() <= 0 || counted.count() <= 0)
        return false;
    return ledger.count() == counted.count() * pack || counted.count() == ledger.count() * pack;
}

std::vector<CountDue> countsDue(const SnapshotIndex &agency, const std::map<ItemId, double> &perDay,
                                const std::map<ItemId, Date> &lastCounted, const CountRules &rules) {
    std::set<ItemId> standing;
    for (const StockBalance &balance : agency.balancesAt(Place::storeroom()))
        if (!balance.quantity.isZero())
            standing.insert(balance.item);
    std::vector<CountDue> items;
    for (const Item &item : agency.snapshot().items) {
        if (!item.isActive && !standing.contains(item.id))
            continue;
        CountDue due;
        due.item = item.id;
        const auto use = perDay.find(item.id);
        if (use != perDay.end())
            due.yearlyValue =
                Money::of(std::llround(use->second * kDaysOfYear * minorPerEach(agency, item.id)));
        if (const auto last = lastCounted.find(item.id); last != lastCounted.end())
            due.lastCounted = last->second;
        due.openPicks = openPicksOf(agency, item.id);
        items.push_back(due);
    }
    setClasses(items, rules);
    for (CountDue &item : items)
        item.dueOn =
            item.lastCounted ? *item.lastCounted + interval(item.countClass, rules) : agency.snapshot().asOf;
    std::ranges::stable_sort(items, [](const CountDue &a, const CountDue &b) {
        return std::tuple(a.dueOn, -a.yearlyValue.count(), a.item) <
               std::tuple(b.dueOn, -b.yearlyValue.count(), b.item);
    });
    return items;
}

} // namespace kitround::supply
