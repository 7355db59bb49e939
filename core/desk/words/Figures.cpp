#include "core/desk/words/Figures.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <QRegularExpression>
#include <QStringList>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>
#include <string_view>

namespace kitround::desk {
namespace {

struct Reading {
    std::string_view stored;
    const char *read; // empty: the agency's currency
    int perUnit;
    int decimals;
};
constexpr Reading kReadings[] = {
    {"1/100 point", QT_TRANSLATE_NOOP("kitround", "points"), 100, 2},
    {"1/100 min", QT_TRANSLATE_NOOP("kitround", "min"), 100, 2},
    {"1/100 unit", QT_TRANSLATE_NOOP("kitround", "units"), 100, 2},
    {"1/100 a week", QT_TRANSLATE_NOOP("kitround", "a week"), 100, 2},
    {"1/10 cent a mile", QT_TRANSLATE_NOOP("kitround", "cents a mile"), 10, 1},
    {"1/1000", QT_TRANSLATE_NOOP("kitround", "%"), 10, 1},
    {"1/10000 a day", QT_TRANSLATE_NOOP("kitround", "% a day"), 100, 2},
    {"1/1000 of the price a year", QT_TRANSLATE_NOOP("kitround", "% of the price a year"), 10, 1},
    {"cents", "", 100, 2}};

const Reading *readingOf(const SettingInfo &info) {
    const auto *found = std::ranges::find(kReadings, info.unit, &Reading::stored);
    return found == std::end(kReadings) ? nullptr : found;
}

// In stored units; a fraction of one is rounded, for nobody means it.
std::optional<double> typedFigure(const QString &text, const SettingInfo &info) {
    if (const Reading *reading = readingOf(info)) {
        bool isNumber = false;
        const double value = text.toDouble(&isNumber) * reading->perUnit;
        return isNumber && std::isfinite(value) ? std::optional(std::round(value)) : std::nullopt;
    }
    const auto whole = wholeNumberFrom(text);
    return whole && !isWeekdays(info) ? std::optional(static_cast<double>(*whole)) : std::nullopt;
}

} // namespace

bool isClock(const SettingInfo &info) {
    return info.unit == "minute of day";
}
bool isWeekdays(const SettingInfo &info) {
    return info.unit == "weekdays";
}

std::optional<std::int64_t> wholeNumberFrom(const QString &typed) {
    static const QRegularExpression thousands(QStringLiteral("^[+-]?[0-9]{1,3}(,[0-9]{3})+$"));
    QString digits = typed.trimmed();
    if (thousands.match(digits).hasMatch())
        digits.remove(u',');
    bool isNumber = false;
    const qlonglong value = digits.toLongLong(&isNumber);
    return isNumber ? std::optional<std::int64_t>(value) : std::nullopt;
}

QString figureText(SettingKey key, std::int64_t value) {
    const SettingInfo &info = infoOf(key);
    if (isClock(info))
        return timeText(Minutes::of(value));
    if (const Reading *reading = readingOf(info))
        return QString::number(static_cast<double>(value) / reading->perUnit, 'f', reading->decimals);
    if (!isWeekdays(info))
        return QString::number(value); // as it is typed
    QStringList days;
    for (const Weekday day : kAllWeekdays)
        if (WeekdaySet::fromBits(static_cast<unsigned>(value)).contains(day))
            days << words(day);
    return days.isEmpty() ? Text::tr("no day") : days.join(u' ');
}

QString figureUnit(SettingKey key, const std::string &currency) {
    const SettingInfo &info = infoOf(key);
    if (isClock(info) || isWeekdays(info))
        return {};
    const Reading *reading = readingOf(info);
    if (!reading)
        return fromStd(std::string(info.unit));
    return *reading->read == '\0' ? fromStd(currency) : Text::tr(reading->read);
}

QString figureWithUnit(SettingKey key, std::int64_t value, const std::string &currency) {
    return QStringLiteral("%1 %2").arg(figureText(key, value), figureUnit(key, currency)).trimmed();
}

QString hoursText(Minutes length) {
    QString text = QString::number(static_cast<double>(length.count()) / 60, 'f', 2);
    while (text.endsWith(u'0'))
        text.chop(1);
    if (text.endsWith(u'.'))
        text.chop(1);
    return text;
}

Result<Minutes> hoursFrom(const QString &typed, const std::string &field) {
    constexpr double kReadable = 1e6; // beyond it nothing is meant
    const QString text = typed.trimmed();
    if (text.isEmpty())
        return Problem{ProblemCode::Missing, field};
    bool isNumber = false;
    const double hours = text.toDouble(&isNumber);
    if (!isNumber || !(std::abs(hours) < kReadable))
        return Problem{ProblemCode::NotANumber, field, {text.toStdString(), "decimals"}};
    return Minutes::of(std::llround(hours * 60));
}

Result<std::int64_t> figureFrom(const QString &typed, SettingKey key, const std::string &field) {
    const SettingInfo &info = infoOf(key);
    const QString text = typed.trimmed();
    const std::string given = text.toStdString();
    if (text.isEmpty())
        return Problem{ProblemCode::Missing, field};
    if (isClock(info)) {
        const auto time = clockAsTyped(given);
        if (!time)
            return Problem{ProblemCode::NotATime, field, {given}};
        return time->count();
    }
    const auto value = typedFigure(text, info);
    if (!value)
        return readingOf(info) ? Problem{ProblemCode::NotANumber, field, {given, "decimals"}}
                               : Problem{ProblemCode::NotANumber, field, {given}};
    if (*value < static_cast<double>(info.least) || *value > static_cast<double>(info.most))
        return Problem{
            ProblemCode::OutOfRange,
            field,
            {given, figureText(key, info.least).toStdString(), figureText(key, info.most).toStdString()}};
    return static_cast<std::int64_t>(*value);
}

} // namespace kitround::desk
