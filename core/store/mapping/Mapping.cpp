#include "core/store/mapping/Mapping.h"

namespace kitround::store {

SettingsRow rowOf(const AgencySettings &settings, std::int64_t rowVersion) {
    SettingsRow row;
    row.settings = settings;
    row.rowVersion = rowVersion;
    for (const SettingInfo &info : settingTable())
        row.numbers.push_back({std::string(info.name), settings[info.key]});
    return row;
}

AgencySettings settingsOf(const SettingsRow &row) {
    AgencySettings settings = row.settings;
    for (const NamedNumber &number : row.numbers)
        if (const auto key = settingNamed(number.name))
            settings.set(*key, number.value);
    return settings;
}

} // namespace kitround::store
