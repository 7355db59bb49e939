#pragma once
// The week grid under a mouse: cards are found as a person finds them, by looking over the picture.
#include "ui/calendar/WeekGrid.h"

#include <QTest>

#include <optional>

namespace kitround::ui {

// Where the grid drew a job; nothing where it is scrolled out of sight. Chooses cards on its way.
inline std::optional<QPoint> pointOf(WeekGrid &grid, std::int32_t job) {
    std::optional<QPoint> found;
    const QMetaObject::Connection watching =
        QObject::connect(&grid, &WeekGrid::currentChanged, [&](int current) {
            if (current == job && !found)
                found = QPoint(-1, -1);
        });
    for (int y = 50; y < grid.viewport()->height() && !found; y += 10)
        for (int x = 190; x < grid.viewport()->width() && !found; x += 40) {
            QTest::mouseClick(grid.viewport(), Qt::LeftButton, {}, QPoint(x, y));
            if (found)
                found = QPoint(x, y);
        }
    QObject::disconnect(watching);
    return found;
}

inline void drag(WeekGrid &grid, QPoint from, QPoint to) {
    QWidget *view = grid.viewport();
    QTest::mousePress(view, Qt::LeftButton, {}, from);
    QTest::mouseMove(view, from + QPoint(12, 12)); // beyond a mere tremor
    QTest::mouseMove(view, to);
    QTest::mouseRelease(view, Qt::LeftButton, {}, to);
}

} // namespace kitround::ui
