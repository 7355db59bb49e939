#include "core/desk/views/SupplyBoards.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/SupplierPerformance.h"

namespace kitround::desk {
namespace {

QString nameOf(const SnapshotIndex &index, PatientId id) {
    const Patient *patient = index.patient(id);
    return patient ? personName(*patient) : Text::tr("an unknown patient");
}

QString supplyText(const supply::Shortage &shortage) {
    const QString free = Text::tr("%1 free").arg(numberText(shortage.free.count()));
    return shortage.isOrdered
               ? Text::tr("%1; %2 expected %3")
                     .arg(free, numberText(shortage.arriving.count()), dayText(shortage.arrival))
               : Text::tr("%1; nothing on order in time, ordered now it comes %2")
                     .arg(free, dayText(shortage.arrival));
}

QString actionText(const supply::ShortageHome &home, const SnapshotIndex &index) {
    using enum supply::ShortageStep;
    switch (home.step) {
    case Ration:
        return Text::tr("Send %1 from the shelf, not more.").arg(numberText(home.quantity.count()));
    case Substitute:
        return (home.needsRecord
                    ? Text::tr(
                          "Send %1 of %2 in its place, as the order allows; first record who approved it, "
                          "that the home was taught, and when it goes back.")
                    : Text::tr("Send %1 of %2 in its place, as recorded."))
            .arg(numberText(home.quantity.count()), itemName(index, *home.substitute));
    case CountFirst:
        return Text::tr("Ask for a count: nobody knows what is there.");
    case Ask:
        return home.quantity.count() > 0
                   ? Text::tr("%1 can go; ask the nurse for the rest: prescriber, another supplier. Tell the "
                              "home.")
                         .arg(numberText(home.quantity.count()))
                   : Text::tr("Nothing is left: ask the nurse at once: prescriber, another supplier. Tell "
                              "the home.");
    }
    return {};
}

std::optional<ShortageAction> storedFor(const Snapshot &snapshot, CatheterId catheter, ItemId item) {
    const ShortageAction *found = nullptr;
    for (const ShortageAction &action : snapshot.shortageActions)
        if (action.item == item && action.catheter == catheter && (!found || found->closedAt) &&
            (!found || !action.closedAt || *action.closedAt >= *found->closedAt))
            found = &action;
    return found ? std::optional(*found) : std::nullopt;
}

QString standingText(const ShortageAction &action) {
    return action.closedAt
               ? Text::tr("%1, %2: %3 Outcome: %4")
                     .arg(dayText(action.closedAt->date), fromStd(action.owner), fromStd(action.action),
                          fromStd(action.outcome))
               : Text::tr("open since %1, %2: %3")
                     .arg(dayText(action.openedAt.date), fromStd(action.owner), fromStd(action.action));
}

} // namespace

std::vector<ShortageRow> shortageRows(const StockPicture &picture) {
    const SnapshotIndex &index = picture.agency->index();
    std::vector<ShortageRow> rows;
    for (const supply::Shortage &shortage : supply::shortages(index, picture.homes))
        for (const supply::ShortageHome &home : shortage.homes) {
            const bool isClerks = home.step != supply::ShortageStep::Ask;
            ShortageRow row;
            row.patient = home.patient;
            row.catheter = home.catheter;
            row.itemId = shortage.item;
            row.item = itemName(index, shortage.item);
            row.supply = supplyText(shortage);
            row.who = nameOf(index, home.patient);
            row.atRisk = home.atRisk;
            row.onHand = home.onHand;
            row.wanted = home.wanted;
            row.step = home.step;
            row.action = actionText(home, index);
            row.owner = isClerks ? Text::tr("supply clerk") : Text::tr("nurse, prescriber");
            row.stored = storedFor(index.snapshot(), home.catheter, shortage.item);
            row.standing = row.stored ? standingText(*row.stored) : QString();
            rows.push_back(std::move(row));
        }
    return rows;
}

std::vector<SupplierRow> supplierRows(const Agency &agency) {
    std::vector<SupplierRow> rows;
    for (const supply::SupplierPerformance &p : supply::supplierPerformance(agency.index())) {
        SupplierRow row;
        row.supplier = p.supplier;
        if (const Supplier *supplier = agency.index().supplier(p.supplier))
            row.name = fromStd(supplier->name);
        row.promised = counted(p.promised.count(), Text::tr("1 day"), Text::tr("%1 days"));
        row.lead = Text::tr("nothing received yet");
        if (p.leadMean) {
            row.leadMean = *p.leadMean;
            row.lead = Text::tr("%1 days, spread %2")
                           .arg(QString::number(*p.leadMean, 'f', 1), QString::number(p.leadSpread, 'f', 1));
        }
        row.orders = p.orders;
        row.fillRate = p.fillRate;
        row.onTime = p.onTime;
        row.paid = p.paid;
        row.overList = p.paid - p.listed;
        rows.push_back(std::move(row));
    }
    return rows;
}

std::vector<UseRow> useRows(const Agency &agency) {
    std::vector<UseRow> rows;
    for (const supply::UseLine &line : supply::useReview(agency.index())) {
        UseRow row{
            line.patient, nameOf(agency.index(), line.patient), itemName(agency.index(), line.item), {}, {},
            line};
        switch (line.verdict) {
        case supply::UseVerdict::AsOrdered:
            row.verdict = Text::tr("as ordered");
            break;
        case supply::UseVerdict::Over:
            row.verdict = Text::tr("more than ordered");
            row.advice = Text::tr("More drains, spoiled kits, or kits gone elsewhere?");
            break;
        case supply::UseVerdict::Under:
            row.verdict = Text::tr("less than ordered");
            row.advice = line.missed() > 0
                             ? Text::tr("%1 drains not logged: missed or tapering? No saving yet.")
                                   .arg(numberText(line.missed()))
                             : Text::tr("Drains are logged, kits are not: what was used?");
            break;
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

} // namespace kitround::desk
