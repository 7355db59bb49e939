#include "core/supply/OrderTerms.h"

#include "core/base/Require.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace kitround::supply {
namespace {

constexpr int kLongestClosure = 400; // days; a supplier closed for longer is not one

bool isClosed(const Supplier &supplier, Date date) {
    return std::ranges::find(supplier.closedOn, date) != supplier.closedOn.end();
}

bool takesOrders(const Supplier &supplier, Date date) {
    return (supplier.orderDays.isEmpty() || supplier.orderDays.contains(date.weekday())) &&
           !isClosed(supplier, date);
}

double priceEach(const SupplierItem &offer) {
    return static_cast<double>(offer.perCase.count()) / static_cast<double>(offer.pack.eachesPerCase.count());
}

} // namespace

OrderDay nextOrderDay(const Supplier &supplier, LocalTime now) {
    OrderDay day{now.date, false};
    if (takesOrders(supplier, now.date)) {
        if (now.minute < supplier.cutOff)
            return day;
        day.isPastCutOff = true;
    }
    for (int i = 1; i <= kLongestClosure; ++i) {
        day.on = now.date.plusDays(i);
        if (takesOrders(supplier, day.on))
            break;
    }
    return day;
}

Date expectedArrival(const Supplier *supplier, Date orderedOn, double meanLeadDays) {
    Date day = orderedOn.plusDays(static_cast<std::int64_t>(std::ceil(meanLeadDays)));
    for (int i = 0; i < kLongestClosure; ++i, ++day) {
        const bool isWeekend = !WeekdaySet::mondayToFriday().contains(day.weekday());
        if (!isWeekend && !(supplier && isClosed(*supplier, day)))
            break;
    }
    return day;
}

Date arrivalIfSent(const Supplier *supplier, LocalTime now, const LeadTime &lead) {
    const Date from = supplier && !lead.isLearned ? nextOrderDay(*supplier, now).on : now.date;
    return expectedArrival(supplier, from, lead.meanDays);
}

Cases casesToOrder(const OrderQuestion &question) {
    KITROUND_REQUIRE(question.pack.eachesPerCase.count() > 0);
    if (question.position > question.reorderPoint)
        return {};
    const Cases cases = casesCovering(question.orderUpTo - question.position, question.pack);
    return cases.isZero() ? cases : std::max(cases, question.leastLine);
}

Money priceFor(const SupplierItem &offer, Cases cases) {
    Money price = offer.perCase;
    Cases from;
    for (const PriceBreak &step : offer.breaks)
        if (step.from <= cases && step.from >= from) {
            from = step.from;
            price = step.perCase;
        }
    return price;
}

bool isBackordered(const SupplierItem &offer, Date today) {
    return offer.backorderedUntil && *offer.backorderedUntil > today;
}

std::vector<const SupplierItem *> offersFor(const SnapshotIndex &agency, ItemId item) {
    const Date today = agency.snapshot().asOf;
    std::vector<const SupplierItem *> offers;
    for (const SupplierItem &offer : agency.snapshot().supplierItems) {
        const Supplier *supplier = agency.supplier(offer.supplier);
        if (offer.item == item && !offer.isDiscontinued && supplier && supplier->isActive &&
            offer.pack.eachesPerCase.count() > 0)
            offers.push_back(&offer);
    }
    std::ranges::stable_sort(offers, {}, [&](const SupplierItem *o) {
        return std::tuple(isBackordered(*o, today), !o->isPreferred, priceEach(*o), o->id);
    });
    return offers;
}

} // namespace kitround::supply
