#include "ui/calendar/CardPainting.h"

#include "core/desk/views/PlanAsStored.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"

#include <QFontMetrics>
#include <QIcon>
#include <QObject>
#include <QPainter>

#include <vector>

namespace kitround::ui {
namespace {

constexpr int kSignSize = 13, kSmallSignSize = 10; // the small one on a narrow card

QColor groundOf(const desk::VisitCard &card, const CardState &state) {
    if (card.breaksRule) // chosen or not
        return Look::colour(Role::ActGround);
    if (state.isCurrent)
        return Look::colour(Role::Chosen);
    if (state.inTray && card.isUrgent)
        return Look::colour(Role::WatchGround);
    return Look::colour(card.status == VisitStatus::Published ? Role::AccentGround : Role::Raised);
}

struct CardSign {
    QString icon;
    Role role;
};

constexpr int kNarrowCard = 90;
constexpr int kTextLeft = 7, kTextEdges = 12; // before the text; in all, without signs

int signSize(int width) {
    return width < kNarrowCard ? kSmallSignSize : kSignSize;
}

int roomBeside(int width, std::size_t signs) {
    return width - kTextEdges - static_cast<int>(signs) * (signSize(width) + 2);
}

// The least that a card has to say: when, and to whom.
int leastText(const desk::VisitCard &card, const QFontMetrics &metrics) {
    return metrics.horizontalAdvance(desk::timeText(card.start) + u' ' + card.initials);
}

// From the right. A narrow card keeps those that leave its text room; its tip tells the others.
std::vector<CardSign> signsOf(const desk::VisitCard &card, int width, const QFontMetrics &metrics) {
    std::vector<CardSign> signs;
    if (width < 44)
        return signs;
    if (card.isLocked)
        signs.push_back({QStringLiteral("lock"), Role::Ink});
    if (card.carriesSupplies && width >= 70)
        signs.push_back({QStringLiteral("rider"), Role::Ink});
    if (card.needsTwo)
        signs.push_back({QStringLiteral("two"), Role::Ink});
    if (card.status == VisitStatus::Done)
        signs.push_back({QStringLiteral("tick"), Role::Good});
    if (card.isUnrecorded)
        signs.push_back({QStringLiteral("bell"), Role::Watch});
    if (width < kNarrowCard)
        while (!signs.empty() && roomBeside(width, signs.size()) < leastText(card, metrics))
            signs.pop_back();
    return signs;
}

void paintSigns(QPainter &painter, const QRect &box, const desk::VisitCard &card) {
    const int size = signSize(box.width());
    int right = box.right() - 3;
    for (const CardSign &sign : signsOf(card, box.width(), painter.fontMetrics())) {
        Look::icon(sign.icon, sign.role)
            .paint(&painter, QRect(right - size, box.top() + (box.height() - size) / 2, size, size));
        right -= size + 2;
    }
}

void paintText(QPainter &painter, const QRect &box, const desk::VisitCard &card, const QStringList &texts) {
    const QFontMetrics metrics = painter.fontMetrics();
    const int width = roomBeside(box.width(), signsOf(card, box.width(), metrics).size());
    const QRect room(box.left() + kTextLeft, box.top(), width, box.height());
    const bool isHigh = box.height() >= cardHeight(2) && !texts.isEmpty();
    const QStringList lines = isHigh ? wrappedText(metrics, texts.first(), room.width(), 2)
                                     : QStringList{fittingText(metrics, texts, room.width())};
    const int high = metrics.height();
    int top = room.top() + (room.height() - static_cast<int>(lines.size()) * high) / 2;
    for (const QString &line : lines) {
        painter.drawText(QRect(room.left(), top, room.width(), high), Qt::AlignLeft | Qt::AlignVCenter, line);
        top += high;
    }
}

} // namespace

QString fittingText(const QFontMetrics &metrics, const QStringList &texts, int width) {
    for (const QString &text : texts)
        if (metrics.horizontalAdvance(text) <= width)
            return text;
    return texts.isEmpty() ? QString() : metrics.elidedText(texts.last(), Qt::ElideRight, width);
}

QStringList nameTexts(const desk::VisitCard &card) {
    const QString family = card.name.split(QStringLiteral(", ")).first();
    const QString withKind = QStringLiteral("%1 · %2");
    QStringList texts{withKind.arg(card.name, card.kind), withKind.arg(family, card.kind), card.name, family};
    for (const QString &mark : {card.initials, card.code})
        if (!mark.isEmpty())
            texts << mark;
    if (texts.last() != family)
        texts << family; // once more: what is last is cut where nothing fits
    return texts;
}

QStringList timedTexts(const desk::VisitCard &card) {
    QStringList texts;
    for (const QString &name : nameTexts(card))
        texts << desk::timeText(card.start) + u' ' + name;
    return texts;
}

QStringList wrappedText(const QFontMetrics &metrics, const QString &text, int width, int lines) {
    const QString dot = QStringLiteral("·");
    const QStringList words = text.split(u' ', Qt::SkipEmptyParts);
    QStringList wrapped;
    qsizetype next = 0;
    while (next < words.size()) {
        if (words[next] == dot && next + 1 < words.size())
            ++next; // the end of the line parts as well
        QString line = words[next++];
        const bool isLast = wrapped.size() + 1 >= lines;
        while (next < words.size() &&
               (isLast || metrics.horizontalAdvance(line + u' ' + words[next]) <= width))
            line += u' ' + words[next++];
        if (line.endsWith(u' ' + dot))
            line.chop(2);
        wrapped << (metrics.horizontalAdvance(line) > width ? metrics.elidedText(line, Qt::ElideRight, width)
                                                            : line);
    }
    return wrapped;
}

int textRoom(const desk::VisitCard &card, int width) {
    return roomBeside(width, signsOf(card, width, QFontMetrics(Look::smallFont())).size());
}

int cardHeight(int lines) {
    return lines * QFontMetrics(Look::smallFont()).height() + 6;
}

void paintCard(QPainter &painter, const QRect &box, const desk::VisitCard &card, const QStringList &texts,
               const CardState &state) {
    const QRectF edge = QRectF(box).adjusted(0.5, 0.5, -0.5, -0.5);
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    if (state.isHeld)
        painter.setOpacity(0.45);
    painter.setBrush(groundOf(card, state));
    QPen pen(Look::colour(card.breaksRule   ? Role::Act
                          : state.isCurrent ? Role::Accent
                                            : Role::Line),
             state.isCurrent ? 2 : 1);
    if (card.status == VisitStatus::Due)
        pen.setStyle(Qt::DashLine);
    painter.setPen(pen);
    painter.drawRoundedRect(edge, 3, 3);
    if (state.isFound) {
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(Look::colour(Role::Ink), 1, Qt::DashLine));
        painter.drawRoundedRect(edge.adjusted(2, 2, -2, -2), 2, 2);
    }
    if (state.isCurrent && card.breaksRule) {
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(Look::colour(Role::Accent), 2));
        painter.drawRoundedRect(edge.adjusted(2, 2, -2, -2), 2, 2);
    }
    if (card.status == VisitStatus::Drafted || card.status == VisitStatus::Published)
        painter.fillRect(QRectF(edge.left(), edge.top() + 2, card.status == VisitStatus::Published ? 4 : 2,
                                edge.height() - 4),
                         Look::colour(Role::Accent));
    QFont font = Look::smallFont();
    font.setBold(state.isFound);
    font.setStrikeOut(desk::hasHappened(card.status) && card.status != VisitStatus::Done);
    painter.setFont(font);
    painter.setPen(Look::colour(desk::hasHappened(card.status) ? Role::FaintInk : Role::Ink));
    paintSigns(painter, box, card);
    paintText(painter, box, card, texts);
    painter.setOpacity(1);
    if (state.hasFocus) {
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(Look::colour(Role::Accent), 2));
        painter.drawRoundedRect(edge.adjusted(-1, -1, 1, 1), 4, 4);
    }
    painter.restore();
}

