#include "ui/calendar/CardArea.h"

#include "ui/calendar/CardPainting.h"
#include "ui/shared/Look.h"

#include <QAccessible>
#include <QApplication>
#include <QHelpEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QScrollBar>
#include <QToolTip>

#include <algorithm>
#include <utility>

namespace kitround::ui {
namespace {

constexpr int kTrayCard = 168, kMostTrayCard = 320;
constexpr int kTraySigns = 44; // edges, and signs on the right
constexpr int kTrayHead = 28;
constexpr int kTrayGap = 6;
constexpr int kEdge = 8;

QString trayText(const desk::VisitCard &card) {
    return QObject::tr("%1 · %2").arg(card.name, card.kind);
}

} // namespace

CardArea::CardArea(QWidget *parent) : QAbstractScrollArea(parent) {
    setFocusPolicy(Qt::StrongFocus);
    setProperty(Look::kIsPart, true);
    setFrameShape(QFrame::NoFrame);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
}

QPoint CardArea::toContent(QPoint p) const {
    return p + QPoint(0, verticalScrollBar()->value());
}

int CardArea::placeTray(const std::vector<desk::VisitCard> &tray, int top, int row) {
    trayTop_ = top;
    trayRow_ = row;
    const int h = cardHeight(), count = static_cast<int>(tray.size());
    const int room = viewport()->width() - 2 * kEdge;
    const int perLine = std::max(1, room / (kTrayCard + kTrayGap));
    const QFontMetrics metrics(Look::smallFont());
    int wanted = kTrayCard;
    for (const desk::VisitCard &card : tray)
        wanted = std::max(wanted, metrics.horizontalAdvance(trayText(card)) + kTraySigns);
    const int inLine = std::max(1, std::min(perLine, count));
    const int wide = std::clamp(room / inLine - kTrayGap, kTrayCard, std::min(wanted, kMostTrayCard));
    for (int i = 0; i < count; ++i) {
        const int column = i % perLine, line = i / perLine;
        placed_.push_back(
            {QRect(kEdge + column * (wide + kTrayGap), top + kTrayHead + line * (h + kTrayGap), wide, h), row,
             column, &tray[static_cast<std::size_t>(i)]});
    }
    return kTrayHead + std::max(1, (count + perLine - 1) / perLine) * (h + kTrayGap);
}

void CardArea::setContentHeight(int height, int step) {
    contentHeight_ = height;
    verticalScrollBar()->setPageStep(viewport()->height());
    verticalScrollBar()->setSingleStep(step);
    verticalScrollBar()->setRange(0, std::max(0, height - viewport()->height()));
}

const CardArea::PlacedCard *CardArea::cardAt(QPoint p) const {
    const auto found = std::ranges::find_if(placed_, [&](const PlacedCard &c) { return c.box.contains(p); });
    return found == placed_.end() ? nullptr : &*found;
}

QString CardArea::cardTipAt(QPoint p) const {
    if (const PlacedCard *placed = cardAt(p))
        return cardTip(*placed->card);
    const PlacedCard *over = overAt(p);
    return over ? cardTip(*over->card) : QString();
}

const CardArea::PlacedCard *CardArea::currentCard() const {
    const PlacedCard *first = nullptr;
    for (const PlacedCard &placed : placed_)
        if (placed.card->job == current_) {
            if (placed.row == currentRow_)
                return &placed;
            if (!first)
                first = &placed;
        }
    return first;
}

bool CardArea::holds(std::int32_t job) const {
    return std::ranges::any_of(placed_, [job](const PlacedCard &placed) { return placed.card->job == job; });
}

void CardArea::forget() {
    current_ = currentRow_ = -1;
    over_ = {};
}

void CardArea::renumber(std::int32_t job) {
    current_ = job;
    if (job < 0 && !over_.isSet())
        currentRow_ = -1;
}

void CardArea::showCurrent(std::int32_t job, VisitId over) {
    current_ = job;
    over_ = over;
    if (const PlacedCard *placed = chosenCard()) {
        currentRow_ = placed->row;
        bringInSight(sightOf(*placed));
        setAccessibleDescription(textOf(*placed));
        QAccessibleEvent changed(this, QAccessible::DescriptionChanged);
        QAccessible::updateAccessibility(&changed);
    }
    viewport()->update();
}

void CardArea::bringInSight(const QRect &sight) {
    QScrollBar *bar = verticalScrollBar();
    if (isMouseDown_)
        return;
    if (sight.top() - headHeight() < bar->value())
        bar->setValue(sight.top() - headHeight());
    else if (sight.bottom() > bar->value() + viewport()->height() - trayStripHeight())
        bar->setValue(sight.bottom() - viewport()->height() + trayStripHeight());
}

void CardArea::chooseEnd(bool isLast) {
    const std::vector<const PlacedCard *> cards = workedOn();
    if (!cards.empty())
        choose(isLast ? cards.back() : cards.front());
}

int CardArea::trayStripHeight() const {
    const bool hasTray = std::ranges::any_of(placed_, [this](const PlacedCard &p) { return isInTray(p); });
    const bool isBelow = trayTop_ + kTrayHead > verticalScrollBar()->value() + viewport()->height();
    return hasTray && isBelow ? kTrayHead : 0;
}

bool CardArea::isOverStrip(QPoint mouse) const {
    return mouse.y() >= viewport()->height() - trayStripHeight();
}

void CardArea::paintTrayStrip(QPainter &painter, const QString &head) const {
    const int high = trayStripHeight();
    if (high == 0)
        return;
    const QRect box(0, viewport()->height() - high, viewport()->width(), high);
    painter.fillRect(box, Look::colour(isHeldOverTray() ? Role::AccentGround : Role::Ground));
    painter.setPen(Look::colour(Role::Line));
    painter.drawLine(box.topLeft(), box.topRight());
    painter.setFont(Look::strongFont());
    painter.setPen(Look::colour(isPlanning_ ? Role::FaintInk : Role::Act));
    painter.drawText(box.adjusted(kEdge, 0, -kEdge, 0), Qt::AlignLeft | Qt::AlignVCenter,
                     tr("%1, below: click to go there").arg(head));
}

void CardArea::choose(const PlacedCard *placed) {
    currentRow_ = placed ? placed->row : -1;
    const bool isOver = placed && placed->card->job < 0;
    showCurrent(placed ? placed->card->job : -1, isOver ? placed->card->visit : VisitId());
    Q_EMIT currentChanged(current_);
}

void CardArea::paintCards(QPainter &painter, QStringList (*textsOnRow)(const desk::VisitCard &)) const {
    for (const PlacedCard &past : past_) {
        const bool isCurrent = over_.isSet() && past.card->visit == over_;
        paintCard(painter, past.box, *past.card, textsOnRow(*past.card),
                  {.isCurrent = isCurrent, .hasFocus = isCurrent && hasFocus(), .isFound = isFound(past)});
    }
    for (const PlacedCard &placed : placed_) {
        const desk::VisitCard &card = *placed.card;
        const bool isCurrent = card.job == current_, inTray = isInTray(placed);
        paintCard(painter, placed.box, card, inTray ? QStringList{trayText(card)} : textsOnRow(card),
                  {.isCurrent = isCurrent,
                   .hasFocus = isCurrent && hasFocus(),
                   .isHeld = isDragging_ && isCurrent,
                   .inTray = inTray,
                   .isFound = isFound(placed)});
    }
}

void CardArea::paintTray(QPainter &painter, bool isEmpty, const QString &head) const {
    const QRect box(0, trayTop_, viewport()->width(), contentHeight_ - trayTop_);
    if (isHeldOverTray())
        painter.fillRect(box, Look::colour(Role::AccentGround));
    painter.setFont(Look::strongFont());
    painter.setPen(Look::colour(isEmpty || isPlanning_ ? Role::FaintInk : Role::Act));
    painter.drawText(box.adjusted(kEdge, 6, -kEdge, 0), Qt::AlignLeft | Qt::AlignTop, head);
}

void CardArea::paintFocus(QPainter &painter) const {
    if (!hasFocus() || chosenCard())
        return;
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(Look::colour(Role::Accent), 2));
    painter.drawRect(viewport()->rect().adjusted(1, 1, -1, -1));
}

