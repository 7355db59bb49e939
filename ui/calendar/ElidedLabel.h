#pragma once
#include <QLabel>

namespace kitround::ui {

// One line that is as wide as there is room; its end is cut with dots. Whoever sets the text sets the tip.
class ElidedLabel : public QLabel {
    Q_OBJECT
public:
    using QLabel::QLabel;
    QSize sizeHint() const override { return minimumSizeHint(); }
    QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent *event) override;
};

} // namespace kitround::ui
