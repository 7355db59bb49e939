#include "ui/stock/ShelfChart.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/LabelPlaces.h"
#include "ui/stock/ChartParts.h"

#include <QHelpEvent>
#include <QKeyEvent>
#include <QPainter>
#include <QToolTip>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace kitround::ui {
namespace {

using Point = desk::StoreroomChart::Point;

// Room for a shelf of "12,505" at the left; the legend above, the days and a sentence below.
constexpr int kShelfLeft = 54, kShelfRight = 14, kShelfTop = 26, kShelfBottom = 46;
constexpr int kBandAlpha = 60;
constexpr double kGap = 3; // between a mark and its label

QSizeF sizeOf(const QPainter &painter, const QString &text) {
    const QFontMetricsF metrics(painter.font());
    return {metrics.horizontalAdvance(text) + 1, metrics.height()};
}

QPen levelPen() {
    return QPen(Look::colour(Role::Ink), 1.4, Qt::DashLine);
}

// Each above its own mark, a line higher where another is in the way: beside it, it would be another's.
std::vector<QRectF> placesOver(QPointF foot, QSizeF size, const QRectF &plot) {
    constexpr int kLines = 4;
    constexpr double kMark = 9;
    const double left = std::clamp(foot.x() - size.width() / 2, plot.left(), plot.right() - size.width());
    std::vector<QRectF> places;
    for (int line = 1; line <= kLines; ++line)
        places.emplace_back(QPointF(left, foot.y() - kMark - kGap - line * size.height()), size);
    places.emplace_back(QPointF(foot.x() + 5 + kGap, foot.y() - size.height()),
                        size); // the line is low there
    return places;
}

QPolygonF hangingFrom(QPointF top) {
    return QPolygonF({top + QPointF(-5, 0), top + QPointF(5, 0), top + QPointF(0, 9)});
}

} // namespace

ShelfChart::ShelfChart(QWidget *parent) : QWidget(parent) {
    setObjectName(QStringLiteral("shelfChart"));
    setAccessibleName(tr("Stock in the storeroom over the coming weeks"));
    setFocusPolicy(Qt::StrongFocus);
    setProperty(Look::kIsPart, true);
    setMouseTracking(true);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
}

QSize ShelfChart::sizeHint() const {
    return {560, 240};
}
QSize ShelfChart::minimumSizeHint() const {
    return {340, 150};
}

void ShelfChart::setChart(desk::StoreroomChart chart) {
    chart_ = std::move(chart);
    message_ = chart_.nothing;
    setMark(chart_.today);
}

void ShelfChart::clear(const QString &message) {
    desk::StoreroomChart none;
    none.nothing = message;
    setChart(std::move(none));
}

QString ShelfChart::markedFigures() const {
    return desk::dayFigures(chart_, mark_);
}

void ShelfChart::setMark(Date on) {
    mark_ = std::clamp(on, chart_.today, std::max(chart_.today, chart_.last));
    const QString text = desk::chartText(chart_);
    setAccessibleDescription(chart_.points.empty() ? text : text + QLatin1Char('\n') + markedFigures());
    update();
}

ChartScale ShelfChart::scale() const {
    double highest = chart_.orderUpTo ? static_cast<double>(chart_.orderUpTo->count()) : 0;
    for (const Point &p : chart_.points)
        highest = std::max({highest, p.left, p.high.value_or(0)});
    const QRectF plot(kShelfLeft, kShelfTop, width() - kShelfLeft - kShelfRight,
                      height() - kShelfTop - kShelfBottom);
    return {plot, chart_.today, chart_.last, std::llround(std::ceil(highest))};
}

void ShelfChart::keyPressEvent(QKeyEvent *event) {
    const int step = markStep(event->key());
    if (step == 0 || chart_.points.empty()) {
        QWidget::keyPressEvent(event);
        return;
    }
    setMark(mark_.plusDays(step));
    const QPoint beside(static_cast<int>(scale().x(mark_)) + 8, kShelfTop);
    QToolTip::showText(mapToGlobal(beside), markedFigures(), this);
}

