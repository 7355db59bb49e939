#include "core/desk/views/SubstitutionView.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/ItemFit.h"

#include <algorithm>
#include <tuple>

namespace kitround::desk {
namespace {

QString standingText(const Substitution &s, Date today) {
    if (s.revertedOn)
        return Text::tr("went back on %1").arg(dayText(*s.revertedOn, today));
    if (s.revertOn <= today)
        return Text::tr("to go back now");
    if (s.from > today)
        return Text::tr("from %1").arg(dayText(s.from, today));
    return Text::tr("in force");
}

} // namespace

QString substitutionText(const Agency &agency, const Substitution &s) {
    return Text::tr("%1 in place of %2 until %3 (%4 %5)")
        .arg(itemName(agency.index(), s.standIn), itemName(agency.index(), s.item),
             dayText(s.revertOn, agency.today()), words(s.approver), fromStd(s.approvedBy));
}

std::vector<SubstitutionRow> substitutionRows(const Agency &agency, bool withClosed) {
    const SnapshotIndex &index = agency.index();
    const Date today = agency.today();
    std::vector<SubstitutionRow> rows;
    for (const Substitution &s : agency.snapshot().substitutions) {
        if (s.revertedOn && !withClosed)
            continue;
        SubstitutionRow row;
        row.record = s;
        if (const Catheter *catheter = index.catheter(s.catheter)) {
            row.patient = catheter->patient;
            row.place = catheterText(*catheter);
        }
        if (const Patient *patient = index.patient(row.patient))
            row.who = personName(*patient);
        row.item = itemName(index, s.item);
        row.standIn = itemName(index, s.standIn);
        row.approved =
            Text::tr("%1 %2, %3").arg(words(s.approver), fromStd(s.approvedBy), dayText(s.approvedOn, today));
        row.taught = Text::tr("%1, %2").arg(fromStd(s.taughtBy), dayText(s.taughtOn, today));
        row.isDue = !s.revertedOn && s.revertOn <= today;
        row.standing = standingText(s, today);
        rows.push_back(std::move(row));
    }
    std::ranges::stable_sort(rows, {}, [](const SubstitutionRow &r) {
        const bool isClosed = r.record.revertedOn.has_value();
        const std::int64_t day =
            isClosed ? -r.record.revertedOn->dayNumber() : std::int64_t{r.record.revertOn.dayNumber()};
        return std::tuple(isClosed, day, r.who);
    });
    return rows;
}

std::vector<SubstitutionPlace> substitutionPlaces(const Agency &agency) {
    const SnapshotIndex &index = agency.index();
    std::vector<SubstitutionPlace> places;
    for (const Catheter &catheter : agency.snapshot().catheters) {
        const DrainOrder *order = index.orderInForce(catheter.id, agency.today());
        const Patient *patient = index.patient(catheter.patient);
        if (!patient || !index.isInService(catheter) || !order || !order->allowsSubstitute)
            continue;
        for (const std::optional<ItemId> ordered : {std::optional(order->kit), order->extraBottle}) {
            const Item *item = ordered ? index.item(*ordered) : nullptr;
            if (!item)
                continue;
            SubstitutionPlace place{
                catheter.id,
                item->id,
                Text::tr("%1: %2: %3").arg(personName(*patient), catheterText(catheter), fromStd(item->name)),
                {}};
            for (const Substitute &way : item->substitutes)
                if (const Item *standIn = index.item(way.item);
                    standIn && standIn->isActive && !supply::barOf(index, *standIn, *patient, catheter))
                    place.standIns.push_back(way.item);
            if (!place.standIns.empty())
                places.push_back(std::move(place));
        }
    }
    std::ranges::stable_sort(places, {}, &SubstitutionPlace::text);
    return places;
}

} // namespace kitround::desk
