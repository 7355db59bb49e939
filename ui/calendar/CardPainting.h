#pragma once
// How a visit's card looks, the same in the week and in the day.
#include "core/desk/views/WeekBoard.h"

#include <QPoint>
#include <QRect>

class QPainter;

namespace kitround::ui {

struct CardState {
    bool isCurrent = false;
    bool hasFocus = false;
    bool isHeld = false; // in the mouse's hand: drawn faint where it came from
    bool inTray = false;
};
int cardHeight();
void paintCard(QPainter &painter, const QRect &box, const desk::VisitCard &card, const QString &text,
               const CardState &state);
// What a card says when pointed at.
QString cardTip(const desk::VisitCard &card);
// The line beside the mouse while a card is held.
void paintHint(QPainter &painter, const QRect &area, QPoint mouse, const QString &text, bool isAllowed);

} // namespace kitround::ui
