#pragma once
// Weighted minutes of the best plan over time while the planner searches: a falling line says that waiting
// still pays.
#include <QElapsedTimer>
#include <QWidget>

#include <vector>

namespace kitround::ui {

class PlanTrace : public QWidget {
    Q_OBJECT
public:
    explicit PlanTrace(QWidget *parent = nullptr);
    void start();
    void add(double cost, int unplaced);
    QSize sizeHint() const override { return {120, 28}; }

protected:
    void paintEvent(QPaintEvent *event) override;

private:
    struct Point {
        double seconds = 0;
        double cost = 0;
    };
    std::vector<Point> points_;
    QElapsedTimer timer_;
};

} // namespace kitround::ui
