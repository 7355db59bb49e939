#pragma once
// The holidays of the coming weeks by patient: which visits would fall on a closed day, what was moved
// already, which homes must have their supplies before because no courier comes, and by when a parcel has to
// be handed over. A list to work from: it moves nothing, and keeps to the ordered frequency and to the refill
// rule of whoever pays.
#include "core/desk/views/StockView.h"

#include <stop_token>

namespace kitround::desk {

struct ClosedDay {
    Date on;
    QString name; // of the holiday; "no courier" for a weekend beside it
    bool isHoliday = false;
    bool hasVisits = false; // visits are made all the same
};
// Days in a row without a courier, at least one of them a holiday.
struct HolidayStretch {
    DateRange days;
    std::vector<ClosedDay> closed;
    std::optional<Date> lastCourier;  // last delivery day before, from today on
    std::optional<Date> handOver;     // last day to hand that parcel over (the cut-off)
    std::optional<Date> firstCourier; // first delivery day after
    bool isTwoInARow() const { return days.length() >= Days::of(2); }
};
struct HolidayHome {
    PatientId patient;
    QString who;
    std::size_t stretch = 0; // index into HolidayPlan::stretches
    // Visits of the week that holds the closed day.
    int owed = 0, openDays = 0;
    std::vector<Date> onClosed; // planned there, or where the home is usually visited on that weekday
    bool isUsual = false;       // by habit only: nothing is planned yet
    std::vector<Date> planned;  // open days of that week with a visit planned
    bool fitsNot = false;       // more owed than days open: the frequency would be broken
    // The visits still want somebody's decision: they do not fit, or stand on a closed day and nowhere else.
    bool isOpen() const { return fitsNot || (!onClosed.empty() && planned.empty()); }
    // Supplies.
    std::optional<Date> dryBy;     // in 1 of 10 cases
    double chanceDry = 0;          // before the first delivery after
    bool needsStock = false;       // above the accepted chance
    bool isUnknown = false;        // never counted: nobody can tell
    std::optional<Date> payerFrom; // the payer allows nothing before; set where that is after lastCourier
};
struct HolidayPlan {
    std::vector<HolidayStretch> stretches; // by day
    std::vector<HolidayHome> homes; // by stretch, those that need something; supplies first, then visits
};
// `weeks` 1..12 from today. Asked to stop, it leaves off between two homes; what it then gives is not whole.
HolidayPlan holidayPlan(const StockPicture &stock, int weeks, std::stop_token stop = {});
QString stretchText(const HolidayStretch &stretch, Date today); // days, names, cut-off, in a sentence or two
QString visitText(const HolidayHome &home);
QString stockText(const HolidayPlan &plan, const HolidayHome &home);
Table holidayTable(const HolidayPlan &plan, const Agency &agency); // patients by code and initials

} // namespace kitround::desk
