// Names and numbers in the drawing of a day do not cover one another.
#include "ui/shared/LabelPlaces.h"

#include <gtest/gtest.h>

namespace kitround::ui {
namespace {

const QRectF kArea(0, 0, 200, 100);

TEST(LabelPlaces, EachKeepsItsBestPlaceWhereNothingIsInTheWay) {
    const QRectF one(10, 10, 30, 10), other(60, 10, 30, 10);
    const auto places = placeLabels({{one}, {other}}, {}, kArea);
    ASSERT_EQ(places.size(), 2U);
    EXPECT_TRUE(places[0] == one);
    EXPECT_TRUE(places[1] == other);
}

TEST(LabelPlaces, TheSecondOfTwoGoesToTheNextPlaceThatIsFree) {
    const QRectF best(10, 10, 30, 10), next(10, 25, 30, 10);
    const auto places = placeLabels({{best}, {best.translated(5, 0), next}}, {}, kArea);
    EXPECT_TRUE(places[0] == best) << "the first stays where it was";
    EXPECT_TRUE(places[1] == next);
}

TEST(LabelPlaces, WhatIsTakenAndWhatLiesOutsideIsNoPlace) {
    const QRectF taken(10, 10, 30, 10), outside(190, 10, 30, 10);
    EXPECT_FALSE(placeLabels({{taken, outside}}, {taken}, kArea).front());
    const QRectF shorter(10, 20, 10, 10); // touches what is taken
    EXPECT_TRUE(placeLabels({{taken, outside, shorter}}, {taken}, kArea).front() == shorter);
}

TEST(LabelPlaces, ManyRoundsFromOneDoorAreNamedApart) {
    const QPointF door(100, 50);
    const std::vector<QRectF> around = placesAround(door, QSizeF(40, 10), 5);
    const QRectF square(95, 45, 10, 10);
    const auto places = placeLabels(std::vector<std::vector<QRectF>>(8, around), {square}, kArea);
    for (std::size_t i = 0; i < places.size(); ++i) {
        ASSERT_TRUE(places[i]) << i;
        EXPECT_FALSE(places[i]->intersects(square));
        for (std::size_t j = 0; j < i; ++j)
            EXPECT_FALSE(places[i]->intersects(*places[j])) << i << " and " << j;
    }
}

} // namespace
} // namespace kitround::ui
