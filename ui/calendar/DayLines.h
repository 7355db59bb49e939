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
    void resizeEvent(QResizeEvent *event) override;
    void mousePressEvent(QMouseEvent *event) override;
    void mouseDoubleClickEvent(QMouseEvent *event) override;
    void chooseBeside(int right, int down) override;
    void askMoveBeside(int quarterHours, int rows) override;
    std::optional<CardDrop> dropAt(QPoint content) const override;
    QString tipAt(QPoint content) const override;

private:
    struct Placed {
        QRect box;
        int row = -1; // board_.rounds.size(): the tray
        const desk::VisitCard *card = nullptr;
        const desk::DayStop *stop = nullptr; // nullptr in the tray
    };
    void arrange();
    int x(Minutes at) const;
    Minutes timeAt(int x) const; // to five minutes
    int rowAt(int y) const;      // -1 outside
    void choose(const Placed *placed);
    const Placed *cardAt(QPoint content) const;
    const Placed *currentCard() const;
    void drawAxis(QPainter &painter) const;
    void drawRound(QPainter &painter, int row) const;
    void drawTravel(QPainter &painter, const desk::DayRound &round, int top) const;
    void drawMayStart(QPainter &painter) const;
    void drawTray(QPainter &painter) const;
    void drawDrop(QPainter &painter) const;
    void updateAccessible();

    desk::DayBoard board_;
    std::vector<Placed> placed_;
    int trayTop_ = 0, contentHeight_ = 0;
    int currentRow_ = -1;

    int grabbedAt_ = 0; // pixels from the card's left edge
};

} // namespace kitround::ui
