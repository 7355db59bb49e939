#include "ui/stock/ChartParts.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/LabelPlaces.h"

#include <QFontMetricsF>
#include <QPainter>
#include <QWidget>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

namespace kitround::ui {
namespace {

constexpr double kTodayWidth = 60;

std::int64_t niceStep(std::int64_t most) {
    for (std::int64_t step = 1;; step *= 10)
        for (const std::int64_t times : {1, 2, 5})
            if (most <= step * times * 6)
                return step * times;
}

QPolygonF triangleOn(QPointF foot) {
    return QPolygonF({foot + QPointF(-5, 0), foot + QPointF(5, 0), foot + QPointF(0, -9)});
}

} // namespace

ChartScale::ChartScale(const QRectF &area, Date from, Date to, std::int64_t highest)
    : plot(area), first(from), last(to), step(niceStep(std::max<std::int64_t>(highest, 1))) {
    most = (std::max<std::int64_t>(highest, 1) + step - 1) / step * step;
    perDay = plot.width() / static_cast<double>(std::max<std::int64_t>((last - first).count(), 1));
    perUnit = plot.height() / static_cast<double>(most);
}

Date ChartScale::day(double atX) const {
    return first.plusDays(std::llround((atX - plot.left()) / perDay));
}

QColor faded(Role role, int alpha) {
    QColor colour = Look::colour(role);
    colour.setAlpha(alpha);
    return colour;
}

void drawUnitAxis(QPainter &painter, const ChartScale &scale) {
    painter.setFont(Look::smallFont());
    for (std::int64_t units = 0; units <= scale.most; units += scale.step) {
        const double y = scale.y(Eaches::of(units));
        painter.setPen(Look::colour(Role::Line));
        painter.drawLine(QPointF(scale.plot.left(), y), QPointF(scale.plot.right(), y));
        painter.setPen(Look::colour(Role::FaintInk));
        painter.drawText(QRectF(0, y - 9, scale.plot.left() - 6, 18), Qt::AlignRight | Qt::AlignVCenter,
                         desk::numberText(units));
    }
}

// Mondays, thinned until their names have room.
void drawDayAxis(QPainter &painter, const ChartScale &scale, double rightEdge) {
    painter.setFont(Look::smallFont());
    const double width = painter.fontMetrics().horizontalAdvance(QStringLiteral("Mon 30 Nov")) + 14;
    std::int64_t everyWeeks = 1;
    while (static_cast<double>(7 * everyWeeks) * scale.perDay < width)
        ++everyWeeks;
    std::int64_t mondays = 0;
    const double bottom = scale.plot.bottom();
    for (Date on = scale.first; on <= scale.last; ++on) {
        if (on.weekday() != Weekday::Monday)
            continue;
        const double x = scale.x(on);
        const bool isNamed = mondays++ % everyWeeks == 0;
        painter.setPen(Look::colour(Role::Line));
        painter.drawLine(QPointF(x, bottom), QPointF(x, bottom + (isNamed ? 6 : 3)));
        if (!isNamed || x + width / 2 > rightEdge)
            continue;
        painter.setPen(Look::colour(Role::FaintInk));
        painter.drawText(QRectF(x - width / 2, bottom + 7, width, 16), Qt::AlignCenter, desk::dayText(on));
    }
}

QRectF todayLabel(const ChartScale &scale, Date today, const std::vector<QRectF> &drawn) {
    const double x = scale.x(today);
    const bool hasPast = x - kTodayWidth - 4 >= scale.plot.left();
    const QRectF top(hasPast ? x - kTodayWidth - 4 : x + 4, scale.plot.top(), kTodayWidth, 16);
    std::vector<QRectF> places;
    for (double down = 0; down + top.height() <= scale.plot.height(); down += 4)
        places.push_back(top.translated(0, down));
    return placeLabels({places}, drawn, scale.plot).front().value_or(top);
}

void drawToday(QPainter &painter, const ChartScale &scale, Date today, Date mark, const QRectF &label) {
    painter.setFont(Look::smallFont());
    painter.setPen(QPen(Look::colour(Role::FaintInk), 1));
    const double x = scale.x(today);
    painter.drawLine(QPointF(x, scale.plot.top()), QPointF(x, scale.plot.bottom()));
    constexpr int kBefore = Qt::AlignRight | Qt::AlignTop, kBehind = Qt::AlignLeft | Qt::AlignTop;
    painter.drawText(label, label.left() < x ? kBefore : kBehind, QObject::tr("today"));
    painter.setPen(QPen(Look::colour(Role::Accent), 1, Qt::DotLine));
    painter.drawLine(QPointF(scale.x(mark), scale.plot.top()), QPointF(scale.x(mark), scale.plot.bottom()));
}

void drawBand(QPainter &painter, const QPolygonF &high, const QPolygonF &low, int alpha) {
    QPolygonF shape = high;
    std::copy(low.crbegin(), low.crend(), std::back_inserter(shape));
    painter.setPen(Qt::NoPen);
    painter.setBrush(faded(Role::Accent, alpha));
    painter.drawPolygon(shape);
}

void drawPath(QPainter &painter, const QPolygonF &path, const QPen &pen) {
    painter.setPen(pen);
    painter.setBrush(Qt::NoBrush);
    painter.drawPolyline(path);
}

void drawComing(QPainter &painter, QPointF foot, bool isFirm) {
    painter.setPen(QPen(Look::colour(Role::Good), 1.5));
    painter.setBrush(Look::colour(isFirm ? Role::Good : Role::Raised));
    painter.drawPolygon(triangleOn(foot));
}

std::vector<std::optional<QRectF>> placesBeside(const std::vector<QPointF> &feet,
                                                const std::vector<QSizeF> &sizes, const QRectF &area) {
    constexpr int kLinesAbove = 3;
    constexpr double kBeside = 7;
    std::vector<QRectF> taken;
    std::vector<std::vector<QRectF>> wishes;
    for (std::size_t i = 0; i < feet.size(); ++i) {
        const QPointF foot = feet[i];
        const QSizeF size = sizes.at(i);
        const QRectF triangle = triangleOn(foot).boundingRect();
        taken.push_back(triangle);
        std::vector<QRectF> &places = wishes.emplace_back();
        const double top = foot.y() - 1 - size.height();
        places.emplace_back(QPointF(foot.x() + kBeside, top), size);
        places.emplace_back(QPointF(foot.x() - kBeside - size.width(), top), size);
        for (int line = 1; line <= kLinesAbove; ++line)
            places.emplace_back(
                QPointF(foot.x() - size.width() / 2, triangle.top() - 1 - line * size.height()), size);
    }
    return placeLabels(wishes, std::move(taken), area);
}

void drawDryRange(QPainter &painter, const ChartScale &scale, Date early, Date late,
                  std::optional<Date> expected) {
    const double y = scale.plot.bottom() + 3;
    painter.setPen(QPen(Look::colour(Role::Act), 4, Qt::SolidLine, Qt::RoundCap));
    painter.drawLine(QPointF(scale.x(early), y), QPointF(scale.x(late), y));
    if (!expected || *expected > scale.last)
        return;
    painter.setBrush(Look::colour(Role::Act));
    painter.drawEllipse(QPointF(scale.x(*expected), y), 5, 5);
}

void drawFoot(QPainter &painter, const ChartScale &scale, const QRect &widget, const QString &text,
              Role role) {
    painter.setFont(Look::smallFont());
    painter.setPen(Look::colour(role));
    painter.drawText(QRectF(scale.plot.left(), widget.height() - 20, scale.plot.width(), 18), Qt::AlignRight,
                     text);
}

void drawWords(QPainter &painter, const QRect &area, const QString &text, Role role) {
    painter.setPen(Look::colour(role));
    painter.drawText(area.adjusted(16, 16, -16, -16), Qt::AlignCenter | Qt::TextWordWrap, text);
}

void drawFocusFrame(QPainter &painter, const QWidget &chart) {
    if (!chart.hasFocus())
        return;
    painter.setPen(QPen(Look::colour(Role::Accent), 2));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(chart.rect().adjusted(1, 1, -1, -1));
}

int markStep(int key) {
    return key == Qt::Key_Left       ? -1
           : key == Qt::Key_Right    ? 1
           : key == Qt::Key_PageUp   ? -7
           : key == Qt::Key_PageDown ? 7
                                     : 0;
}

QRectF labelLeftOf(QPointF place, QSizeF size, const std::vector<QRectF> &taken, const QRectF &area) {
    const double left = std::max(place.x() - size.width() - 6, area.left() + 4);
    const QRectF beside(QPointF(left, place.y() - size.height() / 2), size);
    std::vector<QRectF> places{beside};
    for (double away = 4; away < area.height(); away += 4) {
        places.push_back(beside.translated(0, -away));
        places.push_back(beside.translated(0, away));
    }
    return placeLabels({places}, taken, area).front().value_or(beside);
}

ChartLegend::ChartLegend(QPainter &painter, const ChartScale &scale, double rightEdge)
    : painter_(painter), x_(scale.plot.left()), rightEdge_(rightEdge) {
    painter_.setFont(Look::smallFont());
}

void ChartLegend::entry(const QString &text, const std::function<void(const QRectF &)> &draw) {
    draw(QRectF(x_, 9, 18, 10));
    painter_.setPen(Look::colour(Role::FaintInk));
    painter_.drawText(QPointF(x_ + 22, 18), text);
    x_ += 32 + painter_.fontMetrics().horizontalAdvance(text);
}

bool ChartLegend::hasRoom(const QString &text) const {
    return x_ + 22 + painter_.fontMetrics().horizontalAdvance(text) <= rightEdge_;
}

void ChartLegend::line(const QString &text, const QPen &pen) {
    entry(text, [&](const QRectF &box) {
        painter_.setPen(pen);
        painter_.drawLine(QPointF(box.left(), box.center().y()), QPointF(box.right(), box.center().y()));
    });
}

void ChartLegend::box(const QString &text, int alpha) {
    entry(text, [&](const QRectF &area) { painter_.fillRect(area, faded(Role::Accent, alpha)); });
}

void ChartLegend::coming(const QString &text) {
    entry(text, [&](const QRectF &box) { drawComing(painter_, QPointF(box.center().x(), 19), true); });
}

} // namespace kitround::ui
