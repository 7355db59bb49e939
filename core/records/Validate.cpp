// The agency itself and who works with the file. The families of care and supply have files of their own
// beside.
#include "core/records/Validate.h"

#include "core/records/Checks.h"

#include <algorithm>

namespace kitround {
namespace {

void checkOrderOfPair(Checks &checks, const AgencySettings &settings, SettingKey lower, SettingKey upper) {
    if (settings[lower] > settings[upper])
        checks.add(ProblemCode::Conflict, infoOf(upper).name, {std::string(infoOf(lower).name)});
}

bool isCurrencyCode(const std::string &code) {
    return code.size() == 3 && std::ranges::all_of(code, [](char c) { return c >= 'A' && c <= 'Z'; });
}

} // namespace

Problems validate(const AgencySettings &settings) {
    Checks checks;
    checks.text("agency_name", settings.agencyName, kLongestLine);
    checks.text("phone", settings.phone, kLongestCode);
    checks.text("order_contact", settings.orderContact, kLongestLine);
    checks.requiredText("time_zone", settings.timeZone, kLongestLine);
    if (settings.weekStart != Weekday::Sunday && settings.weekStart != Weekday::Monday)
        checks.add(ProblemCode::UnknownChoice, "week_start",
                   {std::to_string(int(settings.weekStart)), "Sunday, Monday"});
    if (!isCurrencyCode(settings.currency))
        checks.add(ProblemCode::UnknownChoice, "currency", {settings.currency, "USD, EUR, ..."});
    checks.notEmpty("visiting_days", settings.visitingDays.isEmpty());
    checks.address(settings.storeroom);
    checks.text("used_bottle_rules", settings.usedBottleRules, kLongestNotes);
    checks.noTwice("own_holidays", settings.ownHolidays);
    for (const SettingInfo &info : settingTable())
        checks.range(info.name, settings[info.key], info.least, info.most);
    if (settings[SettingKey::DayEnd] <= settings[SettingKey::DayStart])
        checks.add(
            ProblemCode::EndBeforeStart, infoOf(SettingKey::DayEnd).name,
            {std::to_string(settings[SettingKey::DayStart]), std::to_string(settings[SettingKey::DayEnd])});
    checkOrderOfPair(checks, settings, SettingKey::AmberLoadPercent, SettingKey::RedLoadPercent);
    checkOrderOfPair(checks, settings, SettingKey::AmberVisitsADay, SettingKey::RedVisitsADay);
    checkOrderOfPair(checks, settings, SettingKey::ClassASharePercent, SettingKey::ClassBSharePercent);
    checkOrderOfPair(checks, settings, SettingKey::ExpiryListDaysFirst, SettingKey::ExpiryListDaysSecond);
    checkOrderOfPair(checks, settings, SettingKey::ExpiryListDaysSecond, SettingKey::ExpiryListDaysThird);
    checkOrderOfPair(checks, settings, SettingKey::ExpiryListDaysThird, SettingKey::ExpiryListDaysLast);
    checkOrderOfPair(checks, settings, SettingKey::RecertWindowDays, SettingKey::CertificationDays);
    return checks.take();
}

Problems validate(const User &user) {
    Checks checks;
    checks.requiredText("name", user.name, kLongestLine);
    return checks.take();
}

} // namespace kitround
