#pragma once
// What the week's grid and the day's lines have in common: cards in rows and in the tray below them, chosen,
// held and dropped, by mouse or by keyboard; what a drop means stands here alone. Arrows choose a card, Home
// and End the first and the last, Alt with an arrow moves it, Delete takes it out of the plan, Enter shows
// its reasons, Escape lets go of what is held, else of the reasons. What is over is chosen as well, to be
// looked at and recorded, and never moved. While the mouse is down nothing is scrolled: what is under the
// pointer stays there.
#include "core/base/Date.h"
#include "core/base/Quantity.h"
#include "core/desk/views/WeekBoard.h"
#include "core/records/Ids.h"

#include <QAbstractScrollArea>
#include <QPoint>
#include <QRect>

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

class QPainter;

namespace kitround::ui {

// What would happen where a card is held, in one line, and whether it may.
struct DropHint {
    QString text;
    bool isAllowed = true;
};

// Where a held card would go: to a nurse's day, at a start or at the best time there.
struct CardDrop {
    std::optional<NurseId> nurse; // none: the tray, out of the plan
    Date on;
    std::optional<Minutes> start;
    friend bool operator==(const CardDrop &, const CardDrop &) = default;
};

class CardArea : public QAbstractScrollArea {
    Q_OBJECT
public:
    explicit CardArea(QWidget *parent = nullptr);
    std::int32_t currentJob() const { return current_; }
    VisitId currentOver() const { return over_; } // chosen, and over; not set where another card is chosen
    bool chooseOver(VisitId visit);               // and says so; false where no card is of it
    bool holds(std::int32_t job) const;           // a card of it is among those shown
    // Chooses nothing and says nothing: another week's visits have other numbers.
    void forget();
    // The number of the chosen visit among those that are shown next; -1: it is not there any more.
    void renumber(std::int32_t job);
    // Asked while a card is held over a nurse's day.
    void setHinter(std::function<DropHint(std::int32_t job, const CardDrop &drop)> hinter) {
        hinter_ = std::move(hinter);
    }
    bool isMouseDown() const { return isMouseDown_; }
    // Marks the cards that a typed text finds (desk/views/VisitFinding); nothing is marked without one.
    void setSought(const QString &text);
    std::size_t foundCount() const { return foundCards().size(); }
    std::size_t foundAt() const; // the how manieth of them is chosen; 0: none
    // The next of them, or the one before, round and round; the one that is chosen already with 0. Brings it
    // in sight, and says found, not that it was chosen: nobody asked for its reasons. False where none is.
    bool chooseFound(int step);
    // As Alt with an arrow: steps of -1, 0 or 1.
    void moveBeside(int right, int down) { askMoveBeside(right, down); }
    // What is not placed yet is no alarm while it is being planned.
    void setPlanning(bool on);

Q_SIGNALS:
    void currentChanged(int job); // -1 for none
    void removalAsked(int job);
    void moveAsked(int job, qint64 nurse, qint64 dayNumber, int startMinute); // -1: the best time
    void activated(int job);
    void recordAsked(qint64 visit);      // of one that is over
    void menuAsked(const QPoint &where); // on the screen, for the one that is over and chosen
    void found(int job);
    void mouseLeft(); // the button was let go
    void escaped();

protected:
    static constexpr int kNurseWidth = 176;

