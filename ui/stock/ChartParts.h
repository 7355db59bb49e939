#pragma once
// What the pictures of stock over time draw alike: scale and axes, bands and lines, marks, the legend.
#include "core/base/Date.h"
#include "core/base/Quantity.h"
#include "ui/shared/Look.h"

#include <QPen>
#include <QPolygonF>
#include <QRectF>

#include <algorithm>
#include <functional>
#include <optional>
#include <vector>

class QPainter;
class QWidget;

namespace kitround::ui {

// Days to the right from `from`, eaches upwards from nought; the top of the axis is a round number.
struct ChartScale {
    ChartScale() = default;
    ChartScale(const QRectF &area, Date from, Date to, std::int64_t highest);
    double x(Date on) const { return plot.left() + static_cast<double>((on - first).count()) * perDay; }
    double y(double units) const { return plot.bottom() - std::max(units, 0.0) * perUnit; }
    double y(Eaches units) const { return y(static_cast<double>(units.count())); }
    Date day(double atX) const;
    QRectF plot;
    Date first, last;
    std::int64_t step = 1, most = 1; // of the axis of eaches
    double perDay = 1, perUnit = 1;
};

QColor faded(Role role, int alpha);

// In the small font, which they set. The names of the days stand below the plot, at most up to `rightEdge`.
void drawUnitAxis(QPainter &painter, const ChartScale &scale);
void drawDayAxis(QPainter &painter, const ChartScale &scale, double rightEdge);
// At the top beside the line of today; lower where what is `drawn` would run through it.
QRectF todayLabel(const ChartScale &scale, Date today, const std::vector<QRectF> &drawn = {});
void drawToday(QPainter &painter, const ChartScale &scale, Date today, Date mark, const QRectF &label);

void drawBand(QPainter &painter, const QPolygonF &high, const QPolygonF &low, int alpha);
void drawPath(QPainter &painter, const QPolygonF &path, const QPen &pen);
// A triangle that stands on `foot`: what comes. Open where it is less than firm: only promised, backordered.
void drawComing(QPainter &painter, QPointF foot, bool isFirm);
// Where the numbers of what comes stand, one a foot: right of its triangle, left of it where another is in
// the way, else above; nothing for one that would cover another (the day mark tells it).
std::vector<std::optional<QRectF>> placesBeside(const std::vector<QPointF> &feet,
                                                const std::vector<QSizeF> &sizes, const QRectF &area);
// On the axis: when the stock may be used up; the knob is the expected day.
void drawDryRange(QPainter &painter, const ChartScale &scale, Date early, Date late,
                  std::optional<Date> expected);
// The sentence at the foot, to the right.
void drawFoot(QPainter &painter, const ChartScale &scale, const QRect &widget, const QString &text,
              Role role);
void drawWords(QPainter &painter, const QRect &area, const QString &text, Role role);
void drawFocusFrame(QPainter &painter, const QWidget &chart);

// The keys of a day mark: left and right a day, page up and down a week; 0 for any other.
int markStep(int key);

// Where a label stands that tells of a place to its right: at its height where that is free, else above or
// below it, as near as may be. Where nothing is free, at its height.
QRectF labelLeftOf(QPointF place, QSizeF size, const std::vector<QRectF> &taken, const QRectF &area);

class ChartLegend {
public:
    ChartLegend(QPainter &painter, const ChartScale &scale, double rightEdge);
    void entry(const QString &text, const std::function<void(const QRectF &)> &draw);
    void line(const QString &text, const QPen &pen);
    void box(const QString &text, int alpha);
    void coming(const QString &text);
    bool hasRoom(const QString &text) const;

private:
    QPainter &painter_;
    double x_;
    const double rightEdge_;
};

} // namespace kitround::ui
