#pragma once
// What the week's grid and the day's lines have in common: cards that are chosen, held and dropped, by mouse
// or by keyboard. Arrows choose a card, Alt with an arrow moves it, Delete takes it out of the plan, Enter
// shows its reasons, Escape lets go of what is held.
#include <QAbstractScrollArea>
#include <QPoint>

#include <cstdint>
#include <optional>

namespace kitround::ui {

// What would happen where a card is held, in one line, and whether it may.
struct DropHint {
    QString text;
    bool isAllowed = true;
};

class CardArea : public QAbstractScrollArea {
    Q_OBJECT
public:
    explicit CardArea(QWidget *parent = nullptr);
    std::int32_t currentJob() const { return current_; }

Q_SIGNALS:
    void currentChanged(int job); // -1 for none
    void removalAsked(int job);
    void activated(int job);

protected:
    virtual void chooseBeside(int right, int down) = 0; // steps of -1, 0 or 1
    virtual void askMoveBeside(int right, int down) = 0;
    virtual QString tipAt(QPoint content) const = 0; // empty: nothing to say there
    void keyPressEvent(QKeyEvent *event) override;
    bool viewportEvent(QEvent *event) override;
    bool event(QEvent *event) override;
    QPoint toContent(QPoint viewportPoint) const;
    // Starts the drag once the mouse went far enough from where it was pressed; false before.
    bool isDragged(QPoint mouse);
    void letGo();
    void tellCurrent(const QString &description); // to a screen reader

    std::int32_t current_ = -1;
    std::optional<QPoint> pressedAt_;
    bool isDragging_ = false;
    QPoint dragPoint_;
    DropHint hint_;
};

} // namespace kitround::ui
