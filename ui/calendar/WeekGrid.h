#pragma once
// Nurses x days with cards in start order, and the tray of what is not placed below. Drawn by hand; dragged
// with the mouse, or moved by Alt with an arrow to the next nurse or day.
#include "core/desk/views/WeekBoard.h"
#include "ui/calendar/CardArea.h"

#include <optional>

namespace kitround::ui {

class WeekGrid : public CardArea {
    Q_OBJECT
public:
    explicit WeekGrid(QWidget *parent = nullptr);

    void setBoard(desk::WeekBoard board, Date today);
    const desk::WeekBoard &board() const { return board_; }
    void setCurrentJob(std::int32_t job);

Q_SIGNALS:
    void dayAsked(qint64 dayNumber); // its head was clicked

protected:
    void paintEvent(QPaintEvent *event) override;
    void resizeEvent(QResizeEvent *event) override;
    void mousePressEvent(QMouseEvent *event) override;
    void mouseDoubleClickEvent(QMouseEvent *event) override;
    void chooseBeside(int right, int down) override;
    void askMoveBeside(int days, int rows) override;
    std::optional<CardDrop> dropAt(QPoint content) const override;
    QString tipAt(QPoint content) const override;

private:
    struct Cell {
        int row = -1; // nurse; board_.rows.size() is the tray
        int day = -1;
        friend bool operator==(const Cell &, const Cell &) = default;
    };
    struct Placed { // where a card is drawn, in content coordinates
        QRect box;
        Cell cell;
        const desk::VisitCard *card = nullptr;
    };
    void arrange();
    void drawHead(QPainter &painter);
    void drawRow(QPainter &painter, int row);
    void drawTray(QPainter &painter);
    void drawCard(QPainter &painter, const Placed &placed, bool isHeld);
    void drawHint(QPainter &painter);
    std::optional<Cell> cellAt(QPoint content) const;
    const Placed *cardAt(QPoint content) const;
    const Placed *placedOf(std::int32_t job) const;
    void bringIntoSight(const Placed &placed);
    QRect cellBox(const Cell &cell) const;
    void updateAccessible();

    desk::WeekBoard board_;
    Date today_;
    std::vector<Placed> placed_;
    std::vector<int> rowTop_, rowHeight_; // tray last
    std::vector<int> dayLeft_, dayWidth_;
    int contentHeight_ = 0;
    int currentDay_ = -1; // which of a two-nurse visit's cards, and where arrows go from
    int currentRow_ = -1;
};

} // namespace kitround::ui
