#include "ui/setup/FigureForm.h"

#include "core/desk/words/Words.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

#include <QLineEdit>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace kitround::ui {
namespace {

bool isClock(const SettingInfo &info) {
    return info.unit == "minute of day";
}
bool isWeekdays(const SettingInfo &info) {
    return info.unit == "weekdays";
}
QString text(std::string_view view) {
    return QString::fromUtf8(view.data(), static_cast<qsizetype>(view.size()));
}

// Figures are stored as whole numbers of small units; people read and type the large one.
struct Reading {
    std::string_view stored;
    const char *read; // empty: the agency's currency
    int perUnit;
    int decimals;
};
constexpr Reading kReadings[] = {
    {"1/100 point", QT_TRANSLATE_NOOP("QObject", "points"), 100, 2},
    {"1/100 min", QT_TRANSLATE_NOOP("QObject", "min"), 100, 2},
    {"1/100 unit", QT_TRANSLATE_NOOP("QObject", "units"), 100, 2},
    {"1/100 a week", QT_TRANSLATE_NOOP("QObject", "a week"), 100, 2},
    {"1/10 cent a mile", QT_TRANSLATE_NOOP("QObject", "cents a mile"), 10, 1},
    {"1/1000", QT_TRANSLATE_NOOP("QObject", "%"), 10, 1},
    {"1/10000 a day", QT_TRANSLATE_NOOP("QObject", "% a day"), 100, 2},
    {"1/1000 of the price a year", QT_TRANSLATE_NOOP("QObject", "% of the price a year"), 10, 1},
    {"cents", "", 100, 2}};

const Reading *readingOf(const SettingInfo &info) {
    const auto *found = std::ranges::find(kReadings, info.unit, &Reading::stored);
    return found == std::end(kReadings) ? nullptr : found;
}

std::int64_t readScaled(RecordForm &form, const SettingInfo &info, const Reading &reading) {
    const std::string name(info.name), typed = form.textOf(name);
    bool isNumber = false;
    const double value = QString::fromStdString(typed).toDouble(&isNumber) * reading.perUnit;
    if (!isNumber) {
        form.addReadFault(typed.empty() ? Problem{ProblemCode::Missing, name, {}}
                                        : Problem{ProblemCode::NotANumber, name, {typed}});
        return info.preset;
    }
    if (!(value >= static_cast<double>(info.least) && value <= static_cast<double>(info.most))) {
        form.addReadFault({ProblemCode::OutOfRange,
                           name,
                           {typed, figureText(info.key, info.least).toStdString(),
                            figureText(info.key, info.most).toStdString()}});
        return info.preset;
    }
    return std::llround(value);
}

std::int64_t readFigure(RecordForm &form, const SettingInfo &info) {
    const std::string name(info.name);
    if (isWeekdays(info))
        return static_cast<std::int64_t>(form.weekdaysOf(name).bits());
    if (const Reading *reading = readingOf(info))
        return readScaled(form, info, *reading);
    if (!isClock(info))
        return form.neededNumberOf(name);
    const auto time = form.timeOf(name);
    if (form.textOf(name).empty())
        form.addReadFault({ProblemCode::Missing, name});
    return time.value_or(Minutes()).count();
}

} // namespace

QString figureText(SettingKey key, std::int64_t value) {
    const SettingInfo &info = infoOf(key);
    if (isClock(info))
        return desk::timeText(Minutes::of(value));
    if (const Reading *reading = readingOf(info))
        return QString::number(static_cast<double>(value) / reading->perUnit, 'f', reading->decimals);
    if (!isWeekdays(info))
        return QString::number(value);
    QStringList days;
    for (const Weekday day : kAllWeekdays)
        if (WeekdaySet::fromBits(static_cast<unsigned>(value)).contains(day))
            days << desk::words(day);
    return days.isEmpty() ? QObject::tr("no day") : days.join(QLatin1Char(' '));
}

QString figureUnit(const SettingInfo &info, const std::string &currency) {
    if (isClock(info) || isWeekdays(info))
        return {}; // the value says what it is
    const Reading *reading = readingOf(info);
    if (!reading)
        return text(info.unit);
    return *reading->read == '\0' ? QString::fromStdString(currency) : QObject::tr(reading->read);
}

bool editFigure(QWidget *window, Session &session, SettingKey key) {
    const SettingInfo &info = infoOf(key);
    const AgencySettings settings = session.agency()->settings();
    const std::string name(info.name);
    RecordForm form(desk::label(key), window);
    if (isWeekdays(info))
        form.addWeekdays(name, desk::label(key), WeekdaySet::fromBits(static_cast<unsigned>(settings[key])));
    else if (isClock(info))
        form.addTime(name, desk::label(key), Minutes::of(settings[key]));
    else
        form.addNumber(name, desk::label(key), std::nullopt, figureUnit(info, settings.currency))
            ->setText(figureText(key, settings[key]));
    if (!isWeekdays(info))
        form.addNote(
            QObject::tr("From %1 to %2.").arg(figureText(key, info.least), figureText(key, info.most)));
    form.addNote(QObject::tr("Preset: %1. Source: %2.").arg(figureText(key, info.preset), text(info.source)));
    form.resize(560, 300);
    form.onSave(
        [&] {
            AgencySettings record = settings;
            record.set(key, readFigure(form, info));
            return record;
        },
        [&](const AgencySettings &record) {
            return session.write(QObject::tr("Set: %1").arg(desk::label(key)),
                                 [&](desk::Desk &d) { return d.save(record); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
