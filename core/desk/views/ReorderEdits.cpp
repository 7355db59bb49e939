#include "core/desk/views/ReorderEdits.h"

#include "core/desk/words/Text.h"
#include "core/supply/OrderTerms.h"

#include <algorithm>

namespace kitround::desk {
namespace {

const ReorderEdit *editOf(const std::vector<ReorderEdit> &edits, SupplierId supplier, ItemId item) {
    const auto found = std::ranges::find_if(
        edits, [&](const ReorderEdit &e) { return e.supplier == supplier && e.item == item; });
    return found == edits.end() ? nullptr : &*found;
}

const supply::ReorderLine *lineOf(const StockPicture &picture, SupplierId supplier, ItemId item) {
    for (const supply::SupplierReorder &reorder : picture.reorders)
        if (reorder.supplier == supplier)
            for (const supply::ReorderLine &line : reorder.lines)
                if (line.item == item)
                    return &line;
    return nullptr;
}

Cases casesOf(const std::vector<ReorderEdit> &edits, SupplierId supplier, const supply::ReorderLine &line) {
    const ReorderEdit *edit = editOf(edits, supplier, line.item);
    if (!edit)
        return line.cases;
    return edit->isLeftOut ? Cases{} : edit->cases;
}

} // namespace

Money pricePerCase(const StockPicture &picture, SupplierId supplier, const supply::ReorderLine &line,
                   Cases cases) {
    if (cases == line.cases)
        return line.perCase;
    for (const SupplierItem *offer : supply::offersFor(picture.agency->index(), line.item))
        if (offer->supplier == supplier && offer->pack == line.pack)
            return supply::priceFor(*offer, cases);
    return line.perCase;
}

QString nothingToOrderText(const Agency &agency) {
    const Snapshot &s = agency.snapshot();
    if (s.items.empty())
        return Text::tr("Nothing can be ordered yet: enter items, suppliers and offers under Items and "
                        "suppliers.");
    if (s.supplierItems.empty())
        return Text::tr("Nothing can be ordered yet: enter what suppliers offer under Items and suppliers.");
    if (s.catheters.empty())
        return Text::tr("No home uses anything yet, so nothing needs to be ordered.");
    return Text::tr("Nothing needs to be ordered.");
}

std::vector<ReorderSum> reorderSums(const StockPicture &picture, const std::vector<ReorderEdit> &edits) {
    std::vector<ReorderSum> sums;
    for (const supply::SupplierReorder &reorder : picture.reorders) {
        ReorderSum sum;
        sum.supplier = reorder.supplier;
        sum.leastOrder = reorder.leastOrder;
        for (const supply::ReorderLine &line : reorder.lines) {
            const Cases cases = casesOf(edits, reorder.supplier, line);
            if (cases.count() <= 0)
                continue;
            sum.total += pricePerCase(picture, reorder.supplier, line, cases) * cases.count();
            ++sum.lines;
        }
        sum.meetsMinimum = sum.total >= sum.leastOrder;
        sums.push_back(sum);
    }
    return sums;
}

std::vector<PurchaseOrder> draftOrders(const StockPicture &picture, const std::vector<ReorderEdit> &edits) {
    std::vector<PurchaseOrder> drafts = draftOrders(picture);
    for (PurchaseOrder &order : drafts) {
        for (PurchaseLine &line : order.lines) {
            const supply::ReorderLine *proposed = lineOf(picture, order.supplier, line.item);
            const Cases proposedCases = line.cases;
            line.cases = casesOf(edits, order.supplier, *proposed);
            line.perCase = pricePerCase(picture, order.supplier, *proposed, line.cases);
            if (line.cases != proposedCases && line.cases.count() > 0)
                line.reason = Text::tr("Changed by hand from %1 to %2 cases. Proposed: %3")
                                  .arg(proposedCases.count())
                                  .arg(line.cases.count())
                                  .arg(fromStd(line.reason))
                                  .toStdString();
        }
        std::erase_if(order.lines, [](const PurchaseLine &line) { return line.cases.count() <= 0; });
    }
    std::erase_if(drafts, [](const PurchaseOrder &order) { return order.lines.empty(); });
    return drafts;
}

} // namespace kitround::desk
