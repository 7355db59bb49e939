#include "ui/calendar/PlanTrace.h"

#include "core/desk/words/Reasons.h"
#include "ui/shared/Look.h"

#include <QPainter>

#include <algorithm>
#include <cmath>

namespace kitround::ui {

PlanTrace::PlanTrace(QWidget *parent) : QWidget(parent) {
    setObjectName(QStringLiteral("planTrace"));
    setAccessibleName(tr("Weighted minutes of the best plan over time"));
    setFixedSize(sizeHint());
}

void PlanTrace::start() {
    points_.clear();
    timer_.start();
    update();
}

void PlanTrace::add(double cost, int unplaced) {
    points_.push_back({static_cast<double>(timer_.elapsed()) / 1000.0, cost});
    const QString text = tr("Best so far: %1 after %2 s, %3 not placed")
                             .arg(desk::weightedMinutesText(cost))
                             .arg(points_.back().seconds, 0, 'f', 1)
                             .arg(unplaced);
    setToolTip(text);
    setAccessibleDescription(text);
    update();
}

void PlanTrace::paintEvent(QPaintEvent *) {
    QPainter painter(this);
    painter.setPen(Look::colour(Role::Line));
    painter.drawRect(rect().adjusted(0, 0, -1, -1));
    if (points_.size() < 2)
        return;
    // On a log scale of the cost above the best: late, small gains still show.
    const double best = points_.back().cost;
    const auto height = [&](double cost) { return std::log1p(std::max(0.0, cost - best)); };
    const double top = std::max(1e-9, height(points_.front().cost)),
                 last = std::max(0.1, points_.back().seconds);
    QPolygonF line;
    for (const Point &p : points_)
        line << QPointF(3 + (width() - 6) * p.seconds / last,
                        3 + (this->height() - 6) * (1 - height(p.cost) / top));
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(Look::colour(Role::Accent), 1.5));
    painter.drawPolyline(line);
}

} // namespace kitround::ui
