#include "core/desk/views/ChangeValues.h"

#include "core/desk/views/Cells.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/words/Figures.h"
#include "core/desk/words/Text.h"

#include <algorithm>
#include <array>
#include <initializer_list>
#include <iterator>
#include <map>
#include <string>

namespace kitround::desk {
namespace {

// What tells who somebody is, or where they live; and what nobody is shown.
constexpr std::array<std::string_view, 20> kPersonal = {
    "family_name", "given_name",  "phone",       "born_on", "street", "town",         "postal_code",
    "latitude",    "longitude",   "note",        "notes",   "words",  "access_notes", "caller",
    "spoke_with",  "answered_by", "received_by", "contact", "text",   "facts"};
bool isPersonal(std::string_view column) {
    return std::ranges::find(kPersonal, column) != kPersonal.end();
}
bool isYesOrNo(std::string_view column) {
    constexpr std::string_view kOthers[] = {"two_nurses",       "needs_two_nurses", "overtime_exempt",
                                            "send_whole_cases", "still_draining",   "after_by_another",
                                            "replaces_pattern"};
    return column.starts_with("is_") || column.starts_with("was_") || column.starts_with("allows_") ||
           column.ends_with("_is_locked") || column.ends_with("_is_known") ||
           column.ends_with("_is_estimated") || column.ends_with("_are_worked") ||
           column.ends_with("_applies") || std::ranges::find(kOthers, column) != std::end(kOthers);
}
bool isClockColumn(std::string_view column) {
    return column == "start_min" || column == "cut_off_min" || column.ends_with("from_min") ||
           column.ends_with("to_min");
}
bool isWeekdaysColumn(std::string_view column) {
    return column == "weekdays" || column == "visiting_days" || column == "allowed_days" ||
           column == "order_days";
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

// Where nothing, or no, is an answer of its own, and where a nought is a time or a day.
bool isToldAtNought(std::string_view column) {
    constexpr std::string_view kAnswers[] = {"is_active",
                                             "allows_courier",
                                             "allows_substitute",
                                             "refill_rule_applies",
                                             "counted",
                                             "quantity",
                                             "value",
                                             "volume_ml",
                                             "said_then",
                                             "par",
                                             "latitude",
                                             "longitude",
                                             "weekday"};
    return isClockColumn(column) || std::ranges::find(kAnswers, column) != std::end(kAnswers);
}

std::int64_t wholeIn(const QJsonObject &side, const char *column) {
    return side.value(QLatin1String(column)).toInteger();
}

QString visitNamed(const Agency &agency, VisitId id, PatientNamed named) {
    const Visit *visit = agency.index().visit(id);
    return visit ? QStringLiteral("%1 | %2").arg(patientStored(agency, visit->patient, named),
                                                 words(visit->kind))
                 : QString();
}

// Who, when, and what she brings, each of them only where it differs from the other side.
QString visitPlace(const QJsonObject &side, const QJsonObject &other, const Agency &agency,
                   PatientNamed named) {
    if (side.isEmpty())
        return {};
    const auto valueOf = [](const QJsonObject &of, const char *column) {
        const QJsonValue value = of.value(QLatin1String(column));
        return value.isUndefined() ? QJsonValue() : value;
    };
    const auto differs = [&](std::initializer_list<const char *> columns) {
        return std::ranges::any_of(
            columns, [&](const char *column) { return valueOf(side, column) != valueOf(other, column); });
    };
    const auto nameIn = [&](const char *column) {
        const std::int64_t id = wholeIn(side, column);
        const QString name = id > 0 ? recordNamed(column, id, agency, named) : QString();
        return id > 0 && name.isEmpty() ? Text::tr("number %1").arg(id) : name;
    };
    QStringList parts;
    if (differs({"nurse_id", "second_nurse_id"})) {
        const QString second = nameIn("second_nurse_id");
        parts << (second.isEmpty() ? nameIn("nurse_id")
                                   : Text::tr("%1 with %2").arg(nameIn("nurse_id"), second));
    }
    if (differs({"planned_on", "told_on", "start_min"})) {
        QStringList when;
        for (const char *column : {"planned_on", "told_on", "start_min"})
            if (const QJsonValue value = valueOf(side, column); !value.isNull())
                when << valueStored(column, value, agency, named);
        parts << when.join(u' ');
    }
    if (differs({"carries_delivery_id"}))
        parts << (wholeIn(side, "carries_delivery_id") > 0
                      ? Text::tr("brings parcel number %1").arg(wholeIn(side, "carries_delivery_id"))
                      : Text::tr("brings no parcel"));
    parts.removeAll(QString());
    return parts.join(QStringLiteral(" | "));
}

} // namespace

QString emptyValue() {
    return Text::tr("(empty)");
}

bool isNeverTold(std::string_view column) {
    return column == "id" || column == "row_version" || column == "position" || column == "sha256" ||
           column == "password_hash";
}

bool isReasonColumn(std::string_view column) {
    return column.find("reason") != std::string_view::npos || column.starts_with("why_") ||
           column.ends_with("_why");
}

QString datedText(Date day) {
    return QStringLiteral("%1 %2").arg(dayText(day), QString::number(day.year()));
}

QString datedMoment(LocalTime at) {
    return datedText(at.date) + u' ' + timeText(at.minute);
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
    if (is("visit"))
        return visitNamed(agency, VisitId(id), named);
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

QString valueStored(std::string_view column, const QJsonValue &value, const Agency &agency,
                    PatientNamed named) {
    if (value.isNull() || value.isUndefined() || (value.isString() && value.toString().isEmpty()))
        return emptyValue();
    if (named == PatientNamed::Initials && isPersonal(column))
        return Text::tr("(in the file only)");
    if (value.isString())
        return storedText(value.toString(), agency);
    const double number = value.toDouble();
    if (column == "cost")
        return QString::number(qRound64(number));
    const std::int64_t whole = value.toInteger();
    return static_cast<double>(whole) == number ? numberStored(column, whole, agency, named)
                                                : QString::number(number, 'g', 10);
}

// One entry of a list inside a record: "latex"; "Mon, 08:00, 12:00"; "Quantity 5". What is a bare number, or
// yes, is told with its name.
QString listedStored(const QString &list, const QJsonObject &row, const Agency &agency, PatientNamed named) {
    if (list == QLatin1String("setting"))
        if (const auto key = settingNamed(row.value(QLatin1String("name")).toString().toStdString()))
            return QStringLiteral("%1: %2").arg(
                label(*key), figureText(*key, row.value(QLatin1String("value")).toInteger()));
    QStringList parts;
    for (auto it = row.begin(); it != row.end(); ++it) {
        const std::string column = it.key().toStdString();
        if (isNeverTold(column) || isUnsaid(column, row))
            continue;
        const QString text = valueStored(column, *it, agency, named);
        if (isYesOrNo(column))
            parts << (it->toInteger() != 0 ? fieldName(column) : Text::tr("%1: no").arg(fieldName(column)));
        else if (it->isDouble() && row.size() > 1 && text == QString::number(it->toInteger()))
            parts << QStringLiteral("%1 %2").arg(fieldName(column), text);
        else
            parts << text;
    }
    return parts.join(QStringLiteral(", "));
}

bool isUnsaid(std::string_view column, const QJsonObject &side) {
    const QJsonValue value =
        side.value(QString::fromUtf8(column.data(), static_cast<qsizetype>(column.size())));
    if (value.isNull() || value.isUndefined() || (value.isString() && value.toString().isEmpty()))
        return true;
    if (value.isArray())
        return value.toArray().isEmpty();
    const bool isOfAfter = column == "after_unit" || column == "after_least" || column == "after_most" ||
                           column == "after_by_another";
    if (isOfAfter)
        return wholeIn(side, "after_order_id") == 0 && wholeIn(side, "after_visit_id") == 0;
    if (column == "miss_reason")
        return value.toString() == QLatin1String("none");
    return value.isDouble() && value.toDouble() == 0 && !isToldAtNought(column);
}

bool isVisitList(const QString &list) {
    return list == QLatin1String("planned_visit") || list == QLatin1String("plan_told_visit") ||
           list == QLatin1String("patient_told_visit");
}

std::vector<PlacedChange> placedChanges(const QJsonArray &before, const QJsonArray &after,
                                        const Agency &agency, PatientNamed named) {
    const auto byVisit = [](const QJsonArray &rows) {
        std::map<std::int64_t, QJsonObject> sides;
        for (const auto &row : rows)
            sides[wholeIn(row.toObject(), "visit_id")] = row.toObject();
        return sides;
    };
    const auto were = byVisit(before), are = byVisit(after);
    const auto sideIn = [](const std::map<std::int64_t, QJsonObject> &sides, std::int64_t visit) {
        const auto found = sides.find(visit);
        return found == sides.end() ? QJsonObject() : found->second;
    };
    std::vector<std::int64_t> order; // as the plan has them, then those that are gone from it
    for (const auto *rows : {&after, &before})
        for (const auto &row : *rows)
            if (const std::int64_t id = wholeIn(row.toObject(), "visit_id");
                std::ranges::find(order, id) == order.end())
                order.push_back(id);
    std::vector<PlacedChange> changes;
    for (const std::int64_t id : order) {
        const QJsonObject was = sideIn(were, id), is = sideIn(are, id);
        const QString name = visitNamed(agency, VisitId(id), named);
        PlacedChange change{name.isEmpty() ? Text::tr("visit number %1").arg(id) : name,
                            visitPlace(was, is, agency, named), visitPlace(is, was, agency, named)};
        if (change.before != change.after) // the way to it alone is no news
            changes.push_back(std::move(change));
    }
    return changes;
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

} // namespace kitround::desk