void ShelfChart::mouseMoveEvent(QMouseEvent *event) {
    const ChartScale s = scale();
    if (chart_.points.empty() || !s.plot.contains(event->position()))
        return;
    if (const Date on = s.day(event->position().x()); on != mark_)
        setMark(on);
}

bool ShelfChart::event(QEvent *event) {
    if (event->type() == QEvent::ToolTip && !chart_.points.empty()) {
        const auto *help = static_cast<QHelpEvent *>(event);
        QToolTip::showText(help->globalPos(), markedFigures(), this);
        return true;
    }
    return QWidget::event(event);
}

void ShelfChart::paintEvent(QPaintEvent *) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(rect(), Look::colour(Role::Raised));
    if (chart_.points.empty()) {
        drawWords(painter, rect(), message_, Role::FaintInk);
        drawFocusFrame(painter, *this);
        return;
    }
    const ChartScale s = scale();
    drawUnitAxis(painter, s);
    drawDayAxis(painter, s, width());
    drawToday(painter, s, chart_.today, mark_, todayPlace(s));
    drawStock(painter, s);
    std::vector<Label> labels;
    drawLevel(painter, s, labels);
    drawArrivals(painter, s, labels);
    drawExpiries(painter, s, labels);
    drawLabels(painter, s, labels);
    drawShort(painter, s);
    drawLegend(painter, s);
    drawFocusFrame(painter, *this);
}

void ShelfChart::drawStock(QPainter &painter, const ChartScale &s) const {
    QPolygonF expected, low, high;
    for (const Point &p : chart_.points) {
        expected << QPointF(s.x(p.on), s.y(p.left));
        if (!p.low || !p.high)
            continue;
        low << QPointF(s.x(p.on), s.y(*p.low));
        high << QPointF(s.x(p.on), s.y(*p.high));
    }
    drawBand(painter, high, low, kBandAlpha);
    drawPath(painter, expected, QPen(Look::colour(Role::Accent), 2.2));
}

void ShelfChart::drawLevel(QPainter &painter, const ChartScale &s, std::vector<Label> &labels) const {
    if (!chart_.orderUpTo)
        return;
    const double y = s.y(*chart_.orderUpTo);
    drawPath(painter, QPolygonF({QPointF(s.plot.left(), y), QPointF(s.plot.right(), y)}), levelPen());
    Label label{tr("order up to %1").arg(desk::numberText(chart_.orderUpTo->count())), Role::Ink, {}};
    const QSizeF size = sizeOf(painter, label.text);
    for (const double left :
         {s.plot.right() - size.width() - kGap, s.plot.center().x() - size.width() / 2, s.plot.left() + kGap})
        for (const double top : {y - size.height() - 1, y + 1})
            label.places.emplace_back(QPointF(left, top), size);
    labels.push_back(std::move(label));
}

void ShelfChart::drawArrivals(QPainter &painter, const ChartScale &s, std::vector<Label> &labels) const {
    for (const desk::StoreroomChart::Arrival &a : chart_.arrivals) {
        const QPointF foot(s.x(a.on), s.plot.bottom());
        drawComing(painter, foot, !a.isBackordered);
        Label label{QStringLiteral("+%1").arg(desk::numberText(a.units.count())), Role::Good, {}};
        label.places = placesOver(foot, sizeOf(painter, label.text), s.plot);
        labels.push_back(std::move(label));
    }
}

