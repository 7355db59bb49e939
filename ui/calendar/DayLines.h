#pragma once
// One day on a time line: a row a nurse with shift, travel, visits, break and the hours in which the chosen
// visit may start. Dragged along the line to another time, or to another nurse; by keyboard: arrows choose a
// visit, Alt with an arrow moves it by a quarter of an hour or to the next nurse, Delete takes it out, Enter
// shows its reasons.
#include "core/desk/views/DayBoard.h"

#include <QAbstractScrollArea>

#include <functional>
#include <optional>

namespace kitround::ui {

class DayLines : public QAbstractScrollArea {
    Q_OBJECT
public:
    explicit DayLines(QWidget *parent = nullptr);

    void setBoard(desk::DayBoard board);
    const desk::DayBoard &board() const { return board_; }
    std::int32_t currentJob() const { return current_; }
    void setCurrentJob(std::int32_t job); // does not ask for reasons
    struct DropHint {
        QString text;
        bool isAllowed = true;
    };
    // Asked while a visit is held over a nurse's line.
    void setHinter(std::function<DropHint(std::int32_t job, NurseId nurse, Minutes start)> hinter) {
        hinter_ = std::move(hinter);
    }

Q_SIGNALS:
    void currentChanged(int job); // -1 for none
    void moveAsked(int job, qint64 nurse, int startMinute);
    void removalAsked(int job);
    void activated(int job);

protected:
    void paintEvent(QPaintEvent *event) override;
    void resizeEvent(QResizeEvent *event) override;
    void mousePressEvent(QMouseEvent *event) override;
    void mouseMoveEvent(QMouseEvent *event) override;
    void mouseReleaseEvent(QMouseEvent *event) override;
    void mouseDoubleClickEvent(QMouseEvent *event) override;
    void keyPressEvent(QKeyEvent *event) override;
    bool viewportEvent(QEvent *event) override;

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
    void step(int along, int across);
    void askStep(int quarterHours, int rows);
    const Placed *cardAt(QPoint content) const;
    const Placed *currentCard() const;
    QPoint toContent(QPoint p) const;
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
    std::int32_t current_ = -1;
    int currentRow_ = -1;

    std::optional<QPoint> pressedAt_;
    int grabbedAt_ = 0; // pixels from the card's left edge
    bool isDragging_ = false;
    QPoint dragPoint_;
    struct Drop {
        int row = -1;
        Minutes start;
        friend bool operator==(const Drop &, const Drop &) = default;
    };
    std::optional<Drop> drop_;
    DropHint hint_;
    std::function<DropHint(std::int32_t, NurseId, Minutes)> hinter_;
};

} // namespace kitround::ui
