#pragma once
// The days on which something can reach a home: courier days, by the courier's lead time and cut-off, and
// days of visits already planned. Federal and the agency's own holidays are no courier days.
#include "core/records/Snapshot.h"

#include <optional>
#include <vector>

namespace kitround::supply {

// Built once for an agency and a moment; look-ups are constant time.
class CourierCalendar {
public:
    // Looks from the snapshot's date `horizon` days ahead, and half a year more for what comes after.
    CourierCalendar(const AgencySettings &settings, LocalTime now, Days horizon);

    bool runsOn(Date date) const;
    // Monday to Friday and no holiday: somebody is there to call the home.
    bool isOfficeDay(Date date) const;
    // Day of delivery of a parcel handed over now: today's cut-off, then the lead time in courier days.
    // Nothing where no courier runs.
    std::optional<Date> earliest() const;
    std::optional<Date> firstOnOrAfter(Date date) const;
    // Last day to hand over a parcel for that delivery day; never before today.
    Date handOverFor(Date delivery) const;

private:
    std::size_t indexOf(Date date) const;
    bool isInside(Date date) const;

    LocalTime now_;
    WeekdaySet days_;
    std::int64_t lead_ = 0;
    std::vector<bool> runs_;
    std::vector<bool> office_;
    std::optional<Date> earliest_;
};

// Federal or the agency's own: no courier runs, nobody calls.
bool isHoliday(const AgencySettings &settings, Date date);

struct DeliveryDay {
    Date on;
    DeliveryWay way = DeliveryWay::Courier;
    std::optional<VisitId> visit;
    Date
        callBy; // last day to ask the home: hand-over to the courier, or the last office day before the visit
    friend bool operator==(const DeliveryDay &, const DeliveryDay &) = default;
};
// Possibilities of one patient after today, up to and with `until`, by day; on a day that has both, the visit
// comes first. Days on hold have none; visits by phone bring nothing.
std::vector<DeliveryDay> deliveryDays(const SnapshotIndex &agency, const Patient &patient,
                                      const CourierCalendar &courier, Date until);

} // namespace kitround::supply
