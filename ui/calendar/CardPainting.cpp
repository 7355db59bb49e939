#include "ui/calendar/CardPainting.h"

#include "core/desk/views/PlanAsStored.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"

#include <QFontMetrics>
#include <QIcon>
#include <QObject>
#include <QPainter>

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

// Draws the signs from the right and gives what is left of the text's room. A narrow card keeps those that
// bind it; its tip tells the others.
int paintSigns(QPainter &painter, const QRect &box, const desk::VisitCard &card) {
    int right = box.right() - 3;
    const bool isNarrow = box.width() < 90;
    const int size = isNarrow ? kSmallSignSize : kSignSize;
    if (box.width() < 44)
        return right;
    const auto sign = [&](const QString &name, Role role) {
        Look::icon(name, role)
            .paint(&painter, QRect(right - size, box.top() + (box.height() - size) / 2, size, size));
        right -= size + 2;
    };
    if (card.isLocked)
        sign(QStringLiteral("lock"), Role::Ink);
    if (card.carriesSupplies && box.width() >= 70)
        sign(QStringLiteral("rider"), Role::Ink);
    if (card.needsTwo)
        sign(QStringLiteral("two"), Role::Ink);
    if (card.status == VisitStatus::Done)
        sign(QStringLiteral("tick"), Role::Good);
    if (card.isUnrecorded)
        sign(QStringLiteral("bell"), Role::Watch);
    return right;
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
    return {withKind.arg(card.name, card.kind), withKind.arg(family, card.kind), card.name, family};
}

QStringList timedTexts(const desk::VisitCard &card) {
    QStringList texts;
    for (const QString &name : nameTexts(card))
        texts << desk::timeText(card.start) + u' ' + name;
    if (!texts.isEmpty())
        texts << desk::timeText(card.start).section(u':', 0, 0) + u' ' + nameTexts(card).last();
    return texts;
}

int cardHeight() {
    return QFontMetrics(Look::smallFont()).height() + 6;
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
    font.setStrikeOut(desk::hasHappened(card.status) && card.status != VisitStatus::Done);
    painter.setFont(font);
    painter.setPen(Look::colour(desk::hasHappened(card.status) ? Role::FaintInk : Role::Ink));
    const int right = paintSigns(painter, box, card);
    const QRect textBox(box.left() + 7, box.top(), right - box.left() - 8, box.height());
    painter.drawText(textBox, Qt::AlignLeft | Qt::AlignVCenter,
                     fittingText(painter.fontMetrics(), texts, textBox.width()));
    painter.setOpacity(1);
    if (state.hasFocus) {
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(Look::colour(Role::Accent), 2));
        painter.drawRoundedRect(edge.adjusted(-1, -1, 1, 1), 4, 4);
    }
    painter.restore();
}

QString cardTip(const desk::VisitCard &card) {
    QStringList lines = {QObject::tr("%1: %2").arg(card.name, card.kind)};
    if (desk::hasHappened(card.status)) {
        lines << QObject::tr("%1, %2").arg(desk::timeText(card.start), desk::words(card.status));
        return lines.join(QLatin1Char('\n'));
    }
    if (card.isUnrecorded) { // what it is stands with its kind
        lines << desk::timeText(card.start);
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
