#pragma once
// One day on a time line: a row a nurse with shift, travel, visits, break and the hours in which the chosen
// visit may start. A visit is dragged along the line to another time, or to another nurse; Alt with an arrow
// moves it by a quarter of an hour, or to the next nurse at the best time there.
#include "core/desk/views/DayBoard.h"
#include "ui/calendar/CardArea.h"

#include <optional>

namespace kitround::ui {

class DayLines : public CardArea {
    Q_OBJECT
public:
    explicit DayLines(QWidget *parent = nullptr);

    void setBoard(desk::DayBoard board);
    const desk::DayBoard &board() const { return board_; }
    void setCurrentJob(std::int32_t job); // does not ask for reasons

protected:
    void paintEvent(QPaintEvent *event) override;
    void arrange() override;
    QString textOf(const PlacedCard &placed) const override;
    QString nurseOf(const PlacedCard &placed) const override;
    QRect sightOf(const PlacedCard &placed) const override;
    int headHeight() const override;
    void chooseBeside(int right, int down) override;
    void askMoveBeside(int quarterHours, int rows) override;
    std::optional<CardDrop> dropAt(QPoint content) const override;
    QString tipAt(QPoint content) const override;

private:
    int x(Minutes at) const;
    Minutes timeAt(int x) const; // to five minutes
    int rowAt(int y) const;      // -1 outside
    void drawAxis(QPainter &painter) const;
    void drawRound(QPainter &painter, int row) const;
    QString roundText(const desk::DayRound &round) const;
    void drawTravel(QPainter &painter, const desk::DayRound &round, int top) const;
    void drawTimes(QPainter &painter, const desk::DayRound &round, int top) const;
    void drawMayStart(QPainter &painter) const;
    void drawTray(QPainter &painter) const;
    QString trayHead() const;
    void drawDrop(QPainter &painter) const;

    desk::DayBoard board_;
};

} // namespace kitround::ui
