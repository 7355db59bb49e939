#include "ui/stock/FanChart.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"
#include "ui/stock/ChartParts.h"
#include "ui/stock/RefillHandle.h"

#include <QFontMetricsF>
#include <QHelpEvent>
#include <QKeyEvent>
#include <QPainter>
#include <QPainterPath>
#include <QToolTip>

#include <algorithm>
#include <cmath>

namespace kitround::ui {
namespace {

constexpr int kLeft = 44, kRight = 14, kTop = 30, kBottom = 46;
constexpr Days kBeyondRunOut = Days::of(14); // shown after the late end of the run-out range
constexpr Days kLeastAhead = Days::of(35);

QString parcelText(const desk::HomeChart::Arrival &parcel) {
    return QStringLiteral("+%1").arg(parcel.units.count());
}

} // namespace

struct FanChart::Scale : ChartScale {
    using ChartScale::ChartScale;
    Eaches units(double atY) const {
        return Eaches::of(std::llround((plot.bottom() - std::max(atY, plot.top())) / perUnit));
    }
    // The corner of a refill's step; of one higher than the picture, where it leaves it.
    QPointF corner(const desk::HomeChart::Arrival &refill) const {
        return {x(refill.on), std::max(y(refill.units), plot.top())};
    }
};

FanChart::FanChart(QWidget *parent) : QWidget(parent) {
    setObjectName(QStringLiteral("homeChart"));
    setAccessibleName(tr("Stock at home over time"));
    setFocusPolicy(Qt::StrongFocus);
    setProperty(Look::kIsPart, true);
    setMouseTracking(true);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
    handle_ = new RefillHandle(this);
    handle_->hide();
    connectHandle();
}

void FanChart::connectHandle() {
    connect(handle_, &RefillHandle::taken, this, [this] {
        if (chart_.refill)
            taken_ = supply::Shipment{chart_.refill->on, chart_.refill->units};
    });
    connect(handle_, &RefillHandle::dragged, this, &FanChart::dragRefill);
    connect(handle_, &RefillHandle::letGo, this, [this] {
        taken_.reset();
        findRange();
        placeHandle();
    });
    connect(handle_, &RefillHandle::stepped, this, &FanChart::stepRefill);
    connect(handle_, &RefillHandle::givenBack, this, &FanChart::backToProposal);
}

QSize FanChart::sizeHint() const {
    return {640, 300};
}
QSize FanChart::minimumSizeHint() const {
    return {360, 180};
}

void FanChart::setChart(desk::HomeChart chart, desk::RefillWhatIfPtr refill) {
    base_ = std::move(chart);
    refill_ = std::move(refill);
    message_.clear();
    mark_ = base_.today;
    backToProposal();
}

std::optional<desk::TriedRefill> FanChart::toOffer() const {
    return tried_ ? refill_->toOffer(tried_->shipment) : std::nullopt;
}

void FanChart::backToProposal() {
    chart_ = base_;
    tried_.reset();
    taken_.reset();
    if (chart_.fan.empty())
        message_ = tr("What is in this home is not known, so nothing can be drawn ahead. Record a count.");
    findRange();
    placeHandle();
    Q_EMIT refillTried();
}

void FanChart::clear(const QString &message) {
    setChart({});
    message_ = message;
    setAccessibleDescription(message);
}

void FanChart::dragRefill(QPointF by) {
    if (!taken_ || !refill_)
        return;
    const Scale s = scale();
    supply::Shipment wanted = *taken_;
    if (by.x() != 0)
        wanted.on = std::clamp(s.day(s.x(taken_->on) + by.x()), chart_.today, last_);
    if (by.y() != 0)
        wanted.quantity = s.units(s.y(taken_->quantity) + by.y());
    tryRefill(refill_->nearest(wanted));
}

void FanChart::stepRefill(int days, int quantities) {
    if (!refill_ || !chart_.refill || taken_)
        return;
    tryRefill(refill_->stepped({chart_.refill->on, chart_.refill->units}, days, quantities));
}

void FanChart::tryRefill(const supply::Shipment &shipment) {
    if (tried_ && tried_->shipment == shipment)
        return;
    tried_ = refill_->at(shipment);
    chart_ = tried_->chart;
    if (!taken_)
        findRange(); // not while it is dragged: it would run away from the mouse
    placeHandle();
    Q_EMIT refillTried();
}

void FanChart::placeHandle() {
    setMark(mark_);
    handle_->setVisible(refill_ && chart_.refill && chart_.refill->on <= last_);
    if (!chart_.refill)
        return;
    handle_->moveTo(scale().corner(*chart_.refill));
    handle_->setAccessibleDescription(
        tried_
            ? QStringLiteral("%1 %2").arg(tried_->sentence, tried_->rulesText()).trimmed()
            : tr("%1: %2 proposed").arg(desk::dayText(chart_.refill->on)).arg(chart_.refill->units.count()));
}

void FanChart::resizeEvent(QResizeEvent *event) {
    QWidget::resizeEvent(event);
    if (!chart_.itemName.isEmpty())
        placeHandle();
}

void FanChart::findRange() {
    first_ = chart_.past.empty() ? chart_.today - Days::of(7) : chart_.past.front().on;
    for (const auto &p : chart_.counted)
        first_ = std::min(first_, p.on);
    last_ = chart_.today + kLeastAhead;
    most_ = 1;
    makeRoomFor(chart_);
    if (refill_)
        makeRoomFor(refill_->proposed().chart); // before it is moved: there is somewhere to move it to
    if (!chart_.fan.empty())
        last_ = std::min(last_, chart_.fan.back().on);
}

void FanChart::makeRoomFor(const desk::HomeChart &chart) {
    if (const auto end = chart.runOutP90 ? chart.runOutP90 : chart.runOutP50)
        last_ = std::max(last_, *end + kBeyondRunOut);
    const auto see = [&](Eaches units) { most_ = std::max(most_, units.count()); };
    for (const auto &p : chart.past)
        see(p.units);
    for (const auto &p : chart.counted)
        see(p.units);
    for (const auto &f : chart.fan) {
        see(f.p95);
        see(f.plain);
    }
    if (!chart.refill)
        return;
    last_ = std::max(last_, chart.refill->on + Days::of(7));
    const std::int64_t sent = chart.refill->units.count();
    see(Eaches::of(chart.isTried ? sent + sent / 2 : sent));
}

FanChart::Scale FanChart::scale() const {
    return {QRectF(kLeft, kTop, width() - kLeft - kRight, height() - kTop - kBottom), first_, last_, most_};
}

void FanChart::setMark(Date on) {
    mark_ = std::clamp(on, first_, last_);
    setAccessibleDescription(markedFigures());
    update();
}

QString FanChart::markedFigures() const {
    return desk::dayFigures(chart_, mark_);
}

void FanChart::keyPressEvent(QKeyEvent *event) {
    const int step = markStep(event->key());
    if (step == 0 || chart_.itemName.isEmpty()) {
        QWidget::keyPressEvent(event);
        return;
    }
    setMark(mark_.plusDays(step));
    const Scale s = scale();
    QToolTip::showText(mapToGlobal(QPoint(static_cast<int>(s.x(mark_)) + 8, kTop)), markedFigures(), this);
}

void FanChart::mouseMoveEvent(QMouseEvent *event) {
    const Scale s = scale();
    if (chart_.itemName.isEmpty() || !s.plot.contains(event->position()))
        return;
    const auto days = static_cast<std::int64_t>((event->position().x() - s.plot.left()) / s.perDay + 0.5);
    if (const Date on = first_.plusDays(days); on != mark_)
        setMark(on);
}

bool FanChart::event(QEvent *event) {
    if (event->type() == QEvent::ToolTip && !chart_.itemName.isEmpty()) {
        const auto *help = static_cast<QHelpEvent *>(event);
        QToolTip::showText(help->globalPos(), markedFigures(), this);
        return true;
    }
    return QWidget::event(event);
}

void FanChart::paintEvent(QPaintEvent *) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(rect(), Look::colour(Role::Raised));
    if (chart_.itemName.isEmpty()) {
        drawWords(painter, rect(), message_, Role::FaintInk);
        return;
    }
    const Scale s = scale();
    drawUnitAxis(painter, s);
    drawDayAxis(painter, s, width());
    drawToday(painter, s, chart_.today, mark_, todayLabel(s, chart_.today));
    painter.save();
    painter.setClipRect(s.plot.adjusted(-6, -6, 6, 1));
    drawFan(painter, s);
    drawPast(painter, s);
    painter.restore();
    drawRecalled(painter, s);
    drawMarks(painter, s);
    drawLegend(painter, s);
    if (!message_.isEmpty())
        drawWords(painter, s.plot.toRect(), message_, Role::Ink);
    drawFocusFrame(painter, *this);
}

