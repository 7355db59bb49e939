#pragma once
// The grip at the step of a proposed refill: dragged sideways it moves the day, up or down the quantity.
// Arrow keys do the same, Esc gives it back. Where it stands is its parent's to say.
#include <QWidget>

#include <optional>

namespace kitround::ui {

class RefillHandle : public QWidget {
    Q_OBJECT
public:
    explicit RefillHandle(QWidget *chart);
    void moveTo(QPointF middle); // on the chart

Q_SIGNALS:
    void taken();
    void dragged(QPointF by); // since it was taken; a tremor in one direction is no way
    void letGo();
    void stepped(int days, int quantities);
    void givenBack();

protected:
    void paintEvent(QPaintEvent *event) override;
    void mousePressEvent(QMouseEvent *event) override;
    void mouseMoveEvent(QMouseEvent *event) override;
    void mouseReleaseEvent(QMouseEvent *event) override;
    void keyPressEvent(QKeyEvent *event) override;

private:
    std::optional<QPointF> takenAt_; // on the screen
};

} // namespace kitround::ui
