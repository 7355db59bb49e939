#include "ui/shared/HouseStyle.h"

#include "ui/shared/Look.h"

#include <QComboBox>
#include <QPainter>
#include <QStyleOption>
#include <QStyledItemDelegate>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr qreal kRing = 2.0; // as the style sheet draws it around text fields
constexpr qreal kHairline = 1.0;
constexpr qreal kCorner = 3.0;
constexpr int kTextInset = 2; // that a drop-down's words start where those of other fields do

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

// As the style sheet draws it around text fields: a hairline, and a ring where the keyboard is.
void drawFieldEdge(const QStyleOption &option, QPainter &painter, const QBrush &ground) {
    const bool isEnabled = option.state.testFlag(QStyle::State_Enabled);
    const bool isFocused = isEnabled && option.state.testFlag(QStyle::State_HasFocus);
    const qreal width = isFocused ? kRing : kHairline;
    const Role edge = isFocused ? Role::Accent : isEnabled ? Role::Edge : Role::Line;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(Look::colour(edge), width));
    painter.setBrush(ground);
    const qreal in = width / 2;
    painter.drawRoundedRect(QRectF(option.rect).adjusted(in, in, -in, -in), kCorner, kCorner);
    painter.restore();
}

void drawOpenArrow(const QRectF &place, QPainter &painter, Role role) {
    const QPointF centre = place.center();
    const QPointF arrow[] = {centre + QPointF(-4, -2), centre + QPointF(0, 2), centre + QPointF(4, -2)};
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(Look::colour(role), 1.5, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.setBrush(Qt::NoBrush);
    painter.drawPolyline(arrow, 3);
    painter.restore();
}

// Up for the smallest first. The toolkit's own name for that way is SortDown.
void drawSortArrow(const QStyleOption &option, QPainter &painter) {
    const auto *head = qstyleoption_cast<const QStyleOptionHeader *>(&option);
    if (!head || head->sortIndicator == QStyleOptionHeader::None)
        return;
    const qreal tip = head->sortIndicator == QStyleOptionHeader::SortDown ? -2.5 : 2.5;
    const QPointF centre = QRectF(option.rect).center();
    const QPointF arrow[] = {centre + QPointF(0, tip), centre + QPointF(4.5, -tip),
                             centre + QPointF(-4.5, -tip)};
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(Qt::NoPen);
    painter.setBrush(Look::colour(Role::Ink));
    painter.drawPolygon(arrow, 3);
    painter.restore();
}

} // namespace

HouseStyle::HouseStyle() : QProxyStyle(QStringLiteral("Fusion")) {}

void HouseStyle::polish(QWidget *widget) {
    QProxyStyle::polish(widget);
    // Only lines that the style sheet knows are as high as what is clicked has to be.
    auto *box = qobject_cast<QComboBox *>(widget);
    if (box && !qobject_cast<QStyledItemDelegate *>(box->itemDelegate()))
        box->setItemDelegate(new QStyledItemDelegate(box));
}

int HouseStyle::styleHint(StyleHint hint, const QStyleOption *option, const QWidget *widget,
                          QStyleHintReturn *returnData) const {
    if (hint == SH_DialogButtonBox_ButtonsHaveIcons)
        return 0;
    return QProxyStyle::styleHint(hint, option, widget, returnData);
}

// Of several to choose one from, the toolkit draws the dot of the line that is being pressed beside the dot
// of the one that holds.
void HouseStyle::drawControl(ControlElement element, const QStyleOption *option, QPainter *painter,
                             const QWidget *widget) const {
    const auto *item = qstyleoption_cast<const QStyleOptionMenuItem *>(option);
    if (element != CE_MenuItem || !item) {
        QProxyStyle::drawControl(element, option, painter, widget);
        return;
    }
    QStyleOptionMenuItem still(*item);
    still.state.setFlag(State_Sunken, false);
    QProxyStyle::drawControl(element, &still, painter, widget);
}

void HouseStyle::drawPrimitive(PrimitiveElement element, const QStyleOption *option, QPainter *painter,
                               const QWidget *widget) const {
    if (element == PE_IndicatorCheckBox || element == PE_IndicatorItemViewItemCheck)
        drawTickBox(*option, *painter);
    else if (element == PE_IndicatorHeaderArrow)
        drawSortArrow(*option, *painter);
    else
        QProxyStyle::drawPrimitive(element, option, painter, widget);
}

void HouseStyle::drawComplexControl(ComplexControl control, const QStyleOptionComplex *option,
                                    QPainter *painter, const QWidget *widget) const {
    const auto *box = qstyleoption_cast<const QStyleOptionComboBox *>(option);
    if (control == CC_ComboBox && box && box->frame) {
        const bool isEnabled = option->state.testFlag(State_Enabled);
        drawFieldEdge(*option, *painter, Look::colour(isEnabled ? Role::Raised : Role::Ground));
        drawOpenArrow(subControlRect(control, option, SC_ComboBoxArrow, widget), *painter,
                      isEnabled ? Role::Ink : Role::FaintInk);
        return;
    }
    QProxyStyle::drawComplexControl(control, option, painter, widget);
    if (control == CC_SpinBox)
        drawFieldEdge(*option, *painter, Qt::NoBrush);
}

QRect HouseStyle::subControlRect(ComplexControl control, const QStyleOptionComplex *option, SubControl part,
                                 const QWidget *widget) const {
    QRect place = QProxyStyle::subControlRect(control, option, part, widget);
    if (control == CC_ComboBox && part == SC_ComboBoxEditField)
        place.adjust(kTextInset, 0, 0, 0);
    return place;
}

QSize HouseStyle::sizeFromContents(ContentsType type, const QStyleOption *option, const QSize &size,
                                   const QWidget *widget) const {
    QSize needed = QProxyStyle::sizeFromContents(type, option, size, widget);
    if (type == CT_ComboBox || type == CT_SpinBox)
        needed.setHeight(std::max(needed.height(), Look::kHit));
    if (type == CT_ComboBox)
        needed.rwidth() += kTextInset;
    return needed;
}

} // namespace kitround::ui
