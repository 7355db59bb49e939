#pragma once
// One item of the storeroom over the coming weeks: what is expected on the shelf with its band, what is on
// its way, what expires, the level orders fill up to, and when the shelf falls short. The arrow keys move a
// day mark whose figures are said in words; the table beside it holds the figures of the weeks.
#include "core/desk/views/StoreroomChart.h"

#include <QWidget>

#include <vector>

namespace kitround::ui {

struct ChartScale;
enum class Role : unsigned char;

class ShelfChart : public QWidget {
    Q_OBJECT
public:
    explicit ShelfChart(QWidget *parent = nullptr);
    void setChart(desk::StoreroomChart chart);
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
    struct Label { // the best place first
        QString text;
        Role role;
        std::vector<QRectF> places;
    };
    ChartScale scale() const;
    void setMark(Date on);
    void drawStock(QPainter &painter, const ChartScale &s) const;
    void drawLevel(QPainter &painter, const ChartScale &s, std::vector<Label> &labels) const;
    void drawArrivals(QPainter &painter, const ChartScale &s, std::vector<Label> &labels) const;
    void drawExpiries(QPainter &painter, const ChartScale &s, std::vector<Label> &labels) const;
    std::vector<QRectF> expectedLine(const ChartScale &s) const;
    QRectF todayPlace(const ChartScale &s) const;
    void drawLabels(QPainter &painter, const ChartScale &s, const std::vector<Label> &labels) const;
    void drawShort(QPainter &painter, const ChartScale &s) const;
    void drawLegend(QPainter &painter, const ChartScale &s) const;

    desk::StoreroomChart chart_;
    QString message_; // where there is nothing to draw
    Date mark_;
};

} // namespace kitround::ui
