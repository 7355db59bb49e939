// The part of the card area that finds cards by a text, and chooses what is over.
#include "core/desk/views/VisitFinding.h"
#include "ui/calendar/CardArea.h"

#include <QContextMenuEvent>
#include <QScrollBar>

#include <algorithm>
#include <cstddef>
#include <tuple>

namespace kitround::ui {

const CardArea::PlacedCard *CardArea::overAt(QPoint p) const {
    const auto found = std::ranges::find_if(past_, [&](const PlacedCard &c) { return c.box.contains(p); });
    return found == past_.end() ? nullptr : &*found;
}

const CardArea::PlacedCard *CardArea::chosenCard() const {
    if (!over_.isSet())
        return currentCard();
    const PlacedCard *first = nullptr;
    for (const PlacedCard &past : past_)
        if (past.card->visit == over_ && (!first || past.row == currentRow_))
            first = &past;
    return first;
}

std::vector<const CardArea::PlacedCard *> CardArea::workedOn() const {
    std::vector<const PlacedCard *> cards;
    for (const PlacedCard &past : past_)
        if (past.card->isUnrecorded)
            cards.push_back(&past);
    for (const PlacedCard &placed : placed_)
        cards.push_back(&placed);
    return cards;
}

bool CardArea::chooseOver(VisitId visit) {
    const auto found = std::ranges::find_if(
        past_, [&](const PlacedCard &past) { return visit.isSet() && past.card->visit == visit; });
    if (found != past_.end())
        choose(&*found);
    return found != past_.end();
}

void CardArea::leaveWhatIsGone() {
    if ((current_ >= 0 || over_.isSet()) && !chosenCard())
        choose(nullptr);
}

void CardArea::setSought(const QString &text) {
    sought_ = text.simplified();
    viewport()->update();
}

bool CardArea::isFound(const PlacedCard &placed) const {
    return !sought_.isEmpty() && desk::isFoundBy(*placed.card, nurseOf(placed), sought_);
}

std::vector<const CardArea::PlacedCard *> CardArea::foundCards() const {
    std::vector<const PlacedCard *> cards;
    for (const auto *part : {&past_, &placed_})
        for (const PlacedCard &placed : *part)
            if (isFound(placed))
                cards.push_back(&placed);
    std::ranges::stable_sort(cards, {}, [this](const PlacedCard *card) {
        const QRect &box = card->box;
        return isInTray(*card) ? std::tuple(card->row, box.top(), box.left())
                               : std::tuple(card->row, box.left(), box.top());
    });
    return cards;
}

std::size_t CardArea::foundAt() const {
    const std::vector<const PlacedCard *> cards = foundCards();
    const auto chosen = std::ranges::find(cards, chosenCard());
    return chosen == cards.end() ? 0 : static_cast<std::size_t>(chosen - cards.begin()) + 1;
}

bool CardArea::chooseFound(int step) {
    const std::vector<const PlacedCard *> cards = foundCards();
    if (cards.empty())
        return false;
    const auto count = static_cast<std::ptrdiff_t>(cards.size());
    const std::ptrdiff_t now = std::ranges::find(cards, chosenCard()) - cards.begin();
    const std::ptrdiff_t first = step < 0 ? count - 1 : 0;
    const PlacedCard &next =
        *cards[static_cast<std::size_t>(now < count ? (now + step + count) % count : first)];
    currentRow_ = next.row;
    showCurrent(next.card->job, next.card->job < 0 ? next.card->visit : VisitId());
    Q_EMIT found(current_);
    return true;
}

// Of what is over: with the mouse of the card under it, by the key of the chosen one.
void CardArea::contextMenuEvent(QContextMenuEvent *event) {
    const bool isByMouse = event->reason() == QContextMenuEvent::Mouse;
    const PlacedCard *over =
        isByMouse && event->pos().y() >= headHeight() ? overAt(toContent(event->pos())) : nullptr;
    if (over)
        choose(over);
    const PlacedCard *chosen = chosenCard();
    if (!chosen || !over_.isSet() || (isByMouse && !over)) {
        QAbstractScrollArea::contextMenuEvent(event);
        return;
    }
    const QPoint below = chosen->box.bottomLeft() - QPoint(0, verticalScrollBar()->value());
    const QPoint where = isByMouse ? event->globalPos() : viewport()->mapToGlobal(below);
    Q_EMIT menuAsked(where);
}

} // namespace kitround::ui
