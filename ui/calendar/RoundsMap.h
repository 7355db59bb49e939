#pragma once
// The day's rounds as a plain drawing from coordinates: each nurse's stops numbered and joined in order.
// North is up, the scale stands in the corner. A home without coordinates is named below, never guessed.
#include "core/desk/views/DayBoard.h"

#include <QPointF>
#include <QWidget>

#include <optional>
#include <vector>

namespace kitround::ui {

class RoundsMap : public QWidget {
    Q_OBJECT
public:
    explicit RoundsMap(QWidget *parent = nullptr);
    void setBoard(desk::DayBoard board);
    void setCurrentJob(std::int32_t job); // its round stands out
    QSize sizeHint() const override { return {320, 320}; }
    QSize minimumSizeHint() const override { return {180, 160}; }

Q_SIGNALS:
    void chosen(int job);

protected:
    void paintEvent(QPaintEvent *event) override;
    void mousePressEvent(QMouseEvent *event) override;
    bool event(QEvent *event) override;

private:
    struct Stop {
        QPointF home; // in the widget
        QPointF at;   // of its number: beside the home where another number stands there
        int round = 0, number = 0;
        const desk::VisitCard *card = nullptr;
    };
    struct Frame {
        double west = 0, south = 0, pixelsADegreeNorth = 1,
               squeeze = 1; // squeeze: a degree east in degrees north
        QRectF box;
    };
    std::optional<Frame> frame() const;
    QPointF toWidget(const Frame &frame, GeoPoint point) const;
    std::vector<Stop> stops(const Frame &frame) const;
    const desk::VisitCard *cardNear(QPoint p) const;
    void paintRound(QPainter &painter, const Frame &frame, int round, const std::vector<Stop> &stops) const;
    void paintStop(QPainter &painter, const Stop &stop, bool isChosen) const;
    void paintNames(QPainter &painter, const Frame &frame, const std::vector<Stop> &stops) const;
    void paintScale(QPainter &painter, const Frame &frame) const;

    desk::DayBoard board_;
    std::int32_t current_ = -1;
    int currentRound_ = -1;
    QString unknown_; // homes without coordinates
};

} // namespace kitround::ui
