#pragma once
// How the parts are drawn that the style sheet cannot change without drawing them whole.
#include <QProxyStyle>

namespace kitround::ui {

// Boxes to tick that are seen in every theme, drop-downs with the edge, height and focus ring of other
// fields, sort arrows that point up for the smallest first, and no pictures on the buttons of questions.
class HouseStyle : public QProxyStyle {
public:
    HouseStyle();

    using QProxyStyle::polish;
    void polish(QWidget *widget) override;
    int styleHint(StyleHint hint, const QStyleOption *option = nullptr, const QWidget *widget = nullptr,
                  QStyleHintReturn *returnData = nullptr) const override;
    void drawControl(ControlElement element, const QStyleOption *option, QPainter *painter,
                     const QWidget *widget = nullptr) const override;
    void drawPrimitive(PrimitiveElement element, const QStyleOption *option, QPainter *painter,
                       const QWidget *widget = nullptr) const override;
    void drawComplexControl(ComplexControl control, const QStyleOptionComplex *option, QPainter *painter,
                            const QWidget *widget = nullptr) const override;
    QRect subControlRect(ComplexControl control, const QStyleOptionComplex *option, SubControl part,
                         const QWidget *widget = nullptr) const override;
    QSize sizeFromContents(ContentsType type, const QStyleOption *option, const QSize &size,
                           const QWidget *widget = nullptr) const override;
};

} // namespace kitround::ui
