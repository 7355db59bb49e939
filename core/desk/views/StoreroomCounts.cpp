#include "core/desk/views/StoreroomCounts.h"

#include "core/desk/views/LocalTimes.h"

#include <algorithm>
#include <set>

namespace kitround::desk {
namespace {

constexpr std::int64_t kMostNotes = 500; // of one item, newest first

void keepLatest(std::map<ItemId, Date> &last, ItemId item, Date on) {
    const auto [at, isNew] = last.try_emplace(item, on);
    if (!isNew)
        at->second = std::max(at->second, on);
}

} // namespace

Result<std::map<ItemId, Date>> lastStoreroomCounts(Desk &desk) {
    std::map<ItemId, Date> last;
    const AgencyPtr agency = desk.agency();
    for (const Item &item : agency->snapshot().items) {
        const auto movements = desk.movementsAt(Place::storeroom(), item.id);
        if (!movements)
            return movements.error();
        const auto notes = desk.audit(kMostNotes, "item", item.id.value());
        if (!notes)
            return notes.error();
        std::set<Date> inPart;
        for (const AuditEntry &note : *notes) {
            if (note.action != AuditAction::View)
                continue;
            // Nothing is counted after the day on which the file is read.
            const Date on = std::min(agency->today(), localTimeOf(*agency, note.at).date);
            if (note.after.find(kCountedWhole) != std::string::npos)
                keepLatest(last, item.id, on);
            else if (note.after.find(kCountedInPart) != std::string::npos)
                inPart.insert(on);
        }
        // What was counted before whole counts were noted, the ledger alone tells.
        for (const StockMovement &m : *movements)
            if (m.reason == MovementReason::Count && !inPart.contains(m.at.date))
                keepLatest(last, item.id, m.at.date);
    }
    return last;
}

} // namespace kitround::desk
