// The part of the calendar page that answers to what went otherwise than planned.
#include "core/desk/views/HandMoves.h"
#include "core/desk/views/PatientCalls.h"
#include "core/desk/views/ShownWeek.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/Words.h"
#include "ui/calendar/CalendarPage.h"
#include "ui/calendar/CompareDialog.h"
#include "ui/calendar/DayPanel.h"
#include "ui/calendar/RepairDialog.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/Session.h"

#include <QApplication>

namespace kitround::ui {
namespace {

// The nurse of the chosen visit, else the first who works on that day.
NurseId nurseOf(const desk::WeekPicture &week, std::int32_t job, Date on) {
    const std::int32_t duty = job >= 0 ? week.plan.placements[static_cast<std::size_t>(job)].duty : -1;
    if (duty >= 0)
        return desk::nurseOfDuty(week, duty);
    for (std::size_t d = 0; d < week.problem.duties.size(); ++d)
        if (desk::dayOfDuty(week, static_cast<std::int32_t>(d)) == on)
            return desk::nurseOfDuty(week, static_cast<std::int32_t>(d));
    return {};
}

// Today where the week holds it, else the chosen visit's day.
Date dayOf(const desk::WeekPicture &week, std::int32_t job) {
    const Date today = week.agency->today();
    const std::int32_t duty = job >= 0 ? week.plan.placements[static_cast<std::size_t>(job)].duty : -1;
    return week.week.contains(today) ? today
           : duty >= 0               ? desk::dayOfDuty(week, duty)
                                     : week.week.from.plusDays(1);
}

QString draftHead() {
    return QObject::tr("Taking this plan changes the draft; it is published by its own step.");
}

} // namespace

void CalendarPage::callOut() {
    if (!isAtRest())
        return;
    const desk::WeekPicturePtr week = draft_.shared();
    const Date on = isDayShown() ? day_->day() : dayOf(*week, currentJob());
    const auto out = askCallOut(this, session(), *week, nurseOf(*week, currentJob(), on), on);
    if (!out)
        return;
    RepairDialog dialog(
        session(), week, tr("A nurse calls out"), tr("&Take and publish this plan"),
        [week, out](std::stop_token stop) { return desk::repairCallOut(*week, *out, stop); }, this);
    dialog.setHead(tr("Taking this plan publishes it at once, and the absence is put on record."));
    if (dialog.exec() != QDialog::Accepted || !dialog.repaired())
        return;
    const desk::WeekPicturePtr after = dialog.repaired()->after;
    const desk::Desk::CallOutRecord record{out->nurse, out->on, out->from, out->kind, {}, out->lastDay};
    const bool done = session().writeOrTell(this, tr("Mended the %1 after a call-out").arg(weeksText()),
                                            [&](desk::Desk &d) -> Result<std::vector<Plan>> {
                                                const auto records = desk::planRecords(*after);
                                                if (!records)
                                                    return records.error();
                                                return d.acceptCallOut(record, *records);
                                            });
    if (done) {
        offerPatientCallsOnceRead();
        shownDay_ = isDayShown() ? day_->day() : shownWeek().from;
        draft_.step(tr("Mend after a call-out"), after);
        draft_.setSaved();
        showPicture();
    }
}

void CalendarPage::offerPatientCallsOnceRead() {
    connect(&session(), &Session::agencyChanged, this, &CalendarPage::offerPatientCalls,
            static_cast<Qt::ConnectionType>(Qt::QueuedConnection | Qt::SingleShotConnection));
}

// Whoever has gone on to something else meanwhile is not stopped there: it is said at the foot, and Today
// has the line.
void CalendarPage::offerPatientCalls() {
    const desk::AgencyPtr agency = session().agency();
    if (!agency || session().isReadOnly())
        return;
    const std::size_t homes = desk::patientCalls(*agency).size();
    if (homes == 0)
        return;
    const QString text = desk::toPhoneText(homes);
    if (!isVisible() || QApplication::activeModalWidget()) {
        Q_EMIT said(text);
        return;
    }
    if (Ask::confirm(this, tr("Phone the homes now?"),
                     tr("%1. In the list each home stands with what to say; write down there who was "
                        "reached. Later it is under Today.")
                         .arg(text),
                     tr("Open the call list"), tr("Later")))
        Q_EMIT phoneAsked();
}

void CalendarPage::overrun() {
    if (!isAtRest())
        return;
    const std::int32_t job = currentJob();
    const desk::WeekPicturePtr week = draft_.shared(); // whose number the visit has, whatever comes meanwhile
    const desk::OverrunAsk ask = desk::overrunAsk(*week, job);
    if (!ask.refusal.isEmpty()) {
        Ask::tell(this, tr("The visit runs over"), ask.refusal);
        return;
    }
    const auto typed = Ask::line(this, tr("The visit runs over"), ask.question, QStringLiteral("30"));
    if (!typed)
        return;
    const std::int64_t minutes = numberIn(*typed).value_or(0);
    if (minutes <= 0 || minutes > 480) {
        Ask::tell(this, tr("The visit runs over"), tr("Type the minutes as a whole number from 1 to 480."));
        return;
    }
    RepairDialog dialog(
        session(), week, tr("The visit runs over"), tr("&Take this plan"),
        [week, job, minutes](std::stop_token stop) {
            return desk::repairOverrun(*week, job, Minutes::of(minutes), stop);
        },
        this);
    dialog.setHead(draftHead());
    if (dialog.exec() == QDialog::Accepted && dialog.repaired()) {
        const desk::WeekPicturePtr after = dialog.repaired()->after;
        draft_.step(tr("Mend after a longer visit"), after);
        chooseJob(desk::sameJob(*week, job, *after));
    }
}

void CalendarPage::mend() {
    if (!isAtRest())
        return;
    const desk::WeekPicturePtr week = draft_.shared();
    RepairDialog dialog(
        session(), week, tr("Mend the plan"), tr("&Take this plan"),
        [week](std::stop_token stop) { return desk::repairToRecords(*week, stop); }, this);
    dialog.setHead(draftHead());
    if (dialog.exec() == QDialog::Accepted && dialog.repaired())
        draft_.step(tr("Mend the plan"), dialog.repaired()->after);
}

void CalendarPage::swapDays() {
    if (!isAtRest())
        return;
    const desk::WeekPicturePtr week = draft_.shared();
    const Date on = isDayShown() ? day_->day() : dayOf(*week, currentJob());
    const auto offer = askSwap(this, session(), *week, nurseOf(*week, currentJob(), on), on);
    if (!offer)
        return;
    const QString meaning = desk::swapLines(*week, *offer).join(QStringLiteral("; "));
    draft_.step(tr("Swap two nurses' days"), offer->after, desk::movedToOtherRounds(*week, *offer->after));
    Q_EMIT said(tr("Swapped: %1").arg(meaning));
}

void CalendarPage::showChanges() {
    if (!draft_.isOpen())
        return;
    RepairDialog(session(), draft_.shared(), desk::changesSincePublished(draft_.picture()), this).exec();
}

void CalendarPage::comparePlans() {
    if (!draft_.isOpen())
        return;
    auto versions = session().desk().planVersions(shownWeek().from);
    if (!versions) {
        Ask::problem(this, versions.error());
        return;
    }
    std::optional<desk::LaidPlan> before;
    if (const desk::WeekPicturePtr picture = draft_.beforeLastStep())
        before = desk::planBeforeStep(picture, shownWeek(), draft_.stack()->undoText());
    CompareDialog(session(), draft_.shared(), shownWeek(), !draft_.isChanged(), *std::move(versions),
                  std::move(before), this)
        .exec();
}

} // namespace kitround::ui
