#pragma once
// How a visit's card looks, the same in the week and in the day.
#include "core/desk/views/WeekBoard.h"

#include <QPoint>
#include <QRect>
#include <QStringList>

class QFontMetrics;
class QPainter;

namespace kitround::ui {

struct CardState {
    bool isCurrent = false;
    bool hasFocus = false;
    bool isHeld = false; // in the mouse's hand: drawn faint where it came from
    bool inTray = false;
    bool isFound = false; // what is sought is on it: framed, and written bold
};
int cardHeight(int lines = 1);
// `texts`: from the longest on; the first that fits is drawn, and the last is cut where none does. On a card
// of two lines the longest runs over both.
void paintCard(QPainter &painter, const QRect &box, const desk::VisitCard &card, const QStringList &texts,
               const CardState &state);
// The first that fits; where none does, the last, cut.
QString fittingText(const QFontMetrics &metrics, const QStringList &texts, int width);
// In so many lines at most, broken between words; what is left over is cut.
QStringList wrappedText(const QFontMetrics &metrics, const QString &text, int width, int lines);
// What the signs on a card of this width leave for its text.
int textRoom(const desk::VisitCard &card, int width);
// The name and the kind of visit, less and less of them; then the initials, and last the patient's code. What
// is cut is the family name.
QStringList nameTexts(const desk::VisitCard &card);
// The same, each with the start before it; what is cut is the name.
QStringList timedTexts(const desk::VisitCard &card);
// What a card says when pointed at.
QString cardTip(const desk::VisitCard &card);
// The line beside the mouse while a card is held.
void paintHint(QPainter &painter, const QRect &area, QPoint mouse, const QString &text, bool isAllowed);

} // namespace kitround::ui
