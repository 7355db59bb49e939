#include "core/rounds/travel/Travel.h"
#include "core/rounds/travel/FarPlaces.h"

#include <gtest/gtest.h>

namespace kitround::rounds {
namespace {

constexpr double kMile = 1609.344;

// Great-circle values for R = 6371.0088 km (mean radius, IUGG), computed to 1 m by the haversine formula
// (R. W. Sinnott, "Virtues of the haversine", Sky and Telescope 68(2), 1984).
TEST(TravelTest, GreatCircleAgreesWithPublishedPairs) {
    EXPECT_NEAR(greatCircleMetres({0, 0}, {0, 1}), 111195.080, 0.01);
    EXPECT_NEAR(greatCircleMetres({90, 0}, {-90, 0}), 20015114.442, 0.01);
    EXPECT_NEAR(greatCircleMetres({40.6, -73.8}, {51.6, -0.5}), 5536891.987, 0.01);
    EXPECT_NEAR(greatCircleMetres({39.7392, -104.9903}, {40.015, -105.2705}), 38887.110, 0.01);
    EXPECT_EQ(greatCircleMetres({40.7128, -74.006}, {40.7128, -74.006}), 0);
}

// Row K15 of the worked checks of the trade, by hand: 4.3513 mi straight, x 1.4 = 6.0918 mi, at 28 mph 13.05
// min, and 5 minutes a stop.
TEST(TravelTest, AShortSuburbanHopTakesThirteenMinutesAndAStop) {
    const AgencySettings settings;
    const GeoPoint a{40.00, -75.00};
    const GeoPoint b{40.05, -75.05};
    EXPECT_NEAR(greatCircleMetres(a, b) / kMile, 4.3513, 0.001);
    EXPECT_NEAR(roadMetres(a, b, settings) / kMile, 6.0918, 0.001);
    EXPECT_NEAR(drivingMinutes(a, AreaKind::Suburban, b, AreaKind::Suburban, settings), 13.05, 0.01);
    const TravelTable table = travelTable({{a, AreaKind::Suburban}, {b, AreaKind::Suburban}}, settings);
    EXPECT_EQ(table.minutesBetween(0, 1), 19); // 18.05 rounded up
    EXPECT_EQ(table.minutesBetween(0, 0), 0);
}

TEST(TravelTest, TheSlowerAreaGivesTheSpeed) {
    const AgencySettings settings;
    const GeoPoint a{40.00, -75.00};
    const GeoPoint b{40.05, -75.05};
    const double urban = drivingMinutes(a, AreaKind::Urban, b, AreaKind::Rural, settings);
    EXPECT_NEAR(urban, 13.05 * 28 / 18, 0.02);
    EXPECT_EQ(urban, drivingMinutes(b, AreaKind::Rural, a, AreaKind::Urban, settings));
}

TEST(TravelTest, AnUnknownPlaceStandsInTheMiddleOfTheKnownOnes) {
    const AgencySettings settings;
    const TravelTable table = travelTable(
        {{GeoPoint{40.0, -75.0}, AreaKind::Suburban}, {GeoPoint{40.1, -75.0}, AreaKind::Suburban}, {}},
        settings);
    EXPECT_EQ(table.minutesBetween(0, 2), table.minutesBetween(1, 2));
    EXPECT_LT(table.minutesBetween(0, 2), table.minutesBetween(0, 1));
}

// Standard time in New York is five hours behind Greenwich: its sun stands over 75 degrees west.
TEST(FarPlacesTest, AStoreroomWithoutItsMinusLiesFarFromItsZone) {
    AgencySettings settings;
    settings.timeZone = "America/New_York";
    EXPECT_FALSE(isFarFromZone(settings)) << "not on the map yet";
    settings.storeroom.point = GeoPoint{40.7, -74.0};
    EXPECT_FALSE(isFarFromZone(settings));
    settings.storeroom.point = GeoPoint{40.7, 74.0};
    EXPECT_TRUE(isFarFromZone(settings));
    settings.timeZone = "Pacific/Guam";
    settings.storeroom.point = GeoPoint{13.5, 144.8};
    EXPECT_FALSE(isFarFromZone(settings));
    settings.timeZone = "Pacific/Pago_Pago"; // eleven hours behind, close to where the day begins
    settings.storeroom.point = GeoPoint{-14.3, 179.0};
    EXPECT_FALSE(isFarFromZone(settings)) << "the short way round";
    settings.timeZone = "Nowhere/At_All";
    EXPECT_FALSE(isFarFromZone(settings));
}

TEST(FarPlacesTest, AHomeIsFarBeyondThreeHundredKilometres) {
    AgencySettings settings;
    settings.timeZone = "America/New_York";
    settings.storeroom.point = GeoPoint{40.0, -75.0};
    EXPECT_FALSE(isFarFromStoreroom(std::nullopt, settings));
    EXPECT_FALSE(isFarFromStoreroom(GeoPoint{42.6, -75.0}, settings)) << "289 km";
    EXPECT_TRUE(isFarFromStoreroom(GeoPoint{42.8, -75.0}, settings)) << "311 km";
    settings.storeroom.point = GeoPoint{40.0, 75.0};
    EXPECT_FALSE(isFarFromStoreroom(GeoPoint{40.0, -75.0}, settings)) << "it is the storeroom that is wrong";
}

} // namespace
} // namespace kitround::rounds
