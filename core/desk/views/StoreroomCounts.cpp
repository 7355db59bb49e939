#include "core/desk/views/StoreroomCounts.h"

#include <algorithm>
#include <cmath>

namespace kitround::desk {
namespace {

constexpr std::int64_t kMostNotes = 500; // of one item, newest first

void keepLatest(std::map<ItemId, Date> &last, ItemId item, Date on) {
    const auto [at, isNew] = last.try_emplace(item, on);
    if (!isNew)
        at->second = std::max(at->second, on);
}

Problem fault(ProblemCode code, const char *field, std::vector<std::string> args = {}) {
    Problem p;
    p.code = code;
    p.field = field;
    p.args = std::move(args);
    return p;
}

} // namespace

Result<std::map<ItemId, Date>> lastStoreroomCounts(Desk &desk) {
    std::map<ItemId, Date> last;
    const AgencyPtr agency = desk.agency();
    for (const Item &item : agency->snapshot().items) {
        const auto movements = desk.movementsAt(Place::storeroom(), item.id);
        if (!movements)
            return movements.error();
        for (const StockMovement &m : *movements)
            if (m.reason == MovementReason::Count)
                keepLatest(last, item.id, m.at.date);
        // A count that agreed moved nothing; it is in the record of changes.
        const auto notes = desk.audit(kMostNotes, "item", item.id.value());
        if (!notes)
            return notes.error();
        for (const AuditEntry &note : *notes)
            if (note.action == AuditAction::View && note.after.find("counted:") != std::string::npos)
                keepLatest(last, item.id, // the local day may differ by one; intervals are weeks
                           std::min(agency->today(), Date::fromDayNumber(note.at.unixSeconds() / 86400)));
    }
    return last;
}

Problems countProblems(const Agency &agency, const ItemCount &count, const std::string &userName,
                       const supply::CountRules &rules) {
    const Item *item = agency.index().item(count.item);
    if (!item)
        return {fault(ProblemCode::UnknownRecord, "item_id", {"item", std::to_string(count.item.value())})};
    Problems wrong;
    double worth = 0;
    bool differs = false;
    for (std::size_t i = 0; i < count.lots.size(); ++i) {
        const LotCount &lot = count.lots[i];
        differs = differs || lot.counted != lot.ledger;
        worth += std::abs(static_cast<double>((lot.counted - lot.ledger).count())) *
                 supply::minorPerEach(agency.index(), count.item);
        if (!count.isCountedAgain && supply::looksLikeWrongUnit(lot.ledger, lot.counted, item->casePack)) {
            Problem p = fault(ProblemCode::Conflict, "counted",
                              {"looks_like_cases", std::to_string(item->casePack.eachesPerCase.count())});
            p.row = static_cast<int>(i) + 1;
            wrong.push_back(std::move(p));
        }
    }
    if (differs && count.why.empty())
        wrong.push_back(fault(ProblemCode::Missing, "why"));
    if (worth > static_cast<double>(rules.secondPersonAbove.count())) {
        if (count.secondPerson.empty())
            wrong.push_back(fault(ProblemCode::Missing, "second_person"));
        else if (count.secondPerson == userName)
            wrong.push_back(fault(ProblemCode::Conflict, "second_person", {"second_is_user", userName}));
    }
    return wrong;
}

Result<void> storeCount(Desk &desk, const ItemCount &count, const std::string &userName,
                        const supply::CountRules &rules) {
    if (Problems wrong = countProblems(*desk.agency(), count, userName, rules); !wrong.empty())
        return joined(std::move(wrong));
    std::string why = count.why.empty() ? "cycle count" : count.why;
    if (!count.secondPerson.empty())
        why += "; counted with " + count.secondPerson;
    for (const LotCount &lot : count.lots)
        if (auto done = desk.countStoreroom(count.item, lot.lot, lot.counted, why); !done)
            return done;
    return {};
}

} // namespace kitround::desk
