#pragma once
// One line that is as wide as there is room; its end is cut with dots. What is cut is in its tip, above the
// tip that it was given.
#include <QLabel>

namespace kitround::ui {

class ElidedLabel : public QLabel {
    Q_OBJECT
public:
    using QLabel::QLabel;
    QSize sizeHint() const override { return minimumSizeHint(); }
    QSize minimumSizeHint() const override;
    QString wholeTip() const;

protected:
    bool event(QEvent *event) override;
    void paintEvent(QPaintEvent *event) override;
};

} // namespace kitround::ui
