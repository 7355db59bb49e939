#include "ui/stock/RefillHandle.h"

#include "ui/shared/Look.h"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>

#include <cmath>

namespace kitround::ui {
namespace {

constexpr double kGripRadius = 9;
constexpr double kTremor = 6; // pixels

double steadied(double way) {
    return std::abs(way) < kTremor ? 0 : way;
}

} // namespace

RefillHandle::RefillHandle(QWidget *chart) : QWidget(chart) {
    setObjectName(QStringLiteral("refillHandle"));
    setAccessibleName(tr("Refill proposed: day and quantity"));
    setToolTip(
        tr("Drag sideways for another day, up or down for another quantity, and see what it would mean. "
           "The arrow keys do the same; Esc goes back to the proposal. Nothing is stored."));
    setCursor(Qt::SizeAllCursor);
    setFocusPolicy(Qt::StrongFocus);
    resize(Look::kHit, Look::kHit);
}

void RefillHandle::moveTo(QPointF middle) {
    move((middle - QPointF(width(), height()) / 2).toPoint());
}

void RefillHandle::paintEvent(QPaintEvent *) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.translate(QRectF(rect()).center());
    if (hasFocus()) {
        painter.setPen(QPen(Look::colour(Role::Accent), 2));
        painter.drawEllipse(QPointF(), kGripRadius + 3, kGripRadius + 3);
    }
    painter.setPen(QPen(Look::colour(Role::Good), 2));
    painter.setBrush(Look::colour(Role::Raised));
    painter.drawEllipse(QPointF(), kGripRadius, kGripRadius);
    // Four small arrow heads: it moves both ways.
    painter.setPen(Qt::NoPen);
    painter.setBrush(Look::colour(Role::Good));
    for (int quarter = 0; quarter < 4; ++quarter) {
        painter.drawPolygon(QPolygonF{{6.5, 0}, {3, -3}, {3, 3}});
        painter.rotate(90);
    }
}

void RefillHandle::mousePressEvent(QMouseEvent *event) {
    if (event->button() != Qt::LeftButton)
        return;
    takenAt_ = event->globalPosition();
    Q_EMIT taken();
}

void RefillHandle::mouseMoveEvent(QMouseEvent *event) {
    if (!takenAt_)
        return;
    const QPointF way = event->globalPosition() - *takenAt_;
    Q_EMIT dragged({steadied(way.x()), steadied(way.y())});
}

void RefillHandle::mouseReleaseEvent(QMouseEvent *event) {
    if (event->button() != Qt::LeftButton || !takenAt_)
        return;
    takenAt_.reset();
    Q_EMIT letGo();
}

void RefillHandle::keyPressEvent(QKeyEvent *event) {
    switch (event->key()) {
    case Qt::Key_Left:
        Q_EMIT stepped(-1, 0);
        break;
    case Qt::Key_Right:
        Q_EMIT stepped(1, 0);
        break;
    case Qt::Key_Up:
        Q_EMIT stepped(0, 1);
        break;
    case Qt::Key_Down:
        Q_EMIT stepped(0, -1);
        break;
    case Qt::Key_Escape:
        takenAt_.reset();
        Q_EMIT givenBack();
        break;
    default:
        QWidget::keyPressEvent(event);
    }
}

} // namespace kitround::ui
