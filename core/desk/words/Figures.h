#pragma once
// The figures of the settings as people read and type them. Stored are whole numbers of small units
// (hundredths of a point, minutes of the day); people see the large unit wherever a figure stands.
#include "core/base/Quantity.h"
#include "core/base/Result.h"
#include "core/records/Settings.h"

#include <QString>

#include <cstdint>
#include <optional>
#include <string>

namespace kitround::desk {

// How a figure is entered: as a time of day, by ticking weekdays, else as a number.
bool isClock(const SettingInfo &info);
bool isWeekdays(const SettingInfo &info);

// A whole number as people type it, with commas between its thousands or without: "1200", "1,200". A decimal
// comma is none of these.
std::optional<std::int64_t> wholeNumberFrom(const QString &typed);

// Hours with two decimals at most: "40", "37.5"; whole minutes come back as they were.
QString hoursText(Minutes length);
// Problems at `field`: Missing, NotANumber. What is too long is the record's to say.
Result<Minutes> hoursFrom(const QString &typed, const std::string &field);

// "45", "2.00", "08:00", "Mon Tue Wed": a value in the unit below.
QString figureText(SettingKey key, std::int64_t value);
// "points", "% a day", "USD"; empty where the value says what it is.
QString figureUnit(SettingKey key, const std::string &currency);
QString figureWithUnit(SettingKey key, std::int64_t value, const std::string &currency); // "2.00 points"
// What was typed in that unit. Problems at `field`: Missing, NotANumber, NotATime, OutOfRange in the unit
// typed. Weekdays are ticked, not typed: NotANumber.
Result<std::int64_t> figureFrom(const QString &typed, SettingKey key, const std::string &field);

} // namespace kitround::desk
