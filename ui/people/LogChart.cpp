#include "ui/people/LogChart.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"

#include <QHelpEvent>
#include <QPainter>
#include <QPainterPath>
#include <QToolTip>

#include <algorithm>
#include <cmath>

namespace kitround::ui {
namespace {

constexpr std::int64_t kDaysShown = 56; // what fits readably in a panel
constexpr int kMinutesADay = 1440;

} // namespace

LogChart::LogChart(QWidget *parent) : QWidget(parent) {
    setObjectName(QStringLiteral("logChart"));
    setAccessibleName(tr("Volume of each drain by date"));
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void LogChart::show(std::vector<desk::LogPoint> points, std::optional<Millilitres> most, Date today) {
    to_ = today.plusDays(1);
    from_ = to_.plusDays(-kDaysShown);
    std::erase_if(points, [this](const desk::LogPoint &p) { return p.at.date < from_ || p.at.date >= to_; });
    points_ = std::move(points);
    most_ = most;
    double largest = most_ ? static_cast<double>(most_->count()) : 0;
    int unknown = 0, dry = 0;
    for (const desk::LogPoint &p : points_) {
        largest = std::max(largest, p.volume ? static_cast<double>(p.volume->count()) : 0.0);
        dry += p.outcome == DrainOutcome::Dry ? 1 : 0;
        unknown += p.outcome == DrainOutcome::Drained && !p.volume ? 1 : 0;
    }
    top_ = std::max(500.0, std::ceil(largest * 1.1 / 250) * 250);
    setAccessibleDescription(tr("%1 in %2 days, %3 dry, %4 of unknown volume; the table below lists them.")
                                 .arg(desk::counted(std::ssize(points_), tr("1 entry"), tr("%1 entries")))
                                 .arg(kDaysShown)
                                 .arg(dry)
                                 .arg(unknown));
    update();
}

QRectF LogChart::plot() const {
    return QRectF(rect()).adjusted(56, 18, -12, -24);
}

double LogChart::x(LocalTime at) const {
    const double day = static_cast<double>((at.date - from_).count()) +
                       static_cast<double>(at.minute.count()) / kMinutesADay;
    return plot().left() + plot().width() * day / static_cast<double>((to_ - from_).count());
}

double LogChart::y(double volume) const {
    return plot().bottom() - plot().height() * volume / top_;
}

void LogChart::paintAxes(QPainter &painter) const {
    const QRectF area = plot();
    painter.setFont(Look::smallFont());
    for (const double share : {0.0, 0.5, 1.0}) {
        painter.setPen(Look::colour(Role::Line));
        const double at = y(top_ * share);
        painter.drawLine(QPointF(area.left(), at), QPointF(area.right(), at));
        painter.setPen(Look::colour(Role::FaintInk));
        painter.drawText(QRectF(0, at - 8, area.left() - 6, 16), Qt::AlignRight | Qt::AlignVCenter,
                         tr("%1 mL").arg(static_cast<int>(top_ * share)));
    }
    for (Date day = from_; day < to_; ++day) {
        if ((day - from_).count() % 14 != 0)
            continue;
        const double at = x({day, Minutes()});
        painter.drawText(QRectF(at, area.bottom() + 4, 110, 16), Qt::AlignLeft, desk::dayText(day));
    }
}

void LogChart::paintMost(QPainter &painter) const {
    if (!most_)
        return;
    const double at = y(static_cast<double>(most_->count()));
    painter.setPen(QPen(Look::colour(Role::Act), 1.5, Qt::DashLine));
    painter.drawLine(QPointF(plot().left(), at), QPointF(plot().right(), at));
    painter.drawText(QRectF(plot().right() - 260, at - 18, 256, 16), Qt::AlignRight,
                     tr("most in one session: %1 mL").arg(most_->count()));
}

void LogChart::paintPoint(QPainter &painter, const desk::LogPoint &point) const {
    const double at = x(point.at);
    const double base = plot().bottom();
    if (point.outcome == DrainOutcome::NotDone) {
        painter.setPen(QPen(Look::colour(Role::FaintInk), 1.5));
        painter.drawLine(QPointF(at - 3, base - 7), QPointF(at + 3, base - 1));
        painter.drawLine(QPointF(at - 3, base - 1), QPointF(at + 3, base - 7));
    } else if (point.outcome == DrainOutcome::Dry) {
        QPainterPath triangle;
        triangle.moveTo(at, base - 9);
        triangle.lineTo(at + 4.5, base - 1);
        triangle.lineTo(at - 4.5, base - 1);
        triangle.closeSubpath();
        painter.setPen(QPen(Look::colour(Role::Watch), 1.5));
        painter.setBrush(Qt::NoBrush);
        painter.drawPath(triangle);
    } else if (!point.volume) {
        painter.setPen(Look::colour(Role::Ink));
        painter.setFont(Look::strongFont());
        painter.drawText(QRectF(at - 8, base - 18, 16, 16), Qt::AlignCenter, QStringLiteral("?"));
    } else {
        const double up = y(static_cast<double>(point.volume->count()));
        const bool isOver = most_ && *point.volume > *most_;
        const QRectF bar(at - 3, up, 6, std::max(1.0, base - up));
        painter.fillRect(bar, Look::colour(isOver ? Role::Act : Role::Accent));
        if (isOver) { // a cap over the line says it without colour
            painter.setPen(QPen(Look::colour(Role::Act), 2));
            painter.drawLine(QPointF(at - 6, up), QPointF(at + 6, up));
        }
    }
}

void LogChart::paintEvent(QPaintEvent *) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    paintAxes(painter);
    for (const desk::LogPoint &point : points_)
        paintPoint(painter, point);
    paintMost(painter);
    painter.setFont(Look::smallFont());
    painter.setPen(Look::colour(Role::FaintInk));
    painter.drawText(QRectF(plot().left(), 0, plot().width(), 16), Qt::AlignLeft,
                     points_.empty()
                         ? tr("Nothing logged in these weeks.")
                         : tr("bar: drained   triangle: dry   ?: volume not known   x: not done"));
}

QString LogChart::textOf(const desk::LogPoint &point) const {
    const QString volume = point.volume ? tr("%1 mL").arg(point.volume->count()) : tr("volume not known");
    return tr("%1: %2, %3").arg(desk::dayText(point.at.date), desk::words(point.outcome), volume);
}

bool LogChart::event(QEvent *event) {
    if (event->type() != QEvent::ToolTip)
        return QWidget::event(event);
    const auto *help = static_cast<QHelpEvent *>(event);
    const desk::LogPoint *nearest = nullptr;
    for (const desk::LogPoint &point : points_)
        if (std::abs(x(point.at) - help->pos().x()) < 8 &&
            (!nearest ||
             std::abs(x(point.at) - help->pos().x()) < std::abs(x(nearest->at) - help->pos().x())))
            nearest = &point;
    if (nearest)
        QToolTip::showText(help->globalPos(), textOf(*nearest), this);
    else
        QToolTip::hideText();
    return true;
}

} // namespace kitround::ui
