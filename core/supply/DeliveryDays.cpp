#include "core/supply/DeliveryDays.h"

#include "core/calendar/Holidays.h"

#include <algorithm>
#include <tuple>

namespace kitround::supply {
namespace {

constexpr std::int64_t kDaysBeyond = 183;

bool bringsGoods(const Visit &visit, Date today) {
    return (visit.status == VisitStatus::Drafted || visit.status == VisitStatus::Published) &&
           visit.kind != VisitKind::Phone && visit.on && *visit.on > today;
}

Date lastOfficeDayBefore(const CourierCalendar &courier, Date date, Date today) {
    Date day = date.plusDays(-1);
    while (day > today && !courier.isOfficeDay(day))
        day = day.plusDays(-1);
    return std::max(day, today);
}

} // namespace

bool isHoliday(const AgencySettings &settings, Date date) {
    return calendar::holidayOn(date).has_value() ||
           std::ranges::find(settings.ownHolidays, date) != settings.ownHolidays.end();
}

CourierCalendar::CourierCalendar(const AgencySettings &settings, LocalTime now, Days horizon)
    : now_(now), days_(WeekdaySet::fromBits(static_cast<unsigned>(settings[SettingKey::CourierDays]))),
      lead_(settings[SettingKey::CourierLeadDays]) {
    const std::int64_t length = horizon.count() + kDaysBeyond;
    for (std::int64_t i = 0; i < length; ++i) {
        const Date date = now.date.plusDays(i);
        const bool open = !isHoliday(settings, date);
        runs_.push_back(open && days_.contains(date.weekday()));
        office_.push_back(open && WeekdaySet::mondayToFriday().contains(date.weekday()));
    }
    const bool isToday = runsOn(now.date) && now.minute.count() < settings[SettingKey::CourierCutOffMinute];
    earliest_ = firstOnOrAfter(isToday ? now.date : now.date.plusDays(1));
    for (std::int64_t step = 0; step < lead_ && earliest_; ++step)
        earliest_ = firstOnOrAfter(earliest_->plusDays(1));
}

std::size_t CourierCalendar::indexOf(Date date) const {
    return static_cast<std::size_t>((date - now_.date).count());
}
bool CourierCalendar::isInside(Date date) const {
    return date >= now_.date && indexOf(date) < runs_.size();
}

bool CourierCalendar::runsOn(Date date) const {
    return isInside(date) && runs_[indexOf(date)];
}
bool CourierCalendar::isOfficeDay(Date date) const {
    return isInside(date) && office_[indexOf(date)];
}
std::optional<Date> CourierCalendar::earliest() const {
    return earliest_;
}

std::optional<Date> CourierCalendar::firstOnOrAfter(Date date) const {
    for (date = std::max(date, now_.date); isInside(date); ++date)
        if (runsOn(date))
            return date;
    return std::nullopt;
}

Date CourierCalendar::handOverFor(Date delivery) const {
    Date day = delivery;
    for (std::int64_t step = 0; step < lead_ && day > now_.date; ++step)
        do
            day = day.plusDays(-1);
        while (day > now_.date && !runsOn(day));
    return std::max(day, now_.date);
}

std::vector<DeliveryDay> deliveryDays(const SnapshotIndex &agency, const Patient &patient,
                                      const CourierCalendar &courier, Date until) {
    const Date today = agency.snapshot().asOf;
    std::vector<DeliveryDay> days;
    for (const Visit *visit : agency.visitsOf(patient.id))
        if (bringsGoods(*visit, today) && *visit->on <= until)
            days.push_back({*visit->on, DeliveryWay::WithVisit, visit->id,
                            lastOfficeDayBefore(courier, *visit->on, today)});
    if (patient.allowsCourier && courier.earliest())
        for (Date date = *courier.earliest(); date <= until; ++date)
            if (courier.runsOn(date))
                days.push_back({date, DeliveryWay::Courier, std::nullopt, courier.handOverFor(date)});
    std::erase_if(days, [&](const DeliveryDay &d) { return agency.holdOn(patient.id, d.on) != nullptr; });
    std::ranges::stable_sort(days, {}, [](const DeliveryDay &d) {
        return std::tuple(d.on, d.way == DeliveryWay::Courier, d.visit.value_or(VisitId{}));
    });
    return days;
}

} // namespace kitround::supply
