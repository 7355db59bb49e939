#include "ui/calendar/WeekDraft.h"

#include "core/base/Index.h"
#include "core/desk/views/HandMoves.h"

#include <QUndoCommand>

#include <algorithm>
#include <utility>

namespace kitround::ui {

// Holds before and after; touches the draft only, so it can't fail.
class WeekStep : public QUndoCommand {
public:
    WeekStep(WeekDraft &draft, const QString &text, desk::WeekPicturePtr after,
             std::vector<std::int32_t> movedByHand)
        : QUndoCommand(text), draft_(draft), before_(draft.picture_), after_(std::move(after)),
          movedByHand_(std::move(movedByHand)) {}
    void redo() override { draft_.show(draft_.carried(after_)); }
    void undo() override { draft_.show(draft_.carried(before_)); }
    const desk::WeekPicturePtr &before() const { return before_; }
    const desk::WeekPicturePtr &after() const { return after_; }
    const std::vector<std::int32_t> &movedByHand() const { return movedByHand_; }

private:
    WeekDraft &draft_;
    desk::WeekPicturePtr before_, after_;
    std::vector<std::int32_t> movedByHand_;
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
    asStored_.clear();
    fresh_.reset();
    Q_EMIT changed();
}

void WeekDraft::renew(desk::WeekPicturePtr picture) {
    if (!keepSteps(picture)) {
        open(std::move(picture));
        return;
    }
    bestSeen_.reset();
    leastCost_.reset();
    fresh_ = picture;
    show(std::move(picture));
    Q_EMIT changed();
}

const WeekStep &WeekDraft::stepAt(int index) const {
    return *static_cast<const WeekStep *>(stack_.command(index)); // no other kind is ever pushed
}

bool WeekDraft::keepSteps(const desk::WeekPicturePtr &fresh) {
    if (!picture_ || !fresh || stack_.count() == 0 || isChanged())
        return false;
    const std::vector<std::int32_t> jobs = desk::jobsAsStored(*picture_, *fresh);
    if (jobs.empty())
        return false;
    std::map<desk::AgencyPtr, std::vector<std::int32_t>> stored;
    for (int i = 0; i < stack_.count(); ++i)
        for (const desk::WeekPicturePtr &picture : {stepAt(i).before(), stepAt(i).after()}) {
            if (picture->due.size() != jobs.size())
                return false; // after a repair other visits may be there
            if (stored.contains(picture->agency))
                continue;
            std::vector<std::int32_t> numbers;
            for (std::size_t j = 0; j < jobs.size(); ++j) {
                const std::int32_t was = numberNow(*picture, static_cast<std::int32_t>(j));
                if (was < 0)
                    return false;
                numbers.push_back(jobs[at(was)]);
            }
            stored.emplace(picture->agency, std::move(numbers));
        }
    asStored_ = std::move(stored);
    return true;
}

desk::WeekPicturePtr WeekDraft::carried(const desk::WeekPicturePtr &picture) const {
    const auto jobs = asStored_.find(picture->agency);
    return jobs == asStored_.end() || picture->agency == fresh_->agency
               ? picture
               : desk::laidOnto(*picture, *fresh_, jobs->second);
}

std::int32_t WeekDraft::numberNow(const desk::WeekPicture &picture, std::int32_t job) const {
    if (picture.due.size() != picture_->due.size())
        return -1;
    if (picture.agency == picture_->agency)
        return job;
    const auto jobs = asStored_.find(picture.agency);
    return jobs == asStored_.end() ? -1 : jobs->second[at(job)];
}

desk::WeekPicturePtr WeekDraft::beforeLastStep() const {
    if (!picture_ || stack_.index() == 0)
        return nullptr;
    desk::WeekPicturePtr before = carried(stepAt(stack_.index() - 1).before());
    const bool isAlike = before->agency == picture_->agency && before->due.size() == picture_->due.size() &&
                         before->problem.duties.size() == picture_->problem.duties.size();
    return isAlike ? before : nullptr;
}

std::vector<std::int32_t> WeekDraft::movedByHand() const {
    std::vector<std::int32_t> jobs;
    for (int i = 0; i < stack_.index(); ++i) {
        const WeekStep &step = stepAt(i);
        for (const std::int32_t moved : step.movedByHand()) {
            const std::int32_t now = numberNow(*step.after(), moved);
            if (now >= 0 && std::ranges::find(jobs, now) == jobs.end() &&
                standsByHand(step.after()->plan.placements[at(moved)], now))
                jobs.push_back(now);
        }
    }
    return jobs;
}

bool WeekDraft::standsByHand(const rounds::Placement &put, std::int32_t now) const {
    const rounds::Job &job = picture_->problem.jobs[at(now)];
    const bool isLocked = job.lockedDay >= 0 && job.lockedNurse >= 0 && job.lockedStart >= 0;
    return put.isPlaced() && !isLocked && !job.hasBegun &&
           desk::isSameRound(put, picture_->plan.placements[at(now)]);
}

void WeekDraft::step(const QString &text, desk::WeekPicturePtr after, std::vector<std::int32_t> movedByHand) {
    // After a repair other visits or duties may be there, for which nothing is known.
    const auto size = [](const desk::WeekPicture &week) {
        return std::pair(week.problem.jobs.size(), week.problem.duties.size());
    };
    if (after->agency != picture_->agency || size(*after) != size(*picture_)) {
        bestSeen_.reset();
        leastCost_.reset();
    }
    stack_.push(new WeekStep(*this, text, std::move(after), std::move(movedByHand))); // owned by the stack
}

void WeekDraft::setLeastCost(std::optional<double> cost) {
    leastCost_ = cost;
    Q_EMIT changed();
}

void WeekDraft::show(desk::WeekPicturePtr picture) {
    picture_ = std::move(picture);
    if (!picture_ || desk::planFaults(*picture_) > 0)
        return;
    const double cost = picture_->evaluation.parts.total();
    bestSeen_ = std::min(bestSeen_.value_or(cost), cost);
}

} // namespace kitround::ui
