// What is said about lists that are brought in from spreadsheets.
#include "core/desk/views/ImportPreview.h"
#include "core/desk/words/Text.h"

#include <algorithm>
#include <span>
#include <string_view>
#include <utility>
#include <vector>

namespace kitround::desk {
namespace {

QString joinedNames(std::span<const std::string_view> names) {
    QStringList texts;
    for (const std::string_view name : names)
        texts << QString::fromLatin1(name.data(), static_cast<qsizetype>(name.size()));
    return texts.join(QStringLiteral(", "));
}

QString neededColumns(ListKind kind) {
    std::vector<std::string_view> names;
    for (const exchange::ListColumn &column : exchange::columnsOf(kind))
        if (column.isNeeded)
            names.push_back(column.name);
    return joinedNames(names);
}

QString stepAfterImport(ListKind kind) {
    switch (kind) {
    case ListKind::Items:
        return Text::tr("Next: the nurses, then the patients, then what is on the shelf and in the homes.");
    case ListKind::Nurses:
        return Text::tr("Next: the patients. Leave and single days that differ are entered under Nurses.");
    case ListKind::Patients:
        return Text::tr(
            "Next: the stock counted in the homes and on the shelf (list Counts), then what Today "
            "asks for.");
    case ListKind::Counts:
        return Text::tr("Next: look at Stock forecast, Homes: a home that was in no list stands there as not "
                        "known, until its count is recorded.");
    }
    return {};
}

} // namespace

QString words(ListKind kind) {
    switch (kind) {
    case ListKind::Patients:
        return Text::tr("Patients");
    case ListKind::Nurses:
        return Text::tr("Nurses");
    case ListKind::Items:
        return Text::tr("Items");
    case ListKind::Counts:
        return Text::tr("Counts");
    }
    return {};
}

QString importColumnsText(ListKind kind) {
    const QString what = [kind] {
        switch (kind) {
        case ListKind::Patients:
            return Text::tr("One row a patient, with the catheter, the drain order in force and the visit "
                            "order where they are known. Payers, nurses and kits are named as they are on "
                            "record, so they come first; a second catheter is added by hand.");
        case ListKind::Nurses:
            return Text::tr("One row a nurse, with skills and the weekly shift.");
        case ListKind::Items:
            return Text::tr("One row an item. Kits and bottles name the connector they fit, or “any”; a "
                            "supplier has to be on record.");
        case ListKind::Counts:
            return Text::tr("One row an item and lot that was counted, in the storeroom or at a home, before "
                            "that day's drains. Only where no stock is on record yet.");
        }
        return QString();
    }();
    return Text::tr("%1 Every row needs: %2. Other columns may be left out or left empty. Several words in a "
                    "cell are parted by semicolons, days are written 2026-12-07.")
        .arg(what, neededColumns(kind));
}

QString importWordsText(ListKind kind) {
    std::vector<std::pair<QString, QStringList>> groups; // by their words, in the order of the columns
    bool hasWeekdays = false;
    for (const exchange::ListColumn &column : exchange::columnsOf(kind)) {
        if (column.words.empty())
            continue;
        const QString taken = joinedNames(column.words);
        auto same = std::ranges::find(groups, taken, &std::pair<QString, QStringList>::first);
        if (same == groups.end())
            same = groups.insert(same, {taken, {}});
        same->second << joinedNames(std::span(&column.name, 1));
        hasWeekdays = hasWeekdays || column.words.front() == "sunday";
    }
    QStringList lines;
    for (const auto &[taken, columns] : groups)
        lines << Text::tr("%1: %2").arg(columns.join(QStringLiteral(", ")), taken);
    if (hasWeekdays)
        lines << Text::tr("A day of the week may be cut to three letters: mon, tue.");
    lines << Text::tr("Capitals do not matter, and a blank may stand for the underscore.");
    return lines.join(QLatin1Char('\n'));
}

QString importCountText(const ImportPreview &preview) {
    const auto total = static_cast<std::int64_t>(preview.rows.size());
    QString text = counted(total, Text::tr("1 row"), Text::tr("%1 rows")) + QStringLiteral(": ");
    text += preview.faulty == 0 && preview.ofFile.isEmpty()
                ? Text::tr("no fault.")
                : Text::tr("%1 good, %2 with a fault.")
                      .arg(numberText(preview.good()), numberText(preview.faulty));
    if (preview.toCall > 0)
        text += u' ' + counted(preview.toCall,
                               Text::tr("1 row goes in as written and is to be looked at or called about."),
                               Text::tr("%1 rows go in as written and are to be looked at or called about."));
    if (!preview.mayGoIn())
        text +=
            u' ' + Text::tr("Nothing goes in while a row has a fault: correct the list and open it again.");
    return text;
}

QString importAddedText(const Imported &done) {
    QStringList parts;
    const auto add = [&](int count, const QString &one, const QString &many) {
        if (count > 0)
            parts << counted(count, one, many);
    };
    add(done.patients, Text::tr("1 patient"), Text::tr("%1 patients"));
    add(done.catheters, Text::tr("1 catheter"), Text::tr("%1 catheters"));
    add(done.drainOrders, Text::tr("1 drain order"), Text::tr("%1 drain orders"));
    add(done.visitOrders, Text::tr("1 visit order"), Text::tr("%1 visit orders"));
    add(done.nurses, Text::tr("1 nurse"), Text::tr("%1 nurses"));
    add(done.shifts, Text::tr("1 weekly shift"), Text::tr("%1 weekly shifts"));
    add(done.items, Text::tr("1 item"), Text::tr("%1 items"));
    add(done.offers, Text::tr("1 supplier's offer"), Text::tr("%1 suppliers' offers"));
    add(done.counts, Text::tr("1 counted line"), Text::tr("%1 counted lines"));
    add(done.lots, Text::tr("1 new lot"), Text::tr("%1 new lots"));
    return Text::tr("Added: %1.").arg(parts.join(QStringLiteral(", ")));
}

QString importDoneText(const Imported &done) {
    return importAddedText(done) + u' ' + stepAfterImport(done.kind);
}

} // namespace kitround::desk
