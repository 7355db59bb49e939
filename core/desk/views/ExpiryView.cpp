#include "core/desk/views/ExpiryView.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {
namespace {

std::optional<PatientId> patientAt(const SnapshotIndex &index, const Place &place) {
    const Catheter *catheter =
        place.kind == PlaceKind::Home ? index.catheter(CatheterId(place.ref)) : nullptr;
    return catheter ? std::optional(catheter->patient) : std::nullopt;
}

QString homeText(const SnapshotIndex &index, std::optional<PatientId> id, PatientNamed named) {
    const std::string name = id ? patientOf(index, *id, named) : std::string();
    return name.empty() ? Text::tr("an unknown home") : fromStd(name);
}

QString placeText(const SnapshotIndex &index, const Place &place, PatientNamed named) {
    if (place.kind == PlaceKind::Car) {
        const Nurse *nurse = index.nurse(NurseId(place.ref));
        return Text::tr("car of %1").arg(nurse ? personName(*nurse) : Text::tr("an unknown nurse"));
    }
    if (place.kind == PlaceKind::Home)
        return Text::tr("home of %1").arg(homeText(index, patientAt(index, place), named));
    return words(place.kind);
}

QString actionText(const SnapshotIndex &index, const supply::ExpiryLine &line, PatientNamed named) {
    using enum supply::ExpiryMove;
    switch (line.move) {
    case UseHere:
        return line.at.place.kind == PlaceKind::Home ? Text::tr("Used there in time; the oldest first.")
                                                     : Text::tr("Given out in time, first expiring first.");
    case SendLess:
        return Text::tr(
            "Stays at the home, which will not use all of it: use it first, send less next time.");
    case PutFirst:
        return Text::tr("Put it first in the pick: %1 would use %2 before its last day.")
            .arg(homeText(index, line.home, named), numberText(line.homeTakes.count()));
    case SendHome:
        return Text::tr("Offer it to %1 with a refill, who would use %2 before its last day.")
            .arg(homeText(index, line.home, named), numberText(line.homeTakes.count()));
    case BringBack:
        return Text::tr("Bring it back to the storeroom, which gives it out first.");
    case ReturnToSupplier:
        return Text::tr("Ask the supplier to take it back.");
    case KeepToTheEnd:
        return Text::tr("No home can use all of it: give out what is asked for, discard the rest after the "
                        "last day.");
    case Discard:
        return line.at.place.kind == PlaceKind::Home
                   ? Text::tr("Past its last day: ask the home to set it aside unopened.")
                   : Text::tr("Past its last day: write it off.");
    }
    return {};
}

bool isRemovable(PlaceKind kind) {
    return kind == PlaceKind::Storeroom || kind == PlaceKind::Quarantine || kind == PlaceKind::Car;
}

} // namespace

QString dueText(int band) {
    return band == 0 ? Text::tr("past its last day") : Text::tr("within %1 days").arg(band);
}

std::vector<int> dueBands(const AgencySettings &settings) {
    std::vector<int> bands = supply::expiryBands(settings);
    bands.insert(bands.begin(), 0);
    return bands;
}

QString nothingDueText(const AgencySettings &settings) {
    return Text::tr("No lot on record falls due within %1 days.").arg(supply::expiryBands(settings).back());
}

QString expiryNote() {
    return Text::tr("Expected use before the last day, first expiring first, against the forecast; the "
                    "storeroom gives a lot out only while a home has time to use it. Nothing is planned from "
                    "cars and quarantine. What stands in a home stays there.");
}

std::vector<ExpiryRow> expiryRows(const StockPicture &picture, PatientNamed named) {
    const SnapshotIndex &index = picture.agency->index();
    std::vector<ExpiryRow> rows;
    for (supply::ExpiryLine &line : supply::expiryList(index, picture.homes)) {
        ExpiryRow row;
        const Item *item = index.item(line.at.item);
        const Lot *lot = index.lot(line.at.lot);
        row.item = item ? fromStd(item->name) : Text::tr("an unknown item");
        row.lot = lot ? fromStd(lot->number) : QString();
        row.place = placeText(index, line.at.place, named);
        row.due = dueText(line.band);
        row.action = actionText(index, line, named);
        row.isRemovable = isRemovable(line.at.place.kind);
        row.line = std::move(line);
        rows.push_back(std::move(row));
    }
    return rows;
}

Table expiryTable(const StockPicture &picture) {
    const SnapshotIndex &index = picture.agency->index();
    Table table;
    table.title = Text::tr("Lots that fall due").toStdString();
    table.key = "expiry";
    table.columns = {textColumn(Text::tr("Last day of use"), "expires_on"),
                     numberColumn(Text::tr("Within days"), "within_days"),
                     textColumn(Text::tr("Item"), "item"),
                     textColumn(Text::tr("Lot"), "lot"),
                     textColumn(Text::tr("Place"), "place"),
                     inCopies(textColumn(Text::tr("Patient or nurse"), "at")),
                     numberColumn(Text::tr("Eaches"), "quantity"),
                     numberColumn(Text::tr("Expected use"), "expected_use"),
                     numberColumn(Text::tr("Expected loss"), "expected_waste"),
                     numberColumn(Text::tr("Loss in money"), "waste_minor"),
                     inCopies(textColumn(Text::tr("State"), "state")),
                     textColumn(Text::tr("What to do"), "move")};
    // Copies for other programs carry no names.
    const auto code = [&](const Place &place) -> std::string {
        if (place.kind == PlaceKind::Car)
            return nurseOf(index, NurseId(place.ref));
        const auto patient = patientAt(index, place);
        return patient ? codeOf(index, *patient) : std::string();
    };
    const auto move = [](supply::ExpiryMove m) -> std::string {
        static constexpr std::array<const char *, 8> kWords = {
            "use_here", "send_less", "put_first", "send_home", "bring_back", "return", "keep", "discard"};
        return kWords[static_cast<std::size_t>(m)];
    };
    Money lost;
    for (const supply::ExpiryLine &line : supply::expiryList(index, picture.homes)) {
        const Lot *lot = index.lot(line.at.lot);
        lost += line.wasteValue;
        table.rows.push_back(
            {cell(line.at.expiresOn), cell(std::int64_t{line.band}), codeOf(index, line.at.item),
             lot ? lot->number : std::string(), cell(words(line.at.place.kind)), code(line.at.place),
             cell(line.at.quantity.count()), cell(line.expectedUse, 1), cell(line.expectedWaste, 1),
             cell(line.wasteValue.count()), cell(words(line.state)), move(line.move)});
    }
    table.notes.push_back(
        Text::tr("Expected loss %1, at today's best case price. Within 0 days: past its last day.")
            .arg(moneyText(lost, picture.agency->settings().currency))
            .toStdString());
    table.notes.push_back(expiryNote().toStdString());
    table.notes.push_back(planningCaution().toStdString());
    return table;
}

} // namespace kitround::desk