void FanChart::drawFan(QPainter &painter, const Scale &s) const {
    using Fan = desk::HomeChart::Fan;
    const auto path = [&](Eaches Fan::*value) {
        QPolygonF points;
        for (const auto &f : chart_.fan)
            points << QPointF(s.x(f.on), s.y(f.*value));
        return points;
    };
    drawBand(painter, path(&Fan::p95), path(&Fan::p05), 45);
    drawBand(painter, path(&Fan::p75), path(&Fan::p25), 80);
    drawPath(painter, path(&Fan::p50), QPen(Look::colour(Role::Accent), 2.2));
    if (chart_.hasPlainRule) // last: thin and dashed, it is seen where both lines run together
        drawPath(painter, path(&Fan::plain), QPen(Look::colour(Role::Ink), 1.4, Qt::DashLine));
}

void FanChart::drawPast(QPainter &painter, const Scale &s) const {
    QPainterPath steps;
    for (std::size_t i = 0; i < chart_.past.size(); ++i) {
        const QPointF at(s.x(chart_.past[i].on), s.y(chart_.past[i].units));
        if (i == 0)
            steps.moveTo(at);
        else {
            steps.lineTo(QPointF(at.x(), s.y(chart_.past[i - 1].units)));
            steps.lineTo(at);
        }
    }
    painter.setPen(QPen(Look::colour(Role::Ink), 1.6));
    painter.setBrush(Qt::NoBrush);
    painter.drawPath(steps);
    painter.setBrush(Look::colour(Role::Ink));
    for (const auto &p : chart_.counted)
        painter.drawEllipse(QPointF(s.x(p.on), s.y(p.units)), 4, 4);
}

