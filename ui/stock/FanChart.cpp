#include "ui/stock/FanChart.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"
#include "ui/stock/RefillHandle.h"

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

QColor faded(Role role, int alpha) {
    QColor colour = Look::colour(role);
    colour.setAlpha(alpha);
    return colour;
}

std::int64_t niceStep(std::int64_t most) {
    for (std::int64_t step = 1;; step *= 10)
        for (const std::int64_t times : {1, 2, 5})
            if (most <= step * times * 6)
                return step * times;
}

} // namespace

struct FanChart::Scale {
    QRectF plot;
    Date first;
    double perDay = 1, perUnit = 1;
    double x(Date on) const { return plot.left() + static_cast<double>((on - first).count()) * perDay; }
    double y(std::int64_t units) const { return plot.bottom() - static_cast<double>(units) * perUnit; }
    double y(Eaches units) const { return y(std::max<std::int64_t>(units.count(), 0)); }
    Date day(double atX) const { return first.plusDays(std::llround((atX - plot.left()) / perDay)); }
    Eaches units(double atY) const {
        return Eaches::of(std::llround((plot.bottom() - std::max(atY, plot.top())) / perUnit));
    }
    // The corner of a refill's step; of one higher than the picture, where it leaves it.
    QPointF step(const desk::HomeChart::Arrival &refill) const {
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
    handle_->moveTo(scale().step(*chart_.refill));
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
    Scale s;
    s.plot = QRectF(kLeft, kTop, width() - kLeft - kRight, height() - kTop - kBottom);
    s.first = first_;
    s.perDay = s.plot.width() / static_cast<double>(std::max<std::int64_t>((last_ - first_).count(), 1));
    const std::int64_t step = niceStep(most_);
    s.perUnit = s.plot.height() / static_cast<double>((most_ + step - 1) / step * step);
    return s;
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
    const int step = event->key() == Qt::Key_Left       ? -1
                     : event->key() == Qt::Key_Right    ? 1
                     : event->key() == Qt::Key_PageUp   ? -7
                     : event->key() == Qt::Key_PageDown ? 7
                                                        : 0;
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
        painter.setPen(Look::colour(Role::FaintInk));
        painter.drawText(rect().adjusted(16, 16, -16, -16), Qt::AlignCenter | Qt::TextWordWrap, message_);
        return;
    }
    const Scale s = scale();
    drawAxes(painter, s);
    painter.save();
    painter.setClipRect(s.plot.adjusted(-6, -6, 6, 1));
    drawFan(painter, s);
    drawPast(painter, s);
    painter.restore();
    drawRecalled(painter, s);
    drawMarks(painter, s);
    drawLegend(painter, s);
    if (!message_.isEmpty()) {
        painter.setPen(Look::colour(Role::Ink));
        painter.drawText(s.plot.adjusted(16, 16, -16, -16), Qt::AlignCenter | Qt::TextWordWrap, message_);
    }
    if (hasFocus()) {
        painter.setPen(QPen(Look::colour(Role::Accent), 2));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(rect().adjusted(1, 1, -1, -1));
    }
}

void FanChart::drawAxes(QPainter &painter, const Scale &s) const {
    painter.setFont(Look::smallFont());
    const QFontMetrics metrics = painter.fontMetrics();
    const std::int64_t step = niceStep(most_);
    for (std::int64_t units = 0; units <= most_ + step - 1; units += step) {
        const double y = s.y(units);
        if (y < s.plot.top() - 1)
            break;
        painter.setPen(Look::colour(Role::Line));
        painter.drawLine(QPointF(s.plot.left(), y), QPointF(s.plot.right(), y));
        painter.setPen(Look::colour(Role::FaintInk));
        painter.drawText(QRectF(0, y - 9, kLeft - 6, 18), Qt::AlignRight | Qt::AlignVCenter,
                         QString::number(units));
    }
    // Mondays, thinned until their names have room.
    const int labelWidth = metrics.horizontalAdvance(QStringLiteral("Mon 30 Nov")) + 14;
    std::int64_t everyWeeks = 1;
    while (static_cast<double>(7 * everyWeeks) * s.perDay < labelWidth)
        ++everyWeeks;
    std::int64_t mondays = 0;
    for (Date on = first_; on <= last_; ++on) {
        if (on.weekday() != Weekday::Monday)
            continue;
        const double x = s.x(on);
        const bool isNamed = mondays++ % everyWeeks == 0;
        painter.setPen(Look::colour(Role::Line));
        painter.drawLine(QPointF(x, s.plot.bottom()), QPointF(x, s.plot.bottom() + (isNamed ? 6 : 3)));
        if (!isNamed || x + labelWidth / 2.0 > width())
            continue;
        painter.setPen(Look::colour(Role::FaintInk));
        painter.drawText(QRectF(x - labelWidth / 2.0, s.plot.bottom() + 7, labelWidth, 16), Qt::AlignCenter,
                         desk::dayText(on));
    }
    painter.setPen(QPen(Look::colour(Role::FaintInk), 1));
    const double today = s.x(chart_.today);
    painter.drawLine(QPointF(today, s.plot.top()), QPointF(today, s.plot.bottom()));
    painter.drawText(QRectF(today - 64, s.plot.top(), 60, 16), Qt::AlignRight | Qt::AlignTop, tr("today"));
    painter.setPen(QPen(Look::colour(Role::Accent), 1, Qt::DotLine));
    painter.drawLine(QPointF(s.x(mark_), s.plot.top()), QPointF(s.x(mark_), s.plot.bottom()));
}

