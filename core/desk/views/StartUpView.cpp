#include "core/desk/views/StartUpView.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <QStringList>

namespace kitround::desk {
namespace {

QString barText(const SnapshotIndex &index, const supply::StartUpLine &line, const Catheter &catheter) {
    QString text;
    if (line.bar->kind == supply::BarKind::Allergy) {
        text = Text::tr("%1 contains %2, to which the patient is allergic.")
                   .arg(itemName(index, line.item),
                        line.bar->material ? words(*line.bar->material) : Text::tr("something"));
    } else {
        const Item *item = index.item(line.item);
        text = Text::tr("%1 fits line %2 and the catheter has line %3.")
                   .arg(itemName(index, line.item), item ? fromStd(item->connector) : QString(),
                        fromStd(catheter.connector));
    }
    QStringList others;
    for (const ItemId other : line.wouldFit)
        others << itemName(index, other);
    return text + u' ' +
           (others.isEmpty()
                ? Text::tr("Nothing else on record fits: ask the nurse and the prescriber.")
                : Text::tr("%1 would fit: the order has to say so.").arg(others.join(QStringLiteral(", "))));
}

QString gapText(supply::StartUpGap gap) {
    switch (gap) {
    case supply::StartUpGap::NoOrder:
        return Text::tr("No drain order yet: nothing can be chosen. Ask the coordinator.");
    case supply::StartUpGap::NoMaximum:
        return Text::tr("As needed without a maximum: the nurse says how many.");
    case supply::StartUpGap::NoWay:
        return Text::tr("No courier day and no planned visit: agree on a day with the coordinator.");
    case supply::StartUpGap::BarredItem:
        return {}; // said line by line
    }
    return {};
}

QString gapsOf(const SnapshotIndex &index, const supply::StartUp &start) {
    QStringList texts;
    if (const Catheter *catheter = index.catheter(start.catheter))
        for (const supply::StartUpLine &line : start.lines)
            if (line.bar)
                texts << barText(index, line, *catheter);
    for (const supply::StartUpGap gap : start.gaps)
        if (const QString text = gapText(gap); !text.isEmpty())
            texts << text;
    if (start.isLate)
        texts << Text::tr("Nothing comes before the first drain: tell the nurse today.");
    return texts.join(u' ');
}

} // namespace

QString startUpNote(const AgencySettings &settings) {
    const SettingInfo &info = infoOf(SettingKey::StarterDays);
    return Text::tr(
               "New catheters at whose home nothing was delivered, counted or drained yet. Items and bottle "
               "size are the order's, for %1 days from the first drain (%2).")
        .arg(numberText(settings[SettingKey::StarterDays]),
             QString::fromUtf8(info.source.data(), static_cast<qsizetype>(info.source.size())));
}

Table startUpTable(const StockPicture &picture) {
    const SnapshotIndex &index = picture.agency->index();
    Table table;
    table.title = Text::tr("First deliveries").toStdString();
    table.key = "starts";
    table.columns = {textColumn(Text::tr("First drain"), "first_drain"),
                     textColumn(Text::tr("Patient"), "patient"),
                     textColumn(Text::tr("Initials"), "initials"),
                     textColumn(Text::tr("Catheter"), "catheter"),
                     textColumn(Text::tr("Item"), "item"),
                     numberColumn(Text::tr("Send"), "quantity"),
                     textColumn(Text::tr("Fits"), "fits"),
                     inCopies(textColumn(Text::tr("Way"), "way")),
                     textColumn(Text::tr("Deliver on"), "deliver_on"),
                     textColumn(Text::tr("Late"), "late"),
                     textColumn(Text::tr("Missing or does not fit"), "missing")};
    for (const StartUpRow &row : startUpRows(picture)) {
        const supply::StartUp &start = row.start;
        const auto add = [&](const supply::StartUpLine *line) {
            table.rows.push_back({cell(start.firstDrain), codeOf(index, start.patient),
                                  initialsOf(index, start.patient), placeOf(index, start.catheter),
                                  line ? codeOf(index, line->item) : std::string(),
                                  line ? cell(line->quantity.count()) : std::string(),
                                  line ? yesNo(!line->bar) : std::string(),
                                  start.deliverOn ? cell(words(start.way)) : std::string(),
                                  cell(start.deliverOn), yesNo(start.isLate), cell(row.gaps)});
        };
        for (const supply::StartUpLine &line : start.lines)
            add(&line);
        if (start.lines.empty())
            add(nullptr);
    }
    table.notes.push_back(startUpNote(picture.agency->settings()).toStdString());
    table.notes.push_back(planningCaution().toStdString());
    return table;
}

std::vector<StartUpRow> startUpRows(const StockPicture &picture) {
    const SnapshotIndex &index = picture.agency->index();
    std::vector<StartUpRow> rows;
    for (supply::StartUp &start : supply::startUps(index, picture.homes)) {
        StartUpRow row;
        if (const Patient *patient = index.patient(start.patient))
            row.who = personName(*patient, index);
        if (const Catheter *catheter = index.catheter(start.catheter))
            row.catheter =
                catheter->connector.empty()
                    ? catheterText(*catheter)
                    : Text::tr("%1, line %2").arg(catheterText(*catheter), fromStd(catheter->connector));
        QStringList items;
        for (const supply::StartUpLine &line : start.lines)
            if (!line.bar && line.quantity.count() > 0)
                items << QStringLiteral("%1 × %2").arg(numberText(line.quantity.count()),
                                                       itemName(index, line.item));
        row.items = items.join(QStringLiteral("; "));
        row.gaps = gapsOf(index, start);
        if (start.deliverOn)
            row.way = QStringLiteral("%1, %2").arg(
                start.way == DeliveryWay::WithVisit ? Text::tr("the nurse brings it") : words(start.way),
                dayText(*start.deliverOn));
        row.mayPromise = !items.isEmpty() && start.deliverOn.has_value();
        row.start = std::move(start);
        rows.push_back(std::move(row));
    }
    return rows;
}

} // namespace kitround::desk
