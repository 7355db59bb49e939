#include "core/supply/StartUps.h"

#include "core/supply/DeliveryDays.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace kitround::supply {
namespace {

constexpr Days kLookAhead = Days::of(28);
constexpr Days kNewFor = Days::of(7); // later a home has had supplies from somewhere (assumed)

bool goesTo(const Delivery &delivery, CatheterId home) {
    return std::ranges::any_of(delivery.lines, [&](const DeliveryLine &line) {
        return line.catheter == home && !line.arrived().isZero();
    });
}

bool isNew(const SnapshotIndex &agency, const Catheter &catheter) {
    return agency.isInService(catheter) && awaitsFirstDelivery(agency, catheter) &&
           !isOnItsWay(agency, catheter) && !isInUse(agency, catheter);
}

// Days from today to the first day on which the plain rule opens something.
std::optional<std::size_t> firstUse(const forecast::ItemForecast &forecast) {
    const auto &plain = forecast.plain.cumulated;
    const auto first = std::ranges::find_if(plain, [](std::int64_t sum) { return sum > 0; });
    if (first == plain.end())
        return std::nullopt;
    return static_cast<std::size_t>(first - plain.begin());
}

std::int64_t plainUseFrom(const forecast::ItemForecast &forecast, std::size_t first, std::int64_t days) {
    const auto &plain = forecast.plain.cumulated;
    if (plain.empty() || days <= 0)
        return 0;
    const std::size_t last = std::min(first + static_cast<std::size_t>(days), plain.size()) - 1;
    return plain[last] - (first > 0 ? plain[first - 1] : 0);
}

class Starting {
public:
    Starting(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts)
        : agency_(agency), today_(agency.snapshot().asOf),
          starterDays_(agency.snapshot().settings[SettingKey::StarterDays]),
          courier_(agency.snapshot().settings, agency.snapshot().now, kLookAhead) {
        for (const forecast::ItemForecast &forecast : forecasts)
            forecasts_[forecast.catheter].push_back(&forecast);
    }

    StartUp of(const Catheter &catheter) {
        StartUp start;
        start.patient = catheter.patient;
        start.catheter = catheter.id;
        const Patient &patient = *agency_.patient(catheter.patient);
        const auto items = forecasts_.find(catheter.id);
        if (items == forecasts_.end()) {
            start.gaps.push_back(StartUpGap::NoOrder);
        } else {
            std::optional<std::size_t> first;
            for (const forecast::ItemForecast *item : items->second)
                if (const auto use = firstUse(*item); use && (!first || *use < *first))
                    first = use;
            if (first)
                start.firstDrain = today_.plusDays(static_cast<std::int64_t>(*first));
            else
                start.gaps.push_back(StartUpGap::NoMaximum);
            for (const forecast::ItemForecast *item : items->second)
                addLine(start, *item, patient, catheter, first.value_or(0));
        }
        setDay(start, patient);
        return start;
    }

private:
    void addLine(StartUp &start, const forecast::ItemForecast &forecast, const Patient &patient,
                 const Catheter &catheter, std::size_t first) {
        const Item *item = agency_.item(forecast.item);
        if (!item)
            return;
        StartUpLine line;
        line.item = item->id;
        line.quantity = Eaches::of(plainUseFrom(forecast, first, starterDays_));
        if (item->sendWholeCases)
            line.quantity = toEaches(casesCovering(line.quantity, item->casePack), item->casePack);
        line.bar = barOf(agency_, *item, patient, catheter);
        if (line.bar) {
            for (const Item &other : agency_.snapshot().items)
                if (other.isActive && other.id != item->id && other.kind == item->kind &&
                    other.bottleVolume == item->bottleVolume && !barOf(agency_, other, patient, catheter))
                    line.wouldFit.push_back(other.id);
            if (std::ranges::find(start.gaps, StartUpGap::BarredItem) == start.gaps.end())
                start.gaps.push_back(StartUpGap::BarredItem);
        }
        start.lines.push_back(std::move(line));
    }

