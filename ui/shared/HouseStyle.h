#pragma once
// How the parts are drawn that the style sheet cannot change without drawing them whole.
#include <QProxyStyle>

namespace kitround::ui {

// Boxes to tick that are seen in every theme, the same focus ring for drop-downs as for other fields, and no
// pictures on the buttons of questions.
class HouseStyle : public QProxyStyle {
public:
    HouseStyle();

    int styleHint(StyleHint hint, const QStyleOption *option = nullptr, const QWidget *widget = nullptr,
                  QStyleHintReturn *returnData = nullptr) const override;
    void drawPrimitive(PrimitiveElement element, const QStyleOption *option, QPainter *painter,
                       const QWidget *widget = nullptr) const override;
    void drawComplexControl(ComplexControl control, const QStyleOptionComplex *option, QPainter *painter,
                            const QWidget *widget = nullptr) const override;
};

} // namespace kitround::ui
