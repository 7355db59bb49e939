// The part of the calendar page that moves visits by hand, and says which one from where to where.
#include "core/desk/views/HandMoves.h"
#include "ui/calendar/CalendarPage.h"
#include "ui/shared/BackgroundJob.h"

#include <optional>

namespace kitround::ui {

void CalendarPage::moveTo(int job, qint64 nurse, qint64 dayNumber, int startMinute) {
    move(job, NurseId(nurse), Date::fromDayNumber(dayNumber),
         startMinute >= 0 ? std::optional(Minutes::of(startMinute)) : std::nullopt);
}

void CalendarPage::move(int job, NurseId nurse, Date on, std::optional<Minutes> start) {
    if (planner_)
        return;
    const desk::MoveOffer offer = desk::offerMove(draft_.picture(), job, nurse, on, start);
    if (!offer.isAllowed()) {
        Q_EMIT said(tr("Not moved: %1: %2").arg(desk::visitMark(draft_.picture(), job), offer.summary));
        return;
    }
    const desk::WeekPicture &before = draft_.picture();
    const bool wasPlaced = before.plan.placements[static_cast<std::size_t>(job)].isPlaced();
    const QString name = desk::moveName(before, *offer.after, job),
                  meaning = desk::moveText(before, job, offer);
    draft_.step((wasPlaced ? tr("Move %1") : tr("Place %1")).arg(name), offer.after, {job});
    chooseJob(job);
    Q_EMIT said((wasPlaced ? tr("Moved: %1; %2") : tr("Placed: %1; %2")).arg(name, meaning));
}

void CalendarPage::unlockAndMove(int job, const desk::Suggestion &place) {
    if (planner_)
        return;
    const desk::WeekPicturePtr unlocked = desk::withLocks(draft_.picture(), job, place.kept);
    const desk::MoveOffer offer = desk::offerMove(*unlocked, job, place.nurse, place.on, place.start);
    if (!offer.isAllowed()) {
        Q_EMIT said(tr("Not moved: %1: %2").arg(desk::visitMark(draft_.picture(), job), offer.summary));
        return;
    }
    const QString name = desk::moveName(draft_.picture(), *offer.after, job);
    draft_.step(tr("Unlock and place %1").arg(name), offer.after, {job});
    chooseJob(job);
    Q_EMIT said(tr("Unlocked and placed: %1; %2").arg(name, offer.summary));
}

void CalendarPage::takeOut(int job) {
    if (planner_ || !draft_.picture().plan.placements[static_cast<std::size_t>(job)].isPlaced())
        return;
    const desk::MoveOffer offer = desk::offerRemoval(draft_.picture(), job);
    if (!offer.isAllowed()) {
        Q_EMIT said(tr("Not taken out: %1: %2").arg(desk::visitMark(draft_.picture(), job), offer.summary));
        return;
    }
    const QString name = desk::moveName(draft_.picture(), *offer.after, job);
    draft_.step(tr("Take out %1").arg(name), offer.after);
    chooseJob(job);
    takeFocus(); // the button is grey now, and the next one calls the visit off for good
    Q_EMIT said(tr("Taken out: %1; %2").arg(name, offer.summary));
}

} // namespace kitround::ui
