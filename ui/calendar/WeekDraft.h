#pragma once
// The week being planned: an immutable picture, replaced step by step, each step undoable. Nothing is written
// until the person saves or publishes; a newer snapshot of the agency replaces the picture where there is no
// draft, and is offered where there is one.
#include "core/desk/views/WeekBoard.h"

#include <QObject>
#include <QUndoStack>

#include <map>
#include <vector>

namespace kitround::ui {

class WeekStep;

class WeekDraft : public QObject {
    Q_OBJECT
public:
    explicit WeekDraft(QObject *parent = nullptr);

    bool isOpen() const { return picture_ != nullptr; }
    const desk::WeekPicture &picture() const { return *picture_; }
    desk::WeekPicturePtr shared() const { return picture_; }
    QUndoStack *stack() { return &stack_; }
    bool isChanged() const { return !stack_.isClean(); }
    // The least cost of a plan without a fault, of all that were shown since the week was opened.
    std::optional<double> bestSeen() const { return bestSeen_; }
    // What no plan of this week can come below, where that was worked out.
    std::optional<double> leastCost() const { return leastCost_; }
    void setLeastCost(std::optional<double> cost);

    // Shows another week or a newer state; drops the steps.
    void open(desk::WeekPicturePtr picture);
    // The same week read anew. Where it stands as it was saved, what was done can be undone still; else the
    // steps are dropped.
    void renew(desk::WeekPicturePtr picture);
    // One undoable step to another picture of the same week. `movedByHand`: the visits it placed, where a
    // person chose the place.
    void step(const QString &text, desk::WeekPicturePtr after, std::vector<std::int32_t> movedByHand = {});
    // The plan that undoing the last step gives back; nullptr where there is no step, or other visits were
    // due.
    desk::WeekPicturePtr beforeLastStep() const;
    // The visits that still stand on the round a person put them on, less those that are locked there anyway:
    // that another visit came onto it since, and made them a little later, takes nothing back.
    std::vector<std::int32_t> movedByHand() const;
    void setSaved() { stack_.setClean(); }

Q_SIGNALS:
    void changed();

private:
    friend class WeekStep;
    void show(desk::WeekPicturePtr picture);
    const WeekStep &stepAt(int index) const;
    bool standsByHand(const rounds::Placement &put, std::int32_t now) const; // `now`: its number now
    bool keepSteps(const desk::WeekPicturePtr &fresh);
    // What the draft knew of visits without a record is on record since: a step's picture on the records read
    // last.
    desk::WeekPicturePtr carried(const desk::WeekPicturePtr &picture) const;
    // Its number now; -1 where the picture is of records that nothing is known of.
    std::int32_t numberNow(const desk::WeekPicture &picture, std::int32_t job) const;

    desk::WeekPicturePtr picture_, fresh_;
    // Of the records the steps were made on: which visit is which of those of `fresh_`.
    std::map<desk::AgencyPtr, std::vector<std::int32_t>> asStored_;
    std::optional<double> bestSeen_, leastCost_;
    QUndoStack stack_;
};

} // namespace kitround::ui
