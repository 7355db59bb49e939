#pragma once
// A home's stock over time: what was counted and used, the middle line with two bands, the plain rule dashed,
// parcels as steps, the run-out day with its range and the refill proposed. The arrow keys move a day mark
// whose figures are said in words.
#include "core/desk/views/HomeChart.h"

#include <QWidget>

namespace kitround::ui {

class FanChart : public QWidget {
    Q_OBJECT
public:
    explicit FanChart(QWidget *parent = nullptr);
    void setChart(desk::HomeChart chart);
    void clear(const QString &message);
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override;
    QString markedFigures() const; // what stands at the day mark, in words

protected:
    void paintEvent(QPaintEvent *event) override;
    bool event(QEvent *event) override;
    void keyPressEvent(QKeyEvent *event) override;
    void mouseMoveEvent(QMouseEvent *event) override;

private:
    struct Scale;
    Scale scale() const;
    void findRange();
    void drawAxes(QPainter &painter, const Scale &s) const;
    void drawFan(QPainter &painter, const Scale &s) const;
    void drawPast(QPainter &painter, const Scale &s) const;
    void drawMarks(QPainter &painter, const Scale &s) const;
    void drawLegend(QPainter &painter, const Scale &s) const;
    void setMark(Date on);

    desk::HomeChart chart_;
    QString message_;
    Date first_, last_, mark_;
    std::int64_t most_ = 1;
};

} // namespace kitround::ui
