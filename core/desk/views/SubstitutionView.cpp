#include "core/desk/views/SubstitutionView.h"

#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/ItemFit.h"
#include "core/supply/Ledger.h"

#include <algorithm>
#include <set>
#include <tuple>

namespace kitround::desk {
namespace {

constexpr qsizetype kMostNames = 8;

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
        row.ratio = standInRatio(index, s.item, s.standIn);
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

QString notSubstitutable(const Agency &agency) {
    const SnapshotIndex &index = agency.index();
    std::set<QString> homes;
    for (const Catheter &catheter : agency.snapshot().catheters) {
        const DrainOrder *order = index.orderInForce(catheter.id, agency.today());
        const Patient *patient = index.patient(catheter.patient);
        if (!patient || !index.isInService(catheter) || !order || order->allowsSubstitute)
            continue;
        for (const std::optional<ItemId> ordered : {std::optional(order->kit), order->extraBottle})
            if (const Item *item = ordered ? index.item(*ordered) : nullptr;
                item && !item->substitutes.empty())
                homes.insert(personName(*patient, index));
    }
    if (homes.empty())
        return {};
    const QStringList names(homes.begin(), homes.end());
    return counted(std::ssize(homes), Text::tr("Not listed: %1 home whose order allows no other size (%2)."),
                   Text::tr("Not listed: %1 homes whose orders allow no other size (%2)."))
               .arg(names.size() > kMostNames
                        ? Text::tr("%1 and others").arg(names.first(kMostNames).join(QStringLiteral("; ")))
                        : names.join(QStringLiteral("; "))) +
           u' ' + Text::tr("Only the prescriber can allow it.");
}

QString standInText(const SnapshotIndex &agency, ItemId ordered, ItemId standIn) {
    return Text::tr("%1, %2 free")
        .arg(standInRatio(agency, ordered, standIn),
             numberText(supply::positionOf(agency, standIn).free().count()));
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