// The day after the last day of use begins at a thin line that hangs from the top.
void ShelfChart::drawExpiries(QPainter &painter, const ChartScale &s, std::vector<Label> &labels) const {
    for (const desk::StoreroomChart::Expiry &expiry : chart_.expiries) {
        const QPointF top(s.x(expiry.lastDay.plusDays(1)), s.plot.top());
        painter.setPen(QPen(Look::colour(Role::Watch), 1, Qt::DotLine));
        painter.drawLine(top, QPointF(top.x(), s.plot.bottom()));
        painter.setPen(QPen(Look::colour(Role::Watch), 1.5));
        painter.setBrush(Qt::NoBrush);
        painter.drawPolygon(hangingFrom(top));
        Label label{tr("%1 expire").arg(desk::numberText(expiry.units.count())), Role::Watch, {}};
        label.places = placesAround(top + QPointF(0, 5), sizeOf(painter, label.text), 5 + kGap);
        labels.push_back(std::move(label));
    }
}

std::vector<QRectF> ShelfChart::expectedLine(const ChartScale &s) const {
    std::vector<QRectF> drawn;
    for (std::size_t i = 1; i < chart_.points.size(); ++i) {
        const QPointF from(s.x(chart_.points[i - 1].on), s.y(chart_.points[i - 1].left));
        const QPointF to(s.x(chart_.points[i].on), s.y(chart_.points[i].left));
        drawn.push_back(QRectF(from, to).normalized().adjusted(-1, -1, 1, 1));
    }
    return drawn;
}

// The level to order up to often runs along the top, where the word would stand.
QRectF ShelfChart::todayPlace(const ChartScale &s) const {
    std::vector<QRectF> drawn = expectedLine(s);
    if (chart_.orderUpTo)
        drawn.emplace_back(s.plot.left(), s.y(*chart_.orderUpTo) - 1, s.plot.width(), 2);
    return todayLabel(s, chart_.today, drawn);
}

// Clear of the line and of one another; one without room is told by the day mark and by the table.
void ShelfChart::drawLabels(QPainter &painter, const ChartScale &s, const std::vector<Label> &labels) const {
    std::vector<QRectF> taken = expectedLine(s);
    taken.push_back(todayPlace(s));
    std::vector<std::vector<QRectF>> wishes;
    for (const Label &label : labels)
        wishes.push_back(label.places);
    const auto places = placeLabels(wishes, std::move(taken), s.plot);
    for (std::size_t i = 0; i < labels.size(); ++i)
        if (places[i]) {
            painter.setPen(Look::colour(labels[i].role));
            painter.drawText(*places[i], Qt::AlignLeft | Qt::AlignVCenter, labels[i].text);
        }
}

void ShelfChart::drawShort(QPainter &painter, const ChartScale &s) const {
    const std::optional<Date> early = chart_.shortEarly ? chart_.shortEarly : chart_.shortOn;
    if (early)
        drawDryRange(painter, s, *early, chart_.shortOn.value_or(chart_.last), chart_.shortOn);
    drawFoot(painter, s, rect(), desk::shortText(chart_), early ? Role::Act : Role::FaintInk);
}

// What finds no room is left out from the end: the lines that say most come first.
void ShelfChart::drawLegend(QPainter &painter, const ChartScale &s) const {
    ChartLegend legend(painter, s, width());
    legend.line(tr("expected on the shelf"), QPen(Look::colour(Role::Accent), 2.2));
    legend.box(tr("8 in 10"), kBandAlpha);
    if (const QString dry = tr("falls short"); chart_.shortEarly && legend.hasRoom(dry))
        legend.line(dry, QPen(Look::colour(Role::Act), 4));
    if (const QString level = tr("order up to"); chart_.orderUpTo && legend.hasRoom(level))
        legend.line(level, levelPen());
    if (const QString coming = tr("on its way"); !chart_.arrivals.empty() && legend.hasRoom(coming))
        legend.coming(coming);
    if (const QString expires = tr("expires"); !chart_.expiries.empty() && legend.hasRoom(expires))
        legend.entry(expires, [&](const QRectF &box) {
            painter.setPen(QPen(Look::colour(Role::Watch), 1.5));
            painter.setBrush(Qt::NoBrush);
            painter.drawPolygon(hangingFrom({box.center().x(), box.top()}));
        });
}

} // namespace kitround::ui
