#pragma once
// The reorder list as a person changed it: other numbers of cases, lines left out; what that costs, and the
// drafts it makes.
#include "core/desk/views/StockView.h"

#include <vector>

namespace kitround::desk {

struct ReorderEdit {
    SupplierId supplier;
    ItemId item;
    Cases cases;
    bool isLeftOut = false;
};
struct ReorderSum { // one supplier, as edited
    SupplierId supplier;
    Money total;
    Money leastOrder;
    bool meetsMinimum = true;
    int lines = 0;
};
// Price of a case at that number of cases, price breaks counted; the line's own where nothing else is known.
Money pricePerCase(const StockPicture &picture, SupplierId supplier, const supply::ReorderLine &line,
                   Cases cases);
std::vector<ReorderSum> reorderSums(const StockPicture &picture, const std::vector<ReorderEdit> &edits);
// As draftOrders(picture), with the edits in place. Orders without a line are left out.
std::vector<PurchaseOrder> draftOrders(const StockPicture &picture, const std::vector<ReorderEdit> &edits);
// Of an empty list: that the shelf has enough, or what is still to be set up before anything can be ordered.
QString nothingToOrderText(const Agency &agency);

} // namespace kitround::desk
