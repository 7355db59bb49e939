// The coming weeks of a storeroom item as a picture beside its table.
#include "ui/stock/ShelfChart.h"
#include "core/desk/words/Words.h"
#include "tests/gui/ClerkFixture.h"
#include "ui/stock/ChartParts.h"
#include "ui/stock/RoomSplitter.h"

#include <QSettings>

namespace kitround::ui {
namespace {

class ShelfPicture : public ClerkPages {
protected:
    // Of the first item of the list that has coming weeks.
    ShelfChart *chart() {
        stock_->show();
        EXPECT_TRUE(QTest::qWaitForWindowExposed(stock_.get()));
        showTab(*stock_, "stockTabs", 1);
        showTab(*stock_, "storeroomTabs", 1);
        DenseTable *items = table(*stock_, "storeroomTable");
        for (int row = 0; row < items->model()->rowCount(); ++row) {
            items->selectSourceRow(row);
            if (weeks()->model()->rowCount() > 0)
                break;
        }
        EXPECT_GT(weeks()->model()->rowCount(), 0);
        return stock_->findChild<ShelfChart *>(s("shelfChart"));
    }
    DenseTable *weeks() const { return table(*stock_, "storeroomWeeks"); }
};

TEST_F(ShelfPicture, ItSaysWhatTheTableSaysAndTheKeysGoThroughItsDays) {
    ShelfChart *picture = chart();
    ASSERT_NE(picture, nullptr);
    const desk::AgencyPtr agency = session_.agency();
    EXPECT_TRUE(picture->accessibleDescription().contains(s("free today"))) << "the picture in words";
    EXPECT_TRUE(picture->accessibleDescription().endsWith(picture->markedFigures()));
    EXPECT_TRUE(picture->markedFigures().startsWith(desk::dayText(agency->today(), agency->today())));
    EXPECT_TRUE(picture->focusPolicy() & Qt::TabFocus);
    QTest::keyClick(picture, Qt::Key_PageDown);
    const QString figures = picture->markedFigures();
    EXPECT_TRUE(figures.startsWith(desk::dayText(agency->today().plusDays(7), agency->today())));
    EXPECT_TRUE(figures.contains(s("Expected: ") + cell(weeks(), 0, 3))) << figures.toStdString();
    QTest::keyClick(picture, Qt::Key_Right);
    QTest::keyClick(picture, Qt::Key_Left);
    EXPECT_EQ(picture->markedFigures(), figures);
    for (int week = 0; week < 20; ++week) // not beyond its end
        QTest::keyClick(picture, Qt::Key_PageDown);
    EXPECT_FALSE(picture->markedFigures().isEmpty());
    EXPECT_FALSE(picture->grab().isNull());
}

TEST_F(ShelfPicture, OnASmallScreenItLiesBesideTheTableAndBothAreSeen) {
    QSettings().remove(s("division"));
    const ShelfChart *picture = chart();
    const auto across = [&](const QWidget *part) { return part->mapTo(stock_.get(), QPoint(0, 0)); };
    EXPECT_EQ(across(picture).y(), across(weeks()).y());
    EXPECT_GE(picture->height(), 150);
    EXPECT_GE(picture->width(), 340);
    EXPECT_GE(weeks()->width(), 340);
}

TEST_F(ShelfPicture, AnItemWithoutComingWeeksIsSaidInWords) {
    ShelfChart alone;
    desk::StoreroomChart none;
    none.nothing = s("Nobody uses this item.");
    alone.setChart(none);
    EXPECT_EQ(alone.accessibleDescription(), none.nothing);
    EXPECT_EQ(alone.markedFigures(), QString());
    QTest::keyClick(&alone, Qt::Key_Right); // nothing to go through
    alone.resize(400, 200);
    EXPECT_FALSE(alone.grab().isNull());
}

TEST(RoomSplitterTest, WideItLiesSideBySideNarrowOneUnderTheOtherAndKeepsItsDivision) {
    class Movable : public RoomSplitter {
    public:
        Movable() : RoomSplitter(s("test"), 300, nullptr) {
            addWidget(new QWidget(this));
            addWidget(new QWidget(this));
        }
        using QSplitter::moveSplitter;
    };
    QSettings().remove(s("division/test"));
    {
        Movable first;
        first.resize(600, 200);
        first.show();
        EXPECT_EQ(first.orientation(), Qt::Horizontal);
        first.moveSplitter(150, 1);
        first.resize(200, 400);
        QCoreApplication::processEvents();
        EXPECT_EQ(first.orientation(), Qt::Vertical);
    }
    Movable second;
    second.resize(600, 200);
    second.show();
    EXPECT_NEAR(second.sizes().front(), 150, 8);
    QSettings().remove(s("division/test"));
}

TEST(ChartPartsTest, ALabelGivesWayToAPointThatWasCountedWhereItWouldStand) {
    const QRectF area(50, 30, 400, 200);
    const QPointF place(300, 120);
    const QSizeF size(160, 16);
    const QRectF free = labelLeftOf(place, size, {}, area);
    EXPECT_NEAR(free.center().y(), place.y(), 0.5);
    EXPECT_LT(free.right(), place.x());
    const QRectF counted(280, 115, 10, 10); // the last count, a day ago
    ASSERT_TRUE(free.intersects(counted));
    const QRectF moved = labelLeftOf(place, size, {counted}, area);
    EXPECT_FALSE(moved.intersects(counted));
    EXPECT_TRUE(area.contains(moved));
    EXPECT_LT(std::abs(moved.center().y() - place.y()), 3 * size.height()) << "and stays near";
}

TEST(ChartPartsTest, TheWordTodayGivesWayToALevelThatRunsAlongTheTop) {
    const Date today = Date::of(2026, 3, 2);
    const ChartScale scale(QRectF(54, 26, 400, 150), today, today.plusDays(56), 100);
    const QRectF level(scale.plot.left(), scale.y(Eaches::of(95)) - 1, scale.plot.width(), 2);
    ASSERT_TRUE(todayLabel(scale, today).intersects(level));
    const QRectF label = todayLabel(scale, today, {level});
    EXPECT_FALSE(label.intersects(level));
    EXPECT_TRUE(scale.plot.contains(label));
    EXPECT_LT(label.top(), level.bottom() + 2 * label.height()) << "and stays near";
}

TEST(ChartPartsTest, TheNumbersOfParcelsOnNeighbouringDaysDoNotCoverOneAnother) {
    const QRectF area(50, 30, 400, 200);
    const QSizeF size(24, 14);
    const std::vector<QPointF> alone{{100, area.bottom()}};
    EXPECT_GT(placesBeside(alone, {size}, area).front().value_or(QRectF()).left(), 100) << "to its right";
    std::vector<QPointF> feet;
    for (int day = 0; day < 4; ++day)
        feet.emplace_back(100 + 8 * day, area.bottom());
    const auto places = placesBeside(feet, std::vector<QSizeF>(feet.size(), size), area);
    ASSERT_EQ(places.size(), feet.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        ASSERT_TRUE(places[i]) << i;
        EXPECT_TRUE(area.contains(*places[i]));
        for (std::size_t k = 0; k < i; ++k)
            EXPECT_FALSE(places[i]->intersects(*places[k])) << i << " and " << k;
    }
}

} // namespace
} // namespace kitround::ui
