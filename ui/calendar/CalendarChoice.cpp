// The part of the calendar page that finds visits, and records what happened at the chosen one.
#include "core/desk/views/PlanAsStored.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/VisitFinding.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "ui/calendar/CalendarPage.h"
#include "ui/calendar/DayLines.h"
#include "ui/calendar/DayPanel.h"
#include "ui/calendar/FindField.h"
#include "ui/calendar/WeekGrid.h"
#include "ui/shared/Ask.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/Session.h"
#include "ui/shared/VisitForm.h"

#include <QAction>
#include <QComboBox>
#include <QHBoxLayout>
#include <QMenu>
#include <QToolButton>

#include <optional>

namespace kitround::ui {
namespace {

constexpr int kRoomyHead = 120; // in digits

} // namespace

void CalendarPage::makeFinding() {
    find_ = new FindField(this);
    head()->addWidget(find_, 3);
    connect(find_, &FindField::opened, this, &CalendarPage::layHead);
    connect(find_, &FindField::cardsAsked, this, &CalendarPage::takeFocus);
    connect(find_, &FindField::stepAsked, this, &CalendarPage::findNext);
    connect(find_, &FindField::sought, this, [this] { findNext(0); });
}

void CalendarPage::layHead() {
    const bool isRoomy = width() >= kRoomyHead * fontMetrics().horizontalAdvance(u'0');
    find_->setRoomy(isRoomy);
    find_->setVisible(!planner_);
    weeks_->setVisible(!planner_ && isRoomy); // the menu has it, too
    asDay_->setVisible(!planner_ && (isRoomy || !find_->isOpen()));
}

void CalendarPage::resizeEvent(QResizeEvent *event) {
    Page::resizeEvent(event);
    layHead();
}

void CalendarPage::findNext(int step) {
    if (!draft_.isOpen())
        return;
    const QString text = find_->text();
    for (CardArea *cards : {static_cast<CardArea *>(grid_), static_cast<CardArea *>(day_->lines())})
        cards->setSought(text);
    if (text.isEmpty() && step != 0)
        return find_->open(); // there is nothing to go on to
    if (area()->chooseFound(step))
        showReasonsAnew();
    tellFound();
    if (!text.isEmpty() && area()->foundCount() == 0)
        Q_EMIT said(find_->told());
}

void CalendarPage::tellFound() {
    desk::Found found{area()->foundAt(), area()->foundCount(), isDayShown(), 0};
    if (found.of == 0 && found.isDay)
        found.inWeek = desk::foundInWeek(grid_->board(), find_->text());
    find_->tell(desk::foundText(found, find_->text()));
}

const Visit *CalendarPage::chosenOver() const {
    const VisitId over = area()->currentOver();
    return draft_.isOpen() && over.isSet() ? draft_.picture().agency->index().visit(over) : nullptr;
}

void CalendarPage::showCardMenu(const QPoint &where) {
    const Visit *over = chosenOver();
    if (!over)
        return;
    auto *menu = new QMenu(this);
    menu->setObjectName(QStringLiteral("cardMenu"));
    menu->setAttribute(Qt::WA_DeleteOnClose);
    QAction *record = menu->addAction(tr("&Record what happened…"));
    record->setEnabled(!desk::hasHappened(over->status) && !session().isReadOnly());
    connect(record, &QAction::triggered, this, [this, visit = over->id] { recordOver(visit); });
    QAction *patient = menu->addAction(tr("&Open the patient's record"));
    connect(patient, &QAction::triggered, this,
            [this, id = over->patient] { Q_EMIT showPatient(id.value()); });
    menu->popup(where);
}

// Of the newest records: since the week was opened it may have been recorded elsewhere.
void CalendarPage::recordOver(VisitId id) {
    const desk::AgencyPtr agency = session().agency();
    const Visit *visit = agency && id.isSet() ? agency->index().visit(id) : nullptr;
    if (!visit || session().isReadOnly())
        return;
    if (desk::hasHappened(visit->status)) {
        Q_EMIT said(tr("What happened at this visit is on record already."));
        return;
    }
    const Patient *patient = agency->index().patient(visit->patient);
    if (!recordVisit(this, session(), *visit,
                     patient ? desk::personName(*patient, agency->index()) : QString()))
        return;
    chooseJob(-1); // a second Enter opens nobody else's form
    area()->setFocus(Qt::OtherFocusReason);
}

void CalendarPage::closeVisit(int job) {
    if (job < 0)
        return recordOver(area()->currentOver());
    const Visit &visit = draft_.picture().due[static_cast<std::size_t>(job)].visit;
    const Patient *patient = session().agency()->index().patient(visit.patient);
    if (!recordVisit(this, session(), visit, patient ? desk::personName(*patient) : QString()))
        return;
    chooseJob(-1); // a second Enter opens nobody else's form
    area()->setFocus(Qt::OtherFocusReason);
}

void CalendarPage::dropVisit(int job) {
    if (!isAtRest() || session().isReadOnly())
        return;
    if (hasUnsavedDraft()) {
        Q_EMIT said(tr("Save or undo the draft first: a visit is called off in the records themselves."));
        return;
    }
    const Visit visit = draft_.picture().due[static_cast<std::size_t>(job)].visit;
    const desk::VisitCard card = desk::visitCard(draft_.picture(), job);
    const QString name = tr("%1: %2, %3").arg(card.name, card.kind, card.dueText);
    std::optional<QString> why;
    for (bool isAgain = false; !why || why->trimmed().isEmpty(); isAgain = true) {
        why = Ask::line(this, tr("Call off for good"), desk::callOffText(name, isAgain));
        if (!why)
            return;
    }
    const Patient *patient = session().agency()->index().patient(visit.patient);
    session().writeOrTell(
        this, tr("Called off a visit to %1").arg(patient ? desk::personName(*patient) : QString()),
        [&](desk::Desk &desk) { return desk.dropVisit(visit, why->trimmed().toStdString()); });
}

} // namespace kitround::ui