QString cardTip(const desk::VisitCard &card) {
    const QString name =
        card.code.isEmpty() ? card.name : QStringLiteral("%1 (%2)").arg(card.name, card.code);
    QStringList lines = {QObject::tr("%1: %2").arg(name, card.kind)};
    if (desk::hasHappened(card.status)) {
        lines << QObject::tr("%1, %2").arg(desk::timeText(card.start), desk::words(card.status));
        return lines.join(QLatin1Char('\n'));
    }
    if (card.isUnrecorded) { // what it is stands with its kind
        lines << desk::timeText(card.start) << QObject::tr("Double click: record what happened");
        return lines.join(QLatin1Char('\n'));
    }
    lines << card.dueText;
    if (card.start.count() > 0)
        lines << QObject::tr("%1 to %2, %3 min travel before")
                     .arg(desk::timeText(card.start), desk::timeText(card.end))
                     .arg(card.travelBefore.count());
    lines << desk::words(card.status);
    if (!card.lockText.isEmpty())
        lines << card.lockText;
    if (card.carriesSupplies)
        lines << QObject::tr("Supplies ride with this visit");
    if (card.needsTwo)
        lines << QObject::tr("Two nurses");
    lines << card.broken;
    return lines.join(QLatin1Char('\n'));
}

void paintHint(QPainter &painter, const QRect &area, QPoint mouse, const QString &text, bool isAllowed) {
    if (text.isEmpty())
        return;
    constexpr int kMost = 320;
    painter.setFont(Look::smallFont());
    const QRect words = painter.fontMetrics().boundingRect(QRect(0, 0, kMost, 400), Qt::TextWordWrap, text);
    QRect box = words.adjusted(-8, -6, 8, 6);
    box.moveTopLeft(mouse + QPoint(14, 14));
    if (box.right() > area.right())
        box.moveRight(mouse.x() - 8);
    if (box.bottom() > area.bottom())
        box.moveBottom(mouse.y() - 8);
    painter.setPen(Look::colour(isAllowed ? Role::Accent : Role::Act));
    painter.setBrush(Look::colour(Role::Raised));
    painter.drawRect(box);
    painter.setPen(Look::colour(Role::Ink));
    painter.drawText(box.adjusted(8, 6, -8, -6), Qt::TextWordWrap, text);
}

} // namespace kitround::ui