    void setDay(StartUp &start, const Patient &patient) {
        const auto days = deliveryDays(agency_, patient, courier_, today_ + kLookAhead);
        const DeliveryDay *chosen = nullptr;
        for (const DeliveryDay &day : days)
            if (start.firstDrain && day.on < *start.firstDrain &&
                (!chosen || day.on > chosen->on)) // of one day's ways the visit is listed first
                chosen = &day;
        if (!chosen && !days.empty()) {
            chosen = &days.front();
            start.isLate = start.firstDrain.has_value();
        }
        if (!chosen) {
            start.gaps.push_back(StartUpGap::NoWay);
            return;
        }
        start.deliverOn = chosen->on;
        start.way = chosen->way;
        start.visit = chosen->visit;
    }

    const SnapshotIndex &agency_;
    Date today_;
    std::int64_t starterDays_;
    CourierCalendar courier_;
    std::map<CatheterId, std::vector<const forecast::ItemForecast *>> forecasts_;
};

} // namespace

bool awaitsFirstDelivery(const SnapshotIndex &agency, const Catheter &catheter) {
    if (!agency.entriesOf(catheter.id).empty() || !agency.countsOf(catheter.id).empty() ||
        !agency.balancesAt(Place::home(catheter.id)).empty())
        return false;
    return std::ranges::none_of(agency.deliveriesOf(catheter.patient), [&](const Delivery *delivery) {
        return delivery->status == DeliveryStatus::Delivered && goesTo(*delivery, catheter.id);
    });
}

bool isInUse(const SnapshotIndex &agency, const Catheter &catheter) {
    const Patient *patient = agency.patient(catheter.patient);
    const Date today = agency.snapshot().asOf, since = today - kNewFor;
    const DrainOrder *order = agency.orderInForce(catheter.id, today);
    return patient && patient->status == CareStatus::Active && order && order->start < since &&
           patient->startOfCare.value_or(Date::fromDayNumber(0)) < since &&
           catheter.insertedOn.value_or(Date::fromDayNumber(0)) < since;
}

bool isOnItsWay(const SnapshotIndex &agency, const Catheter &catheter) {
    return std::ranges::any_of(agency.deliveriesOf(catheter.patient), [&](const Delivery *delivery) {
        return delivery->status != DeliveryStatus::Cancelled &&
               delivery->status != DeliveryStatus::Delivered && goesTo(*delivery, catheter.id);
    });
}

std::vector<StartUp> startUps(const SnapshotIndex &agency,
                              std::span<const forecast::ItemForecast> forecasts) {
    Starting starting(agency, forecasts);
    std::vector<StartUp> starts;
    for (const Catheter &catheter : agency.snapshot().catheters)
        if (agency.patient(catheter.patient) && isNew(agency, catheter))
            starts.push_back(starting.of(catheter));
    std::ranges::stable_sort(starts, {}, [](const StartUp &s) {
        return std::tuple(!s.firstDrain, s.firstDrain.value_or(Date()), s.patient, s.catheter);
    });
    return starts;
}

Delivery deliveryFor(const StartUp &start) {
    Delivery delivery;
    delivery.patient = start.patient;
    delivery.way = start.way;
    delivery.visit = start.visit;
    delivery.promisedFor = start.deliverOn.value_or(Date());
    if (start.firstDrain)
        delivery.deliverBy = start.firstDrain->plusDays(-1);
    for (const StartUpLine &line : start.lines)
        if (!line.bar && line.quantity.count() > 0)
            delivery.lines.push_back({start.catheter, line.item, std::nullopt, line.quantity});
    return delivery;
}

bool isMoreThanStarter(const StartUp &start, const Delivery &wanted) {
    std::map<ItemId, Eaches> over;
    for (const DeliveryLine &line : wanted.lines)
        over[line.item] += line.quantity;
    for (const StartUpLine &line : start.lines)
        if (const auto found = over.find(line.item); found != over.end() && !line.bar)
            found->second -= line.quantity;
    return std::ranges::any_of(over, [](const auto &item) { return item.second.count() > 0; });
}

bool comesAfterFirstDrain(const StartUp &start, const Delivery &wanted) {
    return start.firstDrain && wanted.promisedFor >= *start.firstDrain &&
           (!start.deliverOn || wanted.promisedFor > *start.deliverOn);
}

} // namespace kitround::supply
