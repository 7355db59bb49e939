#include "ui/load/AheadChart.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"

#include <QPainter>

#include <algorithm>
#include <cmath>

namespace kitround::ui {
namespace {

constexpr int kLeft = 52, kTop = 26, kBottom = 24;

double hours(double minutes) {
    return minutes / 60;
}
double hours(Minutes minutes) {
    return static_cast<double>(minutes.count()) / 60;
}

double niceStep(double most) {
    for (double step = 1;; step *= 10)
        for (const double times : {1.0, 2.0, 5.0})
            if (most <= step * times * 4)
                return step * times;
}

} // namespace

AheadChart::AheadChart(QWidget *parent) : QWidget(parent) {
    setObjectName(QStringLiteral("aheadChart"));
    setAccessibleName(tr("Hours asked for in the weeks ahead against the hours of the shifts"));
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void AheadChart::setWeeks(const desk::WeeksAhead &ahead) {
    ahead_ = ahead;
    update();
}

void AheadChart::paintEvent(QPaintEvent *) {
    if (ahead_.weeks.empty())
        return;
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setFont(Look::smallFont());
    double most = 1;
    for (const desk::WeekAhead &w : ahead_.weeks)
        most = std::max({most, hours(w.minutes.high), hours(w.capacity)});
    const double step = niceStep(most);
    most = step * std::ceil(most / step);
    const double bottom = height() - kBottom;
    const auto y = [&](double h) { return bottom - (bottom - kTop) * h / most; };
    const double slot = static_cast<double>(width() - kLeft) / static_cast<double>(ahead_.weeks.size());
    const QColor line = Look::colour(Role::Line), faint = Look::colour(Role::FaintInk);
    for (double h = 0; h <= most + step / 2; h += step) {
        painter.setPen(line);
        painter.drawLine(QPointF(kLeft, y(h)), QPointF(width(), y(h)));
        painter.setPen(faint);
        painter.drawText(QRectF(0, y(h) - 8, kLeft - 8, 16), Qt::AlignRight | Qt::AlignVCenter,
                         tr("%1 h").arg(h, 0, 'f', 0));
    }
    const QColor ink = Look::colour(Role::Ink), accent = Look::colour(Role::Accent);
    for (std::size_t k = 0; k < ahead_.weeks.size(); ++k) {
        const desk::WeekAhead &w = ahead_.weeks[k];
        const double left = kLeft + slot * static_cast<double>(k), middle = left + slot / 2;
        const double half = std::min(18.0, slot / 4);
        QColor band = Look::colour(w.room == desk::Room::Full ? Role::Act : Role::Accent);
        band.setAlpha(110);
        painter.fillRect(QRectF(QPointF(middle - half, y(hours(w.minutes.high))),
                                QPointF(middle + half, y(hours(w.minutes.low)))),
                         band);
        painter.setPen(QPen(w.room == desk::Room::Full ? Look::colour(Role::Act) : accent, 2));
        painter.drawLine(QPointF(middle - half, y(hours(w.minutes.middle))),
                         QPointF(middle + half, y(hours(w.minutes.middle))));
        painter.setPen(QPen(ink, 1.5, Qt::DashLine));
        painter.drawLine(QPointF(left, y(hours(w.capacity))), QPointF(left + slot, y(hours(w.capacity))));
        painter.setPen(faint);
        painter.drawText(QRectF(left, bottom + 4, slot, 18), Qt::AlignHCenter, desk::dayText(w.week.from));
    }
    painter.setPen(faint);
    painter.drawText(
        QRectF(kLeft, 2, width() - kLeft, 18), Qt::AlignLeft | Qt::AlignVCenter,
        tr("Bar: hours asked for, 1 in 10 to 9 in 10, with the middle. Dashed: hours of the shifts."));
}

} // namespace kitround::ui
