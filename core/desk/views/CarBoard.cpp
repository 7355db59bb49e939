#include "core/desk/views/CarBoard.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>

namespace kitround::desk {
namespace {

// Parcels only ride in the car; what was undone never went.
Eaches handedOver(const std::vector<StockMovement> &movements, const Place &car, LocalTime since) {
    Eaches sum;
    for (const StockMovement &m : movements) {
        if (m.delivery || m.at < since)
            continue;
        if (m.from == car && m.to.kind == PlaceKind::Home)
            sum += m.quantity;
        if (m.to == car && m.from.kind == PlaceKind::Home)
            sum -= m.quantity;
    }
    return sum;
}

QString standingText(const supply::CarLine &line) {
    QStringList parts;
    if (!line.par)
        parts << Text::tr("no par set");
    else if (line.lacking().count() > 0)
        parts << Text::tr("%1 below par").arg(numberText(line.lacking().count()));
    else
        parts << Text::tr("at par");
    if (line.shortDated.count() > 0)
        parts << Text::tr("%1 short-dated").arg(numberText(line.shortDated.count()));
    if (line.outOfUse.count() > 0)
        parts << Text::tr("%1 of a lot out of use: to be taken out").arg(numberText(line.outOfUse.count()));
    return parts.join(QStringLiteral(", "));
}

} // namespace

Result<std::vector<CarRow>> carRows(Desk &desk) {
    const AgencyPtr agency = desk.agency();
    const SnapshotIndex &index = agency->index();
    const LocalTime since{agency->today() - kCarUseDays, Minutes{}};
    std::vector<CarRow> rows;
    for (const supply::CarLine &line : supply::carLines(index)) {
        CarRow row;
        row.line = line;
        const Nurse *nurse = index.nurse(line.nurse);
        const Item *item = index.item(line.item);
        row.nurse = nurse ? personName(*nurse) : Text::tr("an unknown nurse");
        row.item = item ? fromStd(item->name) : Text::tr("an unknown item");
        row.standing = standingText(line);
        const Place car = Place::car(line.nurse);
        const auto movements = desk.movementsAt(car, line.item);
        if (!movements)
            return movements.error();
        row.used = handedOver(*movements, car, since);
        rows.push_back(std::move(row));
    }
    std::ranges::stable_sort(rows, {}, [](const CarRow &r) { return std::pair(r.nurse, r.item); });
    return rows;
}

} // namespace kitround::desk