void FanChart::drawFan(QPainter &painter, const Scale &s) const {
    const auto band = [&](Eaches desk::HomeChart::Fan::*low, Eaches desk::HomeChart::Fan::*high, int alpha) {
        QPolygonF shape;
        for (const auto &f : chart_.fan)
            shape << QPointF(s.x(f.on), s.y(f.*high));
        for (auto f = chart_.fan.rbegin(); f != chart_.fan.rend(); ++f)
            shape << QPointF(s.x(f->on), s.y((*f).*low));
        painter.setPen(Qt::NoPen);
        painter.setBrush(faded(Role::Accent, alpha));
        painter.drawPolygon(shape);
    };
    using Fan = desk::HomeChart::Fan;
    band(&Fan::p05, &Fan::p95, 45);
    band(&Fan::p25, &Fan::p75, 80);
    const auto line = [&](Eaches Fan::*value, const QPen &pen) {
        QPolygonF path;
        for (const auto &f : chart_.fan)
            path << QPointF(s.x(f.on), s.y(f.*value));
        painter.setPen(pen);
        painter.setBrush(Qt::NoBrush);
        painter.drawPolyline(path);
    };
    if (chart_.hasPlainRule)
        line(&Fan::plain, QPen(Look::colour(Role::Ink), 1.4, Qt::DashLine));
    line(&Fan::p50, QPen(Look::colour(Role::Accent), 2.2));
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

// Why the picture falls today: the ledger still has what may be of a recalled lot.
void FanChart::drawRecalled(QPainter &painter, const Scale &s) const {
    if (chart_.recalled.count() <= 0 || chart_.past.empty())
        return;
    painter.setFont(Look::smallFont());
    painter.setPen(Look::colour(Role::Act));
    // Half way down and before today: beyond it stand the fan and the refill that may be moved.
    const Eaches ahead = chart_.fan.empty() ? Eaches{} : chart_.fan.front().p50;
    const double y = (s.y(chart_.past.back().units) + s.y(ahead)) / 2;
    const QString text = tr("up to %1 recalled, not counted").arg(chart_.recalled.count());
    const double width = QFontMetricsF(painter.font()).horizontalAdvance(text);
    painter.drawText(QPointF(std::max(s.x(chart_.today) - width - 6, s.plot.left() + 4), y + 4), text);
}

void FanChart::drawMarks(QPainter &painter, const Scale &s) const {
    painter.setFont(Look::smallFont());
    // Parcels: a filled triangle where it counts as stock, an open one where it is only promised.
    for (const auto &a : chart_.arrivals) {
        if (a.on < first_ || a.on > last_)
            continue;
        const double x = s.x(a.on), y = s.plot.bottom();
        QPolygonF up;
        up << QPointF(x - 5, y) << QPointF(x + 5, y) << QPointF(x, y - 9);
        painter.setPen(QPen(Look::colour(Role::Good), 1.5));
        painter.setBrush(a.status == DeliveryStatus::Promised ? QBrush(Qt::NoBrush)
                                                              : QBrush(Look::colour(Role::Good)));
        painter.drawPolygon(up);
        painter.drawText(QPointF(x + 7, y - 3), QStringLiteral("+%1").arg(a.units.count()));
    }
    if (chart_.refill && chart_.refill->on <= last_)
        drawRefill(painter, s);
    drawRunOut(painter, s);
}

// Dashed as proposed; moved, it stands firm and its first place stays behind as a thin line.
void FanChart::drawRefill(QPainter &painter, const Scale &s) const {
    const auto draw = [&](const desk::HomeChart::Arrival &refill, const QPen &pen) {
        const QPointF top = s.step(refill);
        painter.setPen(pen);
        painter.drawLine(QPointF(top.x(), s.plot.bottom()), top);
        painter.drawLine(top, top + QPointF(18, 0));
    };
    painter.setBrush(Qt::NoBrush);
    if (tried_ && base_.refill && base_.refill->on <= last_)
        draw(*base_.refill, QPen(Look::colour(Role::FaintInk), 1, Qt::DotLine));
    draw(*chart_.refill, QPen(Look::colour(Role::Good), 2, tried_ ? Qt::SolidLine : Qt::DashLine));
    const QString text = tr("send %1").arg(chart_.refill->units.count());
    const QPointF top = s.step(*chart_.refill);
    const double width = painter.fontMetrics().horizontalAdvance(text);
    const double beside = refill_ ? 16 : 4; // the handle
    const bool isRight = top.x() + beside + width <= s.plot.right();
    painter.drawText(
        QPointF(top.x() + (isRight ? beside : -beside - width), std::max(top.y() - 6, s.plot.top() + 12)),
        text);
}

void FanChart::drawRunOut(QPainter &painter, const Scale &s) const {
    if (chart_.runOutP10 && *chart_.runOutP10 <= last_) {
        const Date late = std::min(chart_.runOutP90.value_or(last_), last_);
        const double y = s.plot.bottom() + 3;
        painter.setPen(QPen(Look::colour(Role::Act), 4, Qt::SolidLine, Qt::RoundCap));
        painter.drawLine(QPointF(s.x(*chart_.runOutP10), y), QPointF(s.x(late), y));
        if (chart_.runOutP50 && *chart_.runOutP50 <= last_) {
            painter.setBrush(Look::colour(Role::Act));
            painter.drawEllipse(QPointF(s.x(*chart_.runOutP50), y), 5, 5);
        }
    }
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
    if (!run.isEmpty()) {
        painter.setPen(Look::colour(Role::Act));
        painter.drawText(QRectF(kLeft, height() - 20, width() - kLeft - kRight, 18), Qt::AlignRight,
                         run.join(QStringLiteral(", ")));
    }
}

void FanChart::drawLegend(QPainter &painter, const Scale &s) const {
    painter.setFont(Look::smallFont());
    double x = s.plot.left();
    const auto entry = [&](const QString &text, const auto &draw) {
        draw(QRectF(x, 9, 18, 10));
        painter.setPen(Look::colour(Role::FaintInk));
        painter.drawText(QPointF(x + 22, 18), text);
        x += 36 + painter.fontMetrics().horizontalAdvance(text);
    };
    const auto lineOf = [&](const QPen &pen) {
        return [&painter, pen](const QRectF &box) {
            painter.setPen(pen);
            painter.drawLine(QPointF(box.left(), box.center().y()), QPointF(box.right(), box.center().y()));
        };
    };
    const auto boxOf = [&](int alpha) {
        return [&painter, alpha](const QRectF &box) { painter.fillRect(box, faded(Role::Accent, alpha)); };
    };
    entry(tr("counted, by the ledger"), [&](const QRectF &box) {
        painter.setPen(QPen(Look::colour(Role::Ink), 1.6));
        painter.drawLine(QPointF(box.left(), box.center().y()), QPointF(box.right(), box.center().y()));
        painter.setBrush(Look::colour(Role::Ink));
        painter.drawEllipse(box.center(), 3, 3);
    });
    if (!chart_.fan.empty()) {
        entry(tr("middle"), lineOf(QPen(Look::colour(Role::Accent), 2.2)));
        entry(tr("1 in 2"), boxOf(125));
        entry(tr("9 in 10"), boxOf(45));
        if (chart_.hasPlainRule)
            entry(tr("plain rule"), lineOf(QPen(Look::colour(Role::Ink), 1.4, Qt::DashLine)));
    }
    if (!chart_.arrivals.empty() && x < width() - 90)
        entry(tr("parcel"), [&](const QRectF &box) {
            QPolygonF up;
            up << QPointF(box.center().x() - 5, 19) << QPointF(box.center().x() + 5, 19)
               << QPointF(box.center().x(), 10);
            painter.setPen(QPen(Look::colour(Role::Good), 1.5));
            painter.setBrush(Look::colour(Role::Good));
            painter.drawPolygon(up);
        });
    if (chart_.runOutP10 && x < width() - 90)
        entry(tr("runs dry"), lineOf(QPen(Look::colour(Role::Act), 4)));
}

} // namespace kitround::ui
