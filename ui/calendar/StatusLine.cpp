#include "ui/calendar/StatusLine.h"

#include "ui/shared/Look.h"

#include <QPainter>

namespace kitround::ui {

void StatusLine::setParts(const std::vector<Part> &parts, const QString &between) {
    parts_.clear();
    whole_.clear();
    for (const Part &part : parts) {
        if (!parts_.empty())
            parts_.push_back({between, false});
        parts_.push_back(part);
    }
    for (const Part &part : parts_)
        whole_ += part.text;
    setText(whole_);
    update(); // the same words may be an alarm now
}

void StatusLine::paintEvent(QPaintEvent *event) {
    if (parts_.empty() || text() != whole_) {
        ElidedLabel::paintEvent(event);
        return;
    }
    QPainter painter(this);
    // Cut at the end only: up to there it reads as the parts do.
    const QString shown = fontMetrics().elidedText(whole_, Qt::ElideRight, contentsRect().width());
    QRect room = contentsRect();
    qsizetype from = 0;
    for (const Part &part : parts_) {
        const QString piece = shown.mid(from, part.text.size());
        painter.setPen(part.isAlarm ? Look::colour(Role::Act) : palette().color(QPalette::WindowText));
        painter.drawText(room, Qt::AlignLeft | Qt::AlignVCenter, piece);
        room.setLeft(room.left() + fontMetrics().horizontalAdvance(piece));
        from += part.text.size();
        if (from >= shown.size())
            return;
    }
}

} // namespace kitround::ui
