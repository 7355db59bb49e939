#pragma once
// The week being planned: an immutable picture, replaced step by step, each step undoable. Nothing is written
// until the person saves or publishes; a newer snapshot of the agency replaces the picture where there is no
// draft, and is offered where there is one.
#include "core/desk/views/WeekBoard.h"

#include <QObject>
#include <QUndoStack>

namespace kitround::ui {

class WeekDraft : public QObject {
    Q_OBJECT
public:
    explicit WeekDraft(QObject *parent = nullptr);

    bool isOpen() const { return picture_ != nullptr; }
    const desk::WeekPicture &picture() const { return *picture_; }
    desk::WeekPicturePtr shared() const { return picture_; }
    QUndoStack *stack() { return &stack_; }
    bool isChanged() const { return !stack_.isClean(); }
    // The least cost of a plan that broke no rule, of all that were shown since the week was opened.
    std::optional<double> bestSeen() const { return bestSeen_; }
    // What no plan of this week can come below, where that was worked out.
    std::optional<double> leastCost() const { return leastCost_; }
    void setLeastCost(std::optional<double> cost);

    // Shows another week or a newer state; drops the steps.
    void open(desk::WeekPicturePtr picture);
    // One undoable step to another picture of the same week.
    void step(const QString &text, desk::WeekPicturePtr after);
    void setSaved() { stack_.setClean(); }

Q_SIGNALS:
    void changed();

private:
    friend class WeekStep;
    void show(desk::WeekPicturePtr picture);

    desk::WeekPicturePtr picture_;
    std::optional<double> bestSeen_, leastCost_;
    QUndoStack stack_;
};

} // namespace kitround::ui
