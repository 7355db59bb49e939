#include "ui/shared/HouseStyle.h"

#include "ui/shared/Look.h"

#include <QPainter>
#include <QStyleOption>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr qreal kRing = 2.0; // as the style sheet draws it around text fields
constexpr qreal kHairline = 1.0;

struct TickBox {
    Role edge = Role::FaintInk;
    Role ground = Role::Raised;
    Role tick = Role::OnAccent;
    qreal width = kHairline;
};

TickBox tickBox(QStyle::State state) {
    TickBox box;
    const bool isFilled = state.testFlag(QStyle::State_On) || state.testFlag(QStyle::State_NoChange);
    if (!state.testFlag(QStyle::State_Enabled))
        return {Role::Line, Role::Ground, Role::FaintInk, kHairline};
    if (isFilled)
        box.edge = box.ground = Role::Accent;
    if (state.testFlag(QStyle::State_HasFocus)) {
        box.edge = isFilled ? Role::Ink : Role::Accent;
        box.width = kRing;
    }
    return box;
}

void drawTickBox(const QStyleOption &option, QPainter &painter) {
    const TickBox box = tickBox(option.state);
    const qreal side = std::min(option.rect.width(), option.rect.height());
    QRectF square(0, 0, side - box.width, side - box.width);
    square.moveCenter(QRectF(option.rect).center());
    const auto at = [&square](qreal x, qreal y) {
        return QPointF(square.left() + x * square.width(), square.top() + y * square.height());
    };
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(Look::colour(box.edge), box.width));
    painter.setBrush(Look::colour(box.ground));
    painter.drawRoundedRect(square, 2, 2);
    painter.setPen(QPen(Look::colour(box.tick), 2.0, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.setBrush(Qt::NoBrush);
    if (option.state.testFlag(QStyle::State_NoChange))
        painter.drawLine(at(0.25, 0.5), at(0.75, 0.5));
    else if (option.state.testFlag(QStyle::State_On)) {
        const QPointF tick[] = {at(0.22, 0.52), at(0.42, 0.72), at(0.78, 0.3)};
        painter.drawPolyline(tick, 3);
    }
    painter.restore();
}

void drawFocusRing(const QRect &rect, QPainter &painter) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(Look::colour(Role::Accent), kRing));
    painter.setBrush(Qt::NoBrush);
    painter.drawRoundedRect(QRectF(rect).adjusted(1, 1, -1, -1), 3, 3);
    painter.restore();
}

} // namespace

HouseStyle::HouseStyle() : QProxyStyle(QStringLiteral("Fusion")) {}

int HouseStyle::styleHint(StyleHint hint, const QStyleOption *option, const QWidget *widget,
                          QStyleHintReturn *returnData) const {
    if (hint == SH_DialogButtonBox_ButtonsHaveIcons)
        return 0;
    return QProxyStyle::styleHint(hint, option, widget, returnData);
}

void HouseStyle::drawPrimitive(PrimitiveElement element, const QStyleOption *option, QPainter *painter,
                               const QWidget *widget) const {
    if (element == PE_IndicatorCheckBox || element == PE_IndicatorItemViewItemCheck)
        drawTickBox(*option, *painter);
    else
        QProxyStyle::drawPrimitive(element, option, painter, widget);
}

void HouseStyle::drawComplexControl(ComplexControl control, const QStyleOptionComplex *option,
                                    QPainter *painter, const QWidget *widget) const {
    QProxyStyle::drawComplexControl(control, option, painter, widget);
    const bool isFocused = option->state.testFlag(State_HasFocus) && option->state.testFlag(State_Enabled);
    if (isFocused && (control == CC_ComboBox || control == CC_SpinBox))
        drawFocusRing(option->rect, *painter);
}

} // namespace kitround::ui
