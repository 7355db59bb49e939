#include "ui/calendar/CardArea.h"

#include <QAccessible>
#include <QApplication>
#include <QHelpEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QScrollBar>
#include <QToolTip>

#include <utility>

namespace kitround::ui {

CardArea::CardArea(QWidget *parent) : QAbstractScrollArea(parent) {
    setFocusPolicy(Qt::StrongFocus);
    setFrameShape(QFrame::NoFrame);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
}

QPoint CardArea::toContent(QPoint p) const {
    return p + QPoint(0, verticalScrollBar()->value());
}

bool CardArea::isDragged(QPoint mouse) {
    if (!pressedAt_ || current_ < 0)
        return false;
    if (!isDragging_ && (mouse - *pressedAt_).manhattanLength() < QApplication::startDragDistance())
        return false;
    isDragging_ = true;
    dragPoint_ = mouse;
    return true;
}

void CardArea::letGo() {
    isDragging_ = false;
    pressedAt_.reset();
    drop_.reset();
    viewport()->update();
}

void CardArea::mouseMoveEvent(QMouseEvent *event) {
    if (!isDragged(event->pos()))
        return;
    const auto drop = dropAt(toContent(event->pos()));
    if (drop != drop_) {
        drop_ = drop;
        hint_ = {};
        if (drop && !drop->nurse)
            hint_.text = tr("Take it out of the plan");
        else if (drop && hinter_)
            hint_ = hinter_(current_, *drop);
    }
    viewport()->update();
}

void CardArea::mouseReleaseEvent(QMouseEvent *) {
    const auto drop = isDragging_ && current_ >= 0 ? drop_ : std::nullopt;
    letGo();
    if (std::exchange(isMouseDown_, false))
        Q_EMIT mouseLeft();
    if (drop)
        askMove(*drop);
}

void CardArea::setPlanning(bool on) {
    isPlanning_ = on;
    viewport()->update();
}

void CardArea::askFirstMove(const std::vector<CardDrop> &drops) {
    if (drops.empty())
        return;
    for (const CardDrop &drop : drops)
        if (!hinter_ || hinter_(current_, drop).isAllowed)
            return askMove(drop);
    askMove(drops.front());
}

void CardArea::askMove(const CardDrop &drop) {
    if (drop.nurse)
        Q_EMIT moveAsked(current_, drop.nurse->value(), drop.on.dayNumber(),
                         drop.start ? static_cast<int>(drop.start->count()) : -1);
    else
        Q_EMIT removalAsked(current_);
}

void CardArea::keyPressEvent(QKeyEvent *event) {
    const auto go = [&](int right, int down) {
        if (event->modifiers() & Qt::AltModifier)
            askMoveBeside(right, down);
        else
            chooseBeside(right, down);
    };
    switch (event->key()) {
    case Qt::Key_Left:
        return go(-1, 0);
    case Qt::Key_Right:
        return go(1, 0);
    case Qt::Key_Up:
        return go(0, -1);
    case Qt::Key_Down:
        return go(0, 1);
    case Qt::Key_Return:
    case Qt::Key_Enter:
        if (current_ >= 0)
            Q_EMIT activated(current_);
        return;
    case Qt::Key_Delete:
        if (current_ >= 0)
            Q_EMIT removalAsked(current_);
        return;
    case Qt::Key_Escape:
        if (isDragging_)
            return letGo();
        Q_EMIT escaped();
        return;
    default:
        break;
    }
    QAbstractScrollArea::keyPressEvent(event);
}

bool CardArea::viewportEvent(QEvent *event) {
    if (event->type() != QEvent::ToolTip)
        return QAbstractScrollArea::viewportEvent(event);
    const auto *help = static_cast<QHelpEvent *>(event);
    const QString tip = tipAt(toContent(help->pos()));
    if (tip.isEmpty())
        QToolTip::hideText();
    else
        QToolTip::showText(help->globalPos(), tip, viewport());
    return true;
}

bool CardArea::event(QEvent *event) {
    if (event->type() == QEvent::FocusIn || event->type() == QEvent::FocusOut)
        viewport()->update();
    return QAbstractScrollArea::event(event);
}

void CardArea::tellCurrent(const QString &description) {
    setAccessibleDescription(description);
    QAccessibleEvent changed(this, QAccessible::DescriptionChanged);
    QAccessible::updateAccessibility(&changed);
}

} // namespace kitround::ui
