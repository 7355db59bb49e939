#pragma once
// Nurses x days with cards in start order, and the tray of what is not placed below. Drawn by hand; dragged
// with the mouse, or moved by Alt with an arrow to the next nurse or day.
#include "core/desk/views/PlanCautions.h"
#include "core/desk/views/WeekBoard.h"
#include "ui/calendar/CardArea.h"

#include <optional>

namespace kitround::ui {

class WeekGrid : public CardArea {
    Q_OBJECT
public:
    explicit WeekGrid(QWidget *parent = nullptr);

    // `marks`: by day, over it.
    void setBoard(desk::WeekBoard board, Date today, std::vector<desk::DayMark> marks = {});
    const std::vector<desk::DayMark> &dayMarks() const { return marks_; }
    const desk::WeekBoard &board() const { return board_; }
    const std::vector<int> &dayWidths() const { return dayWidth_; }
    void setCurrentJob(std::int32_t job);

Q_SIGNALS:
    void dayAsked(qint64 dayNumber); // its head was clicked

protected:
    void paintEvent(QPaintEvent *event) override;
    void mousePressEvent(QMouseEvent *event) override;
    void arrange() override;
    QString textOf(const PlacedCard &placed) const override;
    QString nurseOf(const PlacedCard &placed) const override;
    QRect sightOf(const PlacedCard &placed) const override;
    int headHeight() const override;
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
    void drawHead(QPainter &painter);
    void drawNotes(QPainter &painter, std::size_t day, const QRect &box);
    std::optional<std::size_t> dayAtHead(QPoint view) const; // whose head is there
    void drawRow(QPainter &painter, int row);
    void drawTray(QPainter &painter);
    const PlacedCard *besideInTray(const std::vector<const PlacedCard *> &cards, const PlacedCard *from,
                                   int dx) const;
    QString trayHead() const;
    std::optional<Cell> cellAt(QPoint content) const;
    int nurseWidth() const; // less where the days need the room
    void arrangeDays();
    void placeDay(std::size_t row, std::size_t day, int height); // the cards of a nurse's day

    desk::WeekBoard board_;
    std::vector<desk::DayMark> marks_;
    Date today_;
    std::vector<int> rowTop_, rowHeight_; // tray last
    std::vector<int> dayLeft_, dayWidth_;
};

} // namespace kitround::ui