// Why the picture falls today: the ledger still has what may be of a recalled lot or is past its last day.
void FanChart::drawRecalled(QPainter &painter, const Scale &s) const {
    QStringList off;
    if (chart_.recalled.count() > 0)
        off << tr("up to %1 recalled").arg(chart_.recalled.count());
    if (chart_.expired.count() > 0)
        off << tr("%1 past the last day").arg(chart_.expired.count());
    if (off.isEmpty() || chart_.past.empty())
        return;
    painter.setFont(Look::smallFont());
    painter.setPen(Look::colour(Role::Act));
    // Half way down and before today: beyond it stand the fan and the refill that may be moved. Clear of what
    // was counted and of the line of the ledger.
    const Eaches ahead = chart_.fan.empty() ? Eaches{} : chart_.fan.front().p50;
    const QPointF place(s.x(chart_.today), (s.y(chart_.past.back().units) + s.y(ahead)) / 2);
    const QString text = tr("%1, not counted").arg(off.join(QStringLiteral(", ")));
    const QFontMetricsF metrics(painter.font());
    const QSizeF size(metrics.horizontalAdvance(text) + 1, metrics.height());
    painter.drawText(labelLeftOf(place, size, drawnBeforeToday(s), s.plot), Qt::AlignLeft | Qt::AlignVCenter,
                     text);
}

std::vector<QRectF> FanChart::drawnBeforeToday(const Scale &s) const {
    std::vector<QRectF> drawn{todayLabel(s, chart_.today)};
    for (const auto &p : chart_.counted)
        drawn.emplace_back(s.x(p.on) - 5, s.y(p.units) - 5, 10, 10);
    for (std::size_t i = 1; i < chart_.past.size(); ++i) { // the ledger's steps
        const QPointF from(s.x(chart_.past[i - 1].on), s.y(chart_.past[i - 1].units));
        const QPointF to(s.x(chart_.past[i].on), s.y(chart_.past[i].units));
        drawn.emplace_back(from.x(), from.y() - 1, to.x() - from.x(), 2);
        drawn.emplace_back(to.x() - 1, std::min(from.y(), to.y()), 2, std::abs(to.y() - from.y()));
    }
    const auto numbers = parcelLabels(s);
    for (std::size_t i = 0; i < chart_.arrivals.size(); ++i) { // each triangle with its number
        drawn.emplace_back(s.x(chart_.arrivals[i].on) - 5, s.plot.bottom() - 9, 10, 9);
        if (numbers[i])
            drawn.push_back(*numbers[i]);
    }
    return drawn;
}

// One an arrival; those of neighbouring days do not cover one another.
std::vector<std::optional<QRectF>> FanChart::parcelLabels(const Scale &s) const {
    const QFontMetricsF metrics(Look::smallFont());
    std::vector<QPointF> feet;
    std::vector<QSizeF> sizes;
    for (const auto &a : chart_.arrivals) {
        feet.emplace_back(s.x(a.on), s.plot.bottom());
        sizes.emplace_back(metrics.horizontalAdvance(parcelText(a)) + 1, metrics.height());
    }
    return placesBeside(feet, sizes, s.plot);
}

