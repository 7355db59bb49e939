#include "ui/calendar/WeekDraft.h"

#include <QUndoCommand>

#include <algorithm>

namespace kitround::ui {

// Holds before and after; touches the draft only, so it can't fail.
class WeekStep : public QUndoCommand {
public:
    WeekStep(WeekDraft &draft, const QString &text, desk::WeekPicturePtr after)
        : QUndoCommand(text), draft_(draft), before_(draft.picture_), after_(std::move(after)) {}
    void redo() override { draft_.show(after_); }
    void undo() override { draft_.show(before_); }

private:
    WeekDraft &draft_;
    desk::WeekPicturePtr before_, after_;
};

WeekDraft::WeekDraft(QObject *parent) : QObject(parent) {
    stack_.setUndoLimit(200);
    // Told when the stack has moved, so that who listens sees the new picture and whether it is saved
    // together.
    connect(&stack_, &QUndoStack::indexChanged, this, &WeekDraft::changed);
}

void WeekDraft::open(desk::WeekPicturePtr picture) {
    bestSeen_.reset();
    leastCost_.reset();
    show(std::move(picture));
    stack_.clear();
    Q_EMIT changed();
}

void WeekDraft::step(const QString &text, desk::WeekPicturePtr after) {
    // After a repair other visits or duties may be there, for which nothing is known.
    const auto size = [](const desk::WeekPicture &week) {
        return std::pair(week.problem.jobs.size(), week.problem.duties.size());
    };
    if (after->agency != picture_->agency || size(*after) != size(*picture_)) {
        bestSeen_.reset();
        leastCost_.reset();
    }
    stack_.push(new WeekStep(*this, text, std::move(after))); // owned by the stack
}

void WeekDraft::setLeastCost(std::optional<double> cost) {
    leastCost_ = cost;
    Q_EMIT changed();
}

void WeekDraft::show(desk::WeekPicturePtr picture) {
    picture_ = std::move(picture);
    if (!picture_ || !picture_->broken.empty())
        return;
    const double cost = picture_->evaluation.parts.total();
    bestSeen_ = std::min(bestSeen_.value_or(cost), cost);
}

} // namespace kitround::ui
