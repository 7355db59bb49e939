#pragma once
// The clerk's lists on paper: what falls due, the month's books, first deliveries, and the slip that goes
// into a parcel.
#include "core/desk/paper/Papers.h"

namespace kitround::desk {

Paper expiryPaper(const StockPicture &stock);
Paper monthPaper(const Agency &agency, const supply::MonthBooks &books);
Paper startUpPaper(const StockPicture &stock);
// One delivery: what is in it by lot, room for who took it, and the agency's own words on used bottles.
Paper deliverySlip(const Agency &agency, const Delivery &delivery);

} // namespace kitround::desk
