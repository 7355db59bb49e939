#pragma once
// A month of the supply books: what stood at its start, what came, went and stands at its end, item by item,
// for the agency's own stock (storeroom, quarantine, cars, parcels under way). What stands in a home belongs
// to the patient and is not valued; its use is kept beside, for use a patient-day.
#include "core/base/Date.h"
#include "core/base/Money.h"
#include "core/records/Ids.h"
#include "core/records/Stock.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace kitround {

// Where the price of a line comes from: the order of the last receipt up to the month's last day, else the
// offer of today, else nobody knows it and the line is worth nothing.
enum class PriceSource : std::uint8_t { None, LastPaid, Offer };
struct MonthLine {
    ItemId item;
    Eaches opening;
    Eaches received; // from suppliers
    Eaches returned; // to suppliers
    Eaches issued;   // to homes, less what came back
    Eaches used;     // out of the agency's own stock
    Eaches wasted;   // written off, the expired among it
    Eaches adjusted; // counts and opening stock; may be negative
    Eaches closing;  // opening + received - returned - issued - used - wasted + adjusted
    Eaches expired;  // part of `wasted`: past its last day of use when written off
    Eaches homeUsed;
    Eaches homeWasted;
    Eaches expiredOnHand; // part of `closing`
    Money perCase;
    PackSize pack;
    PriceSource price = PriceSource::None;
    friend bool operator==(const MonthLine &, const MonthLine &) = default;
};
struct MonthClose {
    MonthCloseId id;
    Date month; // its first day
    bool isClosed = true;
    std::string closedBy;
    LocalTime closedAt;
    std::string reopenReason;     // of the last time it was opened again
    std::int64_t patientDays = 0; // on service, days away without draining taken out
    std::vector<MonthLine> lines;
    std::int64_t rowVersion = 0;
    friend bool operator==(const MonthClose &, const MonthClose &) = default;
};

// Everything of an item that went from one kind of place to another within some days.
struct MovementSum {
    ItemId item;
    PlaceKind from = PlaceKind::Supplier;
    PlaceKind to = PlaceKind::Storeroom;
    bool wasExpired = false; // past the lot's last day of use on the day of the movement
    Eaches quantity;
    friend bool operator==(const MovementSum &, const MovementSum &) = default;
};

// The first day on which stock may still move: the day after the last closed month; none where no month is
// closed. Months are closed one after the other, so everything before that day is closed.
std::optional<Date> firstOpenDay(std::span<const MonthClose> months);
// First days of the month that holds the day, and of the next one.
Date monthOf(Date day);
Date monthAfter(Date day);

} // namespace kitround