    struct PlacedCard { // where a card is drawn, in content coordinates
        QRect box;
        int row = -1; // a nurse; the last is the tray
        int column = -1;
        const desk::VisitCard *card = nullptr;
    };
    virtual void arrange() = 0; // all cards, in the room there is
    // In lines below `top`, as wide as the texts want where there is room; how high they stand, with their
    // head.
    int placeTray(const std::vector<desk::VisitCard> &tray, int top, int row);
    void setContentHeight(int height, int step); // what a step of the wheel scrolls
    const PlacedCard *cardAt(QPoint content) const;
    QString cardTipAt(QPoint content) const; // of what is over, too; empty where there is no card
    const PlacedCard *overAt(QPoint content) const;
    const PlacedCard *currentCard() const; // of a visit by two nurses the one that was chosen
    const PlacedCard *chosenCard() const;  // that, or one that is over
    // What arrows go to: all that may be worked on.
    std::vector<const PlacedCard *> workedOn() const;
    bool isInTray(const PlacedCard &placed) const { return placed.row == trayRow_; }
    void showCurrent(std::int32_t job, VisitId over = {});       // in sight
    void leaveWhatIsGone();                                      // the chosen card, where it is not shown
    void choose(const PlacedCard *placed);                       // and says so; nullptr: none
    virtual QString textOf(const PlacedCard &placed) const = 0;  // for a screen reader
    virtual QString nurseOf(const PlacedCard &placed) const = 0; // empty in the tray
    virtual QRect sightOf(const PlacedCard &placed) const = 0;   // the card with what belongs to it
    virtual int headHeight() const = 0;                          // over the rows; never scrolled
    void paintCards(QPainter &painter, QStringList (*textsOnRow)(const desk::VisitCard &)) const;
    void paintTray(QPainter &painter, bool isEmpty, const QString &head) const;
    // Over the foot of the view while the tray lies below it; a click on it goes there.
    void paintTrayStrip(QPainter &painter, const QString &head) const;
    // Where no card shows that the keyboard is here.
    void paintFocus(QPainter &painter) const;

    virtual void chooseBeside(int right, int down) = 0; // steps of -1, 0 or 1
    virtual void askMoveBeside(int right, int down) = 0;
    virtual std::optional<CardDrop> dropAt(QPoint content) const = 0;
    virtual QString tipAt(QPoint content) const = 0; // empty: nothing to say there
    void keyPressEvent(QKeyEvent *event) override;
    void contextMenuEvent(QContextMenuEvent *event) override;
    void resizeEvent(QResizeEvent *event) override;
    void mousePressEvent(QMouseEvent *event) override;
    void mouseDoubleClickEvent(QMouseEvent *event) override;
    void mouseMoveEvent(QMouseEvent *event) override;
    void mouseReleaseEvent(QMouseEvent *event) override;
    bool viewportEvent(QEvent *event) override;
    bool event(QEvent *event) override;
    QPoint toContent(QPoint viewportPoint) const;
    void askMove(const CardDrop &drop);
    bool isHeldOver(NurseId nurse, Date on) const {
        return isDragging_ && drop_ && drop_->nurse == nurse && drop_->on == on;
    }
    // To the first of these places that takes the current card; else to the first, which tells why not.
    void askFirstMove(const std::vector<CardDrop> &drops);
    bool isHeldOverTray() const { return isDragging_ && drop_ && !drop_->nurse; }

    std::vector<PlacedCard> placed_;
    std::vector<PlacedCard> past_; // what is over; none has a job
    std::int32_t current_ = -1;
    VisitId over_;
    int trayTop_ = 0, contentHeight_ = 0;
    int grabbedAt_ = 0; // pixels from the held card's left edge; none in the tray
    std::optional<QPoint> pressedAt_;
    // What the last press chose, and where: a double click is one on that, whatever came there meanwhile.
    struct FirstClick {
        QPoint at;
        std::int32_t job = -1;
        VisitId over;
    };
    std::optional<FirstClick> firstClick_;
    bool isMouseDown_ = false;
    bool isPlanning_ = false;
    bool isDragging_ = false;
    QPoint dragPoint_;
    std::optional<CardDrop> drop_; // while dragging
    DropHint hint_;

private:
    // Starts the drag once the mouse went far enough from where it was pressed; false before.
    bool isDragged(QPoint mouse);
    void letGo();
    int trayStripHeight() const; // 0: none is needed
    bool isOverStrip(QPoint mouse) const;
    void bringInSight(const QRect &sight);
    bool isFound(const PlacedCard &placed) const;
    std::vector<const PlacedCard *> foundCards() const; // nurse by nurse, the tray last
    void chooseEnd(bool isLast);                        // the first card, or the last

    int trayRow_ = -1, currentRow_ = -1;
    QString sought_;
    std::function<DropHint(std::int32_t, const CardDrop &)> hinter_;
};

} // namespace kitround::ui
