#include "core/desk/views/ChangeRecord.h"

#include "core/desk/views/Cells.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/words/Figures.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/store/AgencyFile.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

#include <algorithm>
#include <array>
#include <iterator>

namespace kitround::desk {
namespace {

constexpr std::int64_t kReadAtOnce = 500;

QString emptyValue() {
    return Text::tr("(empty)");
}

// What tells who somebody is, or where they live; and what nobody is shown.
constexpr std::array<std::string_view, 20> kPersonal = {
    "family_name", "given_name",  "phone",       "born_on", "street", "town",         "postal_code",
    "latitude",    "longitude",   "note",        "notes",   "words",  "access_notes", "caller",
    "spoke_with",  "answered_by", "received_by", "contact", "text",   "facts"};
bool isPersonal(std::string_view column) {
    return std::ranges::find(kPersonal, column) != kPersonal.end();
}
bool isNeverTold(std::string_view column) {
    return column == "id" || column == "row_version" || column == "position" || column == "sha256" ||
           column == "password_hash";
}

bool isYesOrNo(std::string_view column) {
    constexpr std::string_view kOthers[] = {"two_nurses", "needs_two_nurses", "overtime_exempt",
                                            "send_whole_cases", "still_draining"};
    return column.starts_with("is_") || column.starts_with("was_") || column.starts_with("allows_") ||
           column.ends_with("_is_locked") || column.ends_with("_is_known") ||
           column.ends_with("_are_worked") || column.ends_with("_applies") ||
           std::ranges::find(kOthers, column) != std::end(kOthers);
}
bool isClockColumn(std::string_view column) {
    return column == "start_min" || column == "cut_off_min" || column.ends_with("from_min") ||
           column.ends_with("to_min");
}
bool isWeekdaysColumn(std::string_view column) {
    return column == "weekdays" || column == "visiting_days" || column == "allowed_days" ||
           column == "order_days";
}

QString datedText(Date day) {
    return QStringLiteral("%1 %2").arg(dayText(day), QString::number(day.year()));
}
QString datedMoment(LocalTime at) {
    return datedText(at.date) + u' ' + timeText(at.minute);
}

// A text of the store: a day or a moment is told as people read it, a word of ours without its underscores,
// anything else as it was written.
QString storedText(const QString &text, const Agency &agency) {
    const std::string plain = text.toStdString();
    if (const auto day = Date::fromIso(plain))
        return datedText(*day);
    if (const auto moment = Instant::fromIso(plain))
        return datedMoment(localTimeOf(agency, *moment));
    if (const auto moment = localTimeFromIso(plain))
        return datedMoment(*moment);
    const bool isWord = std::ranges::all_of(
        plain, [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_'; });
    return isWord ? QString(text).replace(u'_', u' ') : text;
}

QString weekdaysStored(std::int64_t bits) {
    const WeekdaySet days = WeekdaySet::fromBits(static_cast<unsigned>(bits));
    QStringList names;
    for (const Weekday day : kAllWeekdays)
        if (days.contains(day))
            names << words(day);
    return names.join(u' ');
}

QString patientStored(const Agency &agency, PatientId patient, PatientNamed named) {
    return named == PatientNamed::InFull ? nameWithCode(agency.index(), patient)
                                         : fromStd(patientOf(agency.index(), patient, named));
}
QString catheterStored(const Agency &agency, CatheterId id, PatientNamed named) {
    const Catheter *catheter = agency.index().catheter(id);
    return catheter ? QStringLiteral("%1: %2").arg(patientStored(agency, catheter->patient, named),
                                                   catheterText(*catheter))
                    : QString();
}

// Whom or what a number in that column, or a number of that kind of record, stands for; empty where it is
// nobody the desk knows by a name.
QString recordNamed(std::string_view column, std::int64_t id, const Agency &agency, PatientNamed named) {
    const SnapshotIndex &index = agency.index();
    const auto is = [column](std::string_view kind) {
        return column == kind ||
               (column.ends_with("_id") && column.substr(0, column.size() - 3).ends_with(kind));
    };
    if (is("patient"))
        return patientStored(agency, PatientId(id), named);
    if (is("catheter"))
        return catheterStored(agency, CatheterId(id), named);
    if (is("nurse"))
        return fromStd(nurseOf(index, NurseId(id)));
    if (column != "supplier_item_id" && column != "supplier_item" && column != "call_item_id" &&
        column != "call_item" && is("item"))
        return fromStd(nameOf(index, ItemId(id)));
    if (is("kit"))
        return fromStd(nameOf(index, ItemId(id)));
    if (const Lot *lot = is("lot") ? index.lot(LotId(id)) : nullptr)
        return fromStd(lot->number);
    if (const Supplier *supplier = is("supplier") ? index.supplier(SupplierId(id)) : nullptr)
        return fromStd(supplier->name);
    if (const Payer *payer = is("payer") ? index.payer(PayerId(id)) : nullptr)
        return fromStd(payer->name);
    return is("user") || column.ends_with("_by_id") ? fromStd(userOf(index, UserId(id))) : QString();
}

QString numberStored(std::string_view column, std::int64_t value, const Agency &agency, PatientNamed named) {
    if (isYesOrNo(column))
        return value != 0 ? Text::tr("yes") : Text::tr("no");
    if (isClockColumn(column))
        return timeText(Minutes::of(value));
    if (isWeekdaysColumn(column))
        return weekdaysStored(value);
    if (column.ends_with("_id")) {
        const QString name = recordNamed(column, value, agency, named);
        return name.isEmpty() ? Text::tr("number %1").arg(value) : name;
    }
    if (column.ends_with("_minor"))
        return moneyText(Money::of(value), agency.settings().currency);
    if (column.ends_with("_ml"))
        return Text::tr("%1 mL").arg(value);
    if (column.ends_with("_min"))
        return Text::tr("%1 min").arg(value);
    if (column.ends_with("_m"))
        return Text::tr("%1 m").arg(value);
    if (column.ends_with("_days"))
        return counted(value, Text::tr("1 day"), Text::tr("%1 days"));
    if (column.ends_with("_permille"))
        return Text::tr("%1 %").arg(shortNumber(static_cast<double>(value) / 10));
    return QString::number(value);
}

QString valueStored(std::string_view column, const QJsonValue &value, const Agency &agency,
                    PatientNamed named) {
    if (value.isNull() || value.isUndefined() || (value.isString() && value.toString().isEmpty()))
        return emptyValue();
    if (named == PatientNamed::Initials && isPersonal(column))
        return Text::tr("(in the file only)");
    if (value.isString())
        return storedText(value.toString(), agency);
    const double number = value.toDouble();
    const std::int64_t whole = value.toInteger();
    return static_cast<double>(whole) == number ? numberStored(column, whole, agency, named)
                                                : QString::number(number, 'g', 10);
}

// One entry of a list inside a record: "latex"; "Mon, 08:00, 12:00".
QString listedStored(const QString &list, const QJsonObject &row, const Agency &agency, PatientNamed named) {
    if (list == QLatin1String("setting"))
        if (const auto key = settingNamed(row.value(QLatin1String("name")).toString().toStdString()))
            return QStringLiteral("%1: %2").arg(
                label(*key), figureText(*key, row.value(QLatin1String("value")).toInteger()));
    QStringList parts;
    for (auto it = row.begin(); it != row.end(); ++it)
        if (!it->isNull() && !isNeverTold(it.key().toStdString()))
            parts << valueStored(it.key().toStdString(), *it, agency, named);
    return parts.join(QStringLiteral(", "));
}

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

// Stock has moved from a place to a place; the place's number alone says nothing.
QString placeStored(const QJsonObject &side, const char *kindColumn, const char *refColumn,
                    const Agency &agency, PatientNamed named) {
    const QString kind = side.value(QLatin1String(kindColumn)).toString();
    const std::int64_t ref = side.value(QLatin1String(refColumn)).toInteger();
    const QString whose = kind == QLatin1String("home")  ? catheterStored(agency, CatheterId(ref), named)
                          : kind == QLatin1String("car") ? fromStd(nurseOf(agency.index(), NurseId(ref)))
                                                         : QString();
    return whose.isEmpty() ? kind : QStringLiteral("%1 (%2)").arg(kind, whose);
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

std::vector<FieldChange> fieldChanges(const AuditEntry &entry, const Agency &agency, PatientNamed named) {
    const QJsonObject before = sideOf(entry.before), after = sideOf(entry.after);
    const bool isChange = !before.isEmpty() && !after.isEmpty();
    QStringList columns = (after.isEmpty() ? before : after).keys();
    for (const QString &column : before.keys()) // a list that was emptied stands on one side only
        if (!columns.contains(column))
            columns << column;
    std::vector<FieldChange> changes;
    for (const QString &column : columns) {
        const bool isRef = column == QLatin1String("from_ref") || column == QLatin1String("to_ref");
        if (isNeverTold(column.toStdString()) || isRef)
            continue;
        if (isChange && before.value(column) == after.value(column))
            continue;
        FieldChange change = fieldChange(column, before, after, agency, named);
        if (!isChange && change.before == emptyValue() && change.after == emptyValue())
            continue; // what was never filled in
        if (before.isEmpty())
            change.before.clear();
        if (after.isEmpty())
            change.after.clear();
        changes.push_back(std::move(change));
    }
    return changes;
}

QString aboutOf(const AuditEntry &entry, const Agency &agency, PatientNamed named) {
    if (const QString own = recordNamed(entry.table, entry.record, agency, named); !own.isEmpty())
        return own;
    const QJsonObject side = sideOf(entry.after.empty() ? entry.before : entry.after);
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