// When the days move, as beside the reasons, the chosen card stays as high as it was, and in sight.
void CardArea::resizeEvent(QResizeEvent *) {
    QScrollBar *bar = verticalScrollBar();
    const PlacedCard *before = chosenCard();
    const bool wasInSight = before && before->box.bottom() > bar->value() + headHeight() &&
                            before->box.top() < bar->value() + viewport()->height();
    const int high = wasInSight ? before->box.top() - bar->value() : 0;
    arrange();
    const PlacedCard *placed = chosenCard();
    if (!placed || !wasInSight || isMouseDown_)
        return;
    bar->setValue(placed->box.top() - high);
    bringInSight(sightOf(*placed));
}

void CardArea::mousePressEvent(QMouseEvent *event) {
    if (event->button() != Qt::LeftButton)
        return;
    firstClick_.reset();
    if (isOverStrip(event->pos())) {
        verticalScrollBar()->setValue(trayTop_ - headHeight());
        return;
    }
    isMouseDown_ = true;
    const QPoint p = toContent(event->pos());
    const PlacedCard *placed = event->pos().y() < headHeight() ? nullptr : cardAt(p);
    if (placed) {
        pressedAt_ = event->pos();
        grabbedAt_ = isInTray(*placed) ? 0 : p.x() - placed->box.left();
    }
    const PlacedCard *chosen = placed || event->pos().y() < headHeight() ? placed : overAt(p);
    firstClick_ = FirstClick{event->pos(), chosen ? chosen->card->job : -1,
                             chosen && chosen->card->job < 0 ? chosen->card->visit : VisitId()};
    choose(chosen); // may lay the cards anew
}

void CardArea::mouseDoubleClickEvent(QMouseEvent *event) {
    if (const auto first = std::exchange(firstClick_, std::nullopt);
        first && (event->pos() - first->at).manhattanLength() <= QApplication::startDragDistance()) {
        if (first->job >= 0)
            Q_EMIT activated(first->job);
        else if (first->over.isSet())
            Q_EMIT recordAsked(first->over.value());
        return;
    }
    const QPoint p = toContent(event->pos());
    if (const PlacedCard *placed = cardAt(p))
        Q_EMIT activated(placed->card->job);
    else if (const PlacedCard *over = overAt(p))
        Q_EMIT recordAsked(over->card->visit.value());
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
    const auto drop = isOverStrip(event->pos()) ? std::optional(CardDrop{}) : dropAt(toContent(event->pos()));
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
    case Qt::Key_Home:
        return chooseEnd(false);
    case Qt::Key_End:
        return chooseEnd(true);
    case Qt::Key_Return:
    case Qt::Key_Enter:
        if (current_ >= 0)
            Q_EMIT activated(current_);
        else if (over_.isSet())
            Q_EMIT recordAsked(over_.value());
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

} // namespace kitround::ui
