#include "core/desk/views/ChangeRecord.h"

#include "core/desk/views/Cells.h"
#include "core/desk/views/ChangeValues.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/store/AgencyFile.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

#include <algorithm>

namespace kitround::desk {
namespace {

constexpr std::int64_t kReadAtOnce = 500;

QStringList linesOfList(const QString &list, const QJsonArray &rows, const Agency &agency,
                        PatientNamed named) {
    QStringList lines;
    for (const auto &row : rows)
        lines << listedStored(list, row.toObject(), agency, named);
    return lines;
}

// Only what stands on one side: the lines that both have in common are no change.
FieldChange listChange(const QString &list, const QJsonArray &before, const QJsonArray &after,
                       const Agency &agency, PatientNamed named) {
    QStringList gone = linesOfList(list, before, agency, named), come;
    for (const QString &line : linesOfList(list, after, agency, named))
        if (!gone.removeOne(line))
            come << line;
    const auto told = [](const QStringList &lines) {
        return lines.isEmpty() ? emptyValue() : lines.join(QStringLiteral(" | "));
    };
    return {fieldName(list.toStdString()), told(gone), told(come)};
}

QJsonObject sideOf(const std::string &json) {
    return QJsonDocument::fromJson(QByteArray::fromStdString(json)).object();
}

FieldChange fieldChange(const QString &column, const QJsonObject &before, const QJsonObject &after,
                        const Agency &agency, PatientNamed named) {
    const std::string name = column.toStdString();
    const QJsonValue was = before.value(column), is = after.value(column);
    if (was.isArray() || is.isArray())
        return listChange(column, was.toArray(), is.toArray(), agency, named);
    if (name == "from_kind" || name == "to_kind") {
        const bool isFrom = name == "from_kind";
        const auto place = [&](const QJsonObject &side) {
            return side.isEmpty()
                       ? emptyValue()
                       : placeStored(side, name.c_str(), isFrom ? "from_ref" : "to_ref", agency, named);
        };
        return {isFrom ? Text::tr("From") : Text::tr("To"), place(before), place(after)};
    }
    return {fieldName(name), valueStored(name, was, agency, named), valueStored(name, is, agency, named)};
}

// What aboutOf says, and what nobody asks for.
bool isToldElsewhere(const AuditEntry &entry, const QString &column) {
    if (column == QLatin1String("from_ref") || column == QLatin1String("to_ref"))
        return true;
    return entry.table == "plan" && (column == QLatin1String("week_start_on") ||
                                     column == QLatin1String("version") || column == QLatin1String("seed"));
}

// Of one column there may be several: a plan's visits are a line each.
void addChanges(std::vector<FieldChange> &changes, const QString &column, const QJsonObject &before,
                const QJsonObject &after, const Agency &agency, PatientNamed named) {
    if (!isVisitList(column)) {
        changes.push_back(fieldChange(column, before, after, agency, named));
        changes.back().isReason = isReasonColumn(column.toStdString());
        return;
    }
    for (PlacedChange &visit :
         placedChanges(before.value(column).toArray(), after.value(column).toArray(), agency, named)) {
        const auto side = [](QString &told) { return told.isEmpty() ? emptyValue() : std::move(told); };
        changes.push_back({std::move(visit.visit), side(visit.before), side(visit.after)});
    }
}

std::vector<FieldChange> fieldChanges(const AuditEntry &entry, const Agency &agency, PatientNamed named) {
    const QJsonObject before = sideOf(entry.before), after = sideOf(entry.after);
    const bool isChange = !before.isEmpty() && !after.isEmpty();
    const QJsonObject &whole = after.isEmpty() ? before : after;
    QStringList columns = whole.keys();
    for (const QString &column : before.keys()) // a list that was emptied stands on one side only
        if (!columns.contains(column))
            columns << column;
    std::vector<FieldChange> changes;
    for (const QString &column : columns) {
        const std::string name = column.toStdString();
        if (isNeverTold(name) || isToldElsewhere(entry, column))
            continue;
        if (isChange ? before.value(column) == after.value(column) : isUnsaid(name, whole))
            continue;
        addChanges(changes, column, before, after, agency, named);
    }
    for (FieldChange &change : changes) {
        if (before.isEmpty())
            change.before.clear();
        if (after.isEmpty())
            change.after.clear();
    }
    return changes;
}

QString aboutOf(const AuditEntry &entry, const Agency &agency, PatientNamed named) {
    if (const QString own = recordNamed(entry.table, entry.record, agency, named); !own.isEmpty())
        return own;
    const QJsonObject side = sideOf(entry.after.empty() ? entry.before : entry.after);
    if (const auto week = Date::fromIso(side.value(QLatin1String("week_start_on")).toString().toStdString());
        week && entry.table == "plan")
        return Text::tr("week of %1, version %2")
            .arg(datedText(*week))
            .arg(side.value(QLatin1String("version")).toInteger());
    for (const char *column : {"patient_id", "catheter_id", "nurse_id", "item_id", "lot_id", "supplier_id"})
        if (const std::int64_t id = side.value(QLatin1String(column)).toInteger(); id > 0)
            if (const QString name = recordNamed(column, id, agency, named); !name.isEmpty())
                return name;
    return entry.record > 0 ? Text::tr("number %1").arg(entry.record) : QString();
}

store::AuditQuery queryOf(const ChangeFilter &filter, const Agency &agency) {
    store::AuditQuery query;
    query.table = filter.table;
    query.user = filter.user;
    if (filter.from)
        query.from = instantOf(agency, {*filter.from, Minutes::of(0)});
    if (filter.to)
        query.until = instantOf(agency, {filter.to->plusDays(1), Minutes::of(0)});
    return query;
}

} // namespace

QString words(AuditAction action) {
    switch (action) {
    case AuditAction::Insert:
        return Text::tr("added");
    case AuditAction::Update:
        return Text::tr("changed");
    case AuditAction::Delete:
        return Text::tr("removed");
    case AuditAction::View:
        return Text::tr("looked at");
    case AuditAction::Print:
        return Text::tr("printed");
    case AuditAction::Export:
        return Text::tr("copied out");
    }
    return {};
}

ChangeRow changeRow(const AuditEntry &entry, const Agency &agency, PatientNamed named) {
    ChangeRow row;
    row.entry = entry;
    row.at = localTimeOf(agency, entry.at);
    row.who = fromStd(userOf(agency.index(), entry.user));
    if (row.who.isEmpty())
        row.who = Text::tr("not known");
    row.kind = fieldName(entry.table);
    row.about = aboutOf(entry, agency, named);
    row.fields = fieldChanges(entry, agency, named);
    return row;
}

QString summaryOf(const ChangeRow &row) {
    QStringList parts;
    for (const FieldChange &f : row.fields)
        parts << (f.before.isEmpty()  ? QStringLiteral("%1: %2").arg(f.field, f.after)
                  : f.after.isEmpty() ? QStringLiteral("%1: %2").arg(f.field, f.before)
                                      : QStringLiteral("%1: %2 → %3").arg(f.field, f.before, f.after));
    return parts.join(QStringLiteral("; "));
}

QStringList wholeOf(const ChangeRow &row) {
    const QString what = row.about.isEmpty() ? row.kind : QStringLiteral("%1, %2").arg(row.kind, row.about);
    QStringList lines = {Text::tr("Change %1, %2").arg(row.entry.number).arg(datedMoment(row.at)),
                         QStringLiteral("%1 %2: %3").arg(row.who, words(row.entry.action), what)};
    for (const FieldChange &f : row.fields) {
        ChangeRow one;
        one.fields = {f};
        lines << summaryOf(one);
    }
    if (row.fields.empty() && row.entry.action == AuditAction::Update)
        lines << Text::tr("No field that is shown has changed.");
    return lines;
}

bool holdsWords(const ChangeRow &row, const QString &wanted) {
    const QString whole = wholeOf(row).join(u' ');
    const QStringList each = wanted.split(u' ', Qt::SkipEmptyParts);
    return std::ranges::all_of(
        each, [&](const QString &word) { return whole.contains(word, Qt::CaseInsensitive); });
}

Result<ChangePage> changePage(Desk &desk, const ChangeFilter &filter, std::int64_t before, std::size_t most) {
    const AgencyPtr agency = desk.agency();
    store::AuditQuery query = queryOf(filter, *agency);
    ChangePage page;
    page.before = before;
    std::int64_t lookedAt = 0;
    while (page.rows.size() < most && !page.isEnd && lookedAt < kChangesLookedAt) {
        query.before = page.before;
        query.most = kReadAtOnce;
        const auto entries = desk.audit(query);
        if (!entries)
            return entries.error();
        page.isEnd = static_cast<std::int64_t>(entries->size()) < kReadAtOnce;
        for (const AuditEntry &entry : *entries) {
            if (page.rows.size() == most) {
                page.isEnd = false;
                break;
            }
            ++lookedAt;
            page.before = entry.number;
            ChangeRow row = changeRow(entry, *agency, PatientNamed::InFull);
            page.lookedBackTo = row.at;
            if (filter.words.isEmpty() || holdsWords(row, filter.words))
                page.rows.push_back(std::move(row));
        }
    }
    return page;
}

Result<std::vector<std::pair<std::string, QString>>> changeKinds(Desk &desk) {
    const auto tables = desk.auditedTables();
    if (!tables)
        return tables.error();
    std::vector<std::pair<std::string, QString>> kinds;
    for (const std::string &table : *tables)
        kinds.emplace_back(table, fieldName(table));
    std::ranges::sort(kinds, {}, &std::pair<std::string, QString>::second);
    return kinds;
}

Table changeTable(std::span<const ChangeRow> rows, const Agency &agency) {
    Table table;
    table.title = Text::tr("Record of changes").toStdString();
    table.key = "record_of_changes";
    table.columns = {numberColumn(Text::tr("Number"), "number"),
                     textColumn(Text::tr("When"), "at"),
                     textColumn(Text::tr("By"), "user"),
                     textColumn(Text::tr("What"), "action"),
                     textColumn(Text::tr("Kind of record"), "kind"),
                     inCopies(textColumn(Text::tr("Table"), "table_name")),
                     inCopies(numberColumn(Text::tr("Record"), "record_id")),
                     textColumn(Text::tr("Whose or which"), "about"),
                     textColumn(Text::tr("Changed"), "change")};
    for (const ChangeRow &shown : rows) {
        const ChangeRow row = changeRow(shown.entry, agency, PatientNamed::Initials);
        table.rows.push_back({cell(row.entry.number), toIso(row.at), cell(row.who),
                              cell(words(row.entry.action)), cell(row.kind), row.entry.table,
                              cell(row.entry.record), cell(row.about), cell(summaryOf(row))});
    }
    return table;
}

} // namespace kitround::desk
