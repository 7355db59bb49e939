#pragma once
// The clerk's lists on paper: what falls due, the month's books, first deliveries.
#include "core/desk/paper/Papers.h"

namespace kitround::desk {

Paper expiryPaper(const StockPicture &stock);
Paper monthPaper(const Agency &agency, const supply::MonthBooks &books);
Paper startUpPaper(const StockPicture &stock);

} // namespace kitround::desk