void FanChart::drawMarks(QPainter &painter, const Scale &s) const {
    drawRunOut(painter, s); // below the parcels: its knob would hide one of that day
    painter.setFont(Look::smallFont());
    // Parcels: a filled triangle where it counts as stock, an open one where it is only promised.
    const auto numbers = parcelLabels(s);
    for (std::size_t i = 0; i < chart_.arrivals.size(); ++i) {
        const desk::HomeChart::Arrival &a = chart_.arrivals[i];
        if (a.on < first_ || a.on > last_)
            continue;
        drawComing(painter, {s.x(a.on), s.plot.bottom()}, a.status != DeliveryStatus::Promised);
        if (numbers[i])
            painter.drawText(*numbers[i], Qt::AlignLeft | Qt::AlignVCenter, parcelText(a));
    }
    if (chart_.refill && chart_.refill->on <= last_)
        drawRefill(painter, s);
}

// Dashed as proposed; moved, it stands firm and its first place stays behind as a thin line.
void FanChart::drawRefill(QPainter &painter, const Scale &s) const {
    const auto draw = [&](const desk::HomeChart::Arrival &refill, const QPen &pen) {
        const QPointF top = s.corner(refill);
        painter.setPen(pen);
        painter.drawLine(QPointF(top.x(), s.plot.bottom()), top);
        painter.drawLine(top, top + QPointF(18, 0));
    };
    painter.setBrush(Qt::NoBrush);
    if (tried_ && base_.refill && base_.refill->on <= last_)
        draw(*base_.refill, QPen(Look::colour(Role::FaintInk), 1, Qt::DotLine));
    draw(*chart_.refill, QPen(Look::colour(Role::Good), 2, tried_ ? Qt::SolidLine : Qt::DashLine));
    const QString text = tr("send %1").arg(chart_.refill->units.count());
    const QPointF top = s.corner(*chart_.refill);
    const double width = painter.fontMetrics().horizontalAdvance(text);
    const double beside = refill_ ? 16 : 4; // the handle
    const bool isRight = top.x() + beside + width <= s.plot.right();
    painter.drawText(
        QPointF(top.x() + (isRight ? beside : -beside - width), std::max(top.y() - 6, s.plot.top() + 12)),
        text);
}

void FanChart::drawRunOut(QPainter &painter, const Scale &s) const {
    if (chart_.runOutP10 && *chart_.runOutP10 <= last_)
        drawDryRange(painter, s, *chart_.runOutP10, std::min(chart_.runOutP90.value_or(last_), last_),
                     chart_.runOutP50);
    // Dates that fall on one day are said once.
    QStringList run;
    if (chart_.runOutP10)
        run << tr("dry by %1 (1 in 10)").arg(desk::dayText(*chart_.runOutP10));
    if (chart_.runOutP50 && chart_.runOutP50 != chart_.runOutP10)
        run << tr("%1 (middle)").arg(desk::dayText(*chart_.runOutP50));
    if (chart_.runOutP90 && chart_.runOutP90 != chart_.runOutP50)
        run << tr("%1 (1 in 10 lasts longer)").arg(desk::dayText(*chart_.runOutP90));
    if (chart_.runOutP10 && chart_.runOutP90 == chart_.runOutP10)
        run = {tr("dry on %1").arg(desk::dayText(*chart_.runOutP10))};
    if (!run.isEmpty())
        drawFoot(painter, s, rect(), run.join(QStringLiteral(", ")), Role::Act);
}

void FanChart::drawLegend(QPainter &painter, const Scale &s) const {
    ChartLegend legend(painter, s, width());
    legend.entry(tr("counted, by the ledger"), [&](const QRectF &box) {
        painter.setPen(QPen(Look::colour(Role::Ink), 1.6));
        painter.drawLine(QPointF(box.left(), box.center().y()), QPointF(box.right(), box.center().y()));
        painter.setBrush(Look::colour(Role::Ink));
        painter.drawEllipse(box.center(), 3, 3);
    });
    if (!chart_.fan.empty()) {
        legend.line(tr("middle"), QPen(Look::colour(Role::Accent), 2.2));
        legend.box(tr("1 in 2"), 125);
        legend.box(tr("9 in 10"), 45);
        if (chart_.hasPlainRule)
            legend.line(tr("plain rule"), QPen(Look::colour(Role::Ink), 1.4, Qt::DashLine));
    }
    if (const QString dry = tr("runs dry"); chart_.runOutP10 && legend.hasRoom(dry))
        legend.line(dry, QPen(Look::colour(Role::Act), 4));
    if (const QString parcel = tr("parcel"); !chart_.arrivals.empty() && legend.hasRoom(parcel))
        legend.coming(parcel);
}

} // namespace kitround::ui
