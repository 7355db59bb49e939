#include "core/records/Settings.h"

#include <gtest/gtest.h>

#include <set>

namespace kitround {
namespace {

TEST(SettingsTest, EveryKeyHasItsOwnRowWithASource) {
    std::set<std::string_view> names;
    ASSERT_EQ(settingTable().size(), kSettingCount);
    for (std::size_t i = 0; i < kSettingCount; ++i) {
        const auto key = static_cast<SettingKey>(i);
        const SettingInfo &info = infoOf(key);
        EXPECT_EQ(info.key, key);
        EXPECT_TRUE(names.insert(info.name).second) << info.name;
        EXPECT_FALSE(info.source.empty()) << info.name;
        EXPECT_FALSE(info.unit.empty()) << info.name;
        EXPECT_LE(info.least, info.preset) << info.name;
        EXPECT_LE(info.preset, info.most) << info.name;
        EXPECT_EQ(settingNamed(info.name), key);
        EXPECT_EQ(AgencySettings()[key], info.preset);
    }
    EXPECT_FALSE(settingNamed("no_such_setting"));
    EXPECT_FALSE(settingNamed(""));
}

TEST(SettingsTest, LengthsFollowTheKindOfVisit) {
    AgencySettings settings;
    settings.set(SettingKey::VisitMinutesTeaching, 77);
    EXPECT_EQ(visitLength(settings, VisitKind::Teaching), Minutes::of(77));
    EXPECT_EQ(visitLength(settings, VisitKind::StartOfCare), Minutes::of(120));
    EXPECT_EQ(notesLength(settings, VisitKind::StartOfCare), Minutes::of(60));
    EXPECT_EQ(notesLength(settings, VisitKind::Routine), Minutes::of(15));
    EXPECT_DOUBLE_EQ(visitPoints(settings, VisitKind::StartOfCare), 2.0);
    for (int k = 0; k < kVisitKindCount; ++k)
        EXPECT_GT(visitLength(settings, static_cast<VisitKind>(k)), Minutes::of(0)) << k;
}

} // namespace
} // namespace kitround
