// The part of the calendar page that shows how the plan in hand stands, and puts it on paper.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/PlanCautions.h"
#include "core/desk/views/PlanState.h"
#include "core/desk/views/ShownWeek.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "ui/calendar/CalendarPage.h"
#include "ui/calendar/DayLines.h"
#include "ui/calendar/DayPanel.h"
#include "ui/calendar/DaySheetsForm.h"
#include "ui/calendar/FindField.h"
#include "ui/calendar/ReasonsPanel.h"
#include "ui/calendar/StatusLine.h"
#include "ui/calendar/WeekGrid.h"
#include "ui/shared/Ask.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/Look.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QApplication>
#include <QComboBox>
#include <QLabel>
#include <QPushButton>
#include <QStackedWidget>
#include <QToolButton>

#include <algorithm>
#include <utility>

namespace kitround::ui {

// A visit that was chosen stays chosen, whatever number it has in a newer picture.
void CalendarPage::carryChoice() {
    const desk::WeekPicturePtr before = std::exchange(numbered_, draft_.shared());
    for (CardArea *cards : {static_cast<CardArea *>(grid_), static_cast<CardArea *>(day_->lines())})
        if (before && numbered_)
            cards->renumber(desk::sameJob(*before, cards->currentJob(), *numbered_));
        else
            cards->forget();
}

void CalendarPage::showReasonsAnew() {
    if (reasons_->isHidden())
        return;
    const bool hadFocus = reasons_->isAncestorOf(QApplication::focusWidget());
    const Visit *over = chosenOver();
    if (const std::int32_t job = currentJob(); job >= 0 || over) {
        if (over)
            reasons_->showOver(draft_.picture(), *over);
        else
            reasons_->show(draft_.picture(), job);
        if (hadFocus && !reasons_->isAncestorOf(QApplication::focusWidget()))
            reasons_->takeFocus(); // what had it was made anew
        return;
    }
    reasons_->clear();
    if (hadFocus)
        area()->setFocus(Qt::OtherFocusReason);
    if (!area()->isMouseDown())
        showSide(false);
}

void CalendarPage::showPicture() {
    const bool isOpen = draft_.isOpen();
    carryChoice();
    for (QWidget *widget :
         std::initializer_list<QWidget *>{back_, forward_, asDay_, weeks_, find_, save_, publish_, plan_})
        widget->setEnabled(isOpen && !planner_);
    // Their room is needed to tell how planning goes.
    for (QWidget *widget : std::initializer_list<QWidget *>{back_, forward_, save_, publish_})
        widget->setVisible(!planner_);
    layHead();
    for (QAction *a : pageActions())
        a->setEnabled(isOpen && !planner_);
    // What is worked out may be left for another week.
    const bool mayGo = !planner_ && session().agency() != nullptr;
    for (QWidget *widget : std::initializer_list<QWidget *>{back_, forward_})
        widget->setEnabled(mayGo);
    for (QAction *a : {stepBack_, stepForward_})
        a->setEnabled(mayGo);
    nameActions();
    if (!isOpen) {
        status_->clear();
        status_->setToolTip({});
        showEmpty(session().isOpen() ? tr("Working out what this week owes…") : tr("No file is open."));
        showSide(false);
        return;
    }
    const desk::WeekPicture &week = draft_.picture();
    const DateRange shown = shownWeek();
    showHead(shown, desk::weeksIn(week));
    if (week.problem.nurses.empty()) {
        status_->clear();
        status_->setToolTip({});
        showEmpty(
            tr("No nurse yet. Add nurses with their shifts under Nurses; visits due come from the visit "
               "orders in the patients' records. Then plan the week here."),
            tr("Enter nurses"), QStringLiteral("nurses"));
        return;
    }
    showEmpty({});
    desk::WeekBoard board = desk::boardOf(week, shown);
    const double mainNurseShare = board.mainNurseShare;
    const std::size_t unplaced = board.tray.size();
    grid_->setPlanning(planner_ != nullptr);
    day_->lines()->setPlanning(planner_ != nullptr);
    grid_->setBoard(std::move(board), session().today(), desk::dayMarks(week, shown));
    if (isDayShown())
        day_->show(draft_.shared(), shownDay_.value_or(shown.from));
    showReasonsAnew();
    tellFound();
    showStatus(unplaced, mainNurseShare);
}

void CalendarPage::showHead(DateRange shown, int weeks) {
    const QString weekTitle = tr("Week of %1").arg(desk::dayText(shown.from, session().today()));
    setTitle(isDayShown() ? desk::dayText(shownDay_.value_or(shown.from), session().today())
             : weeks == 1 ? weekTitle
                          : tr("%1 (%2 of %3)")
                                .arg(weekTitle)
                                .arg((shown.from - draft_.picture().week.from).count() / 7 + 1)
                                .arg(weeks));
    asDay_->setChecked(isDayShown());
}

void CalendarPage::nameActions() {
    const bool isDay = isDayShown();
    const QString back = isDay ? tr("One day back") : tr("One week back"),
                  forward = isDay ? tr("One day on") : tr("One week on");
    stepBack_->setText(back);
    stepForward_->setText(forward);
    for (const auto &[button, text] : {std::pair(back_, back), std::pair(forward_, forward)}) {
        button->setToolTip(text);
        button->setAccessibleName(text);
    }
    const QString keys = QStringLiteral("\tAlt+%1");
    moves_[0]->setText((isDay ? tr("Visit a quarter of an hour earlier") : tr("Visit to an earlier day")) +
                       keys.arg(tr("Left")));
    moves_[1]->setText((isDay ? tr("Visit a quarter of an hour later") : tr("Visit to a later day")) +
                       keys.arg(tr("Right")));
    moves_[2]->setText(tr("Visit to a nurse above") + keys.arg(tr("Up")));
    moves_[3]->setText(tr("Visit to a nurse below") + keys.arg(tr("Down")));
    printDay_->setText(isDay && draft_.isOpen()
                           ? tr("Print day s&heets for %1…")
                                 .arg(desk::dayText(shownDay_.value_or(shownWeek().from), session().today()))
                           : tr("Print day s&heets…"));
}

void CalendarPage::showStatus(std::size_t unplaced, double mainNurseShare) {
    const desk::WeekPicture &week = draft_.picture();
    const int weeks = desk::weeksIn(week);
    const double cost = week.evaluation.parts.total();
    const QString due = desk::visitsCountText(week);
    const QStringList broken = desk::brokenRules(week);
    // What has to be acted on first, what may be cut last.
    std::vector<StatusLine::Part> bits;
    const bool isAlarm = !planner_; // while it is planned the faults are being worked on
    const auto add = [&bits](const QString &text, bool isFault = false) { bits.push_back({text, isFault}); };
    add(weeks == 1 ? due : tr("%1 in %2 weeks").arg(due).arg(weeks));
    if (unplaced > 0)
        add(desk::notPlacedText(week, static_cast<std::int64_t>(unplaced)), isAlarm);
    else if (!week.due.empty())
        add(tr("all placed"));
    if (!broken.isEmpty())
        add(desk::counted(broken.size(), tr("1 rule broken"), tr("%1 rules broken")), isAlarm);
    for (const QString &state : desk::planStateTexts(week, shownWeek().from, draft_.isChanged()))
        add(state);
    add(desk::weightedMinutesText(cost));
    if (const QString gap = gapText(cost, unplaced == 0); !gap.isEmpty())
        add(gap);
    if (2 * unplaced <= week.due.size() &&
        !week.due.empty()) // of a plan that is hardly there it says nothing
        add(tr("main nurse %1 % since %2")
                .arg(static_cast<int>(mainNurseShare * 100 + 0.5))
                .arg(desk::dayText(caseload::continuityDays(shownWeek()).from)));
    status_->setParts(bits, inOneLine({QString(), QString()}));
    // Which rules, and what the weighted minutes are, has no room in it.
    status_->setToolTip(
        (broken + QStringList{desk::costText(week.evaluation.parts), desk::weightedMinutesMeaning(),
                              tr("Main nurse: the share of a patient's visits she made and makes, mean over "
                                 "the patients.")})
            .join(u'\n'));
    Look::setInk(status_, Role::FaintInk);
    const bool mayWrite = !session().isReadOnly() && !planner_;
    save_->setEnabled(mayWrite && draft_.isChanged());
    publish_->setEnabled(mayWrite); // what stands against it is said where it is pressed
    publish_->setToolTip(
        !broken.isEmpty()
            ? (QStringList{tr("Not to be published: the plan breaks a rule.")} + broken).join(u'\n')
        : isPublishedAsItStands() ? tr("Nothing changed since it was published.")
                                  : publishText());
}

QString CalendarPage::inOneLine(const QStringList &bits) {
    return bits.join(QStringLiteral("  ·  "));
}

bool CalendarPage::isPublishedAsItStands() const {
    if (draft_.isChanged())
        return false;
    const DateRange all = draft_.picture().week;
    for (Date from = all.from; from < all.to; from = from.plusDays(7))
        if (!desk::isPlanPublished(*draft_.picture().agency, from))
            return false;
    return true;
}

// The panel's room is taken from the cards: it opens and closes only once the mouse has let go and no double
// click may follow, so that nothing else comes under the pointer.
void CalendarPage::showReasons(int job) {
    const Visit *over = job < 0 ? chosenOver() : nullptr;
    const bool isWanted = draft_.isOpen() && (job >= 0 || over);
    if (over)
        reasons_->showOver(draft_.picture(), *over);
    else if (isWanted)
        reasons_->show(draft_.picture(), job);
    else
        reasons_->clear();
    tellFound();
    sideTimer_.stop();
    if (area()->isMouseDown())
        return;
    if (!isWanted && reasons_->isAncestorOf(QApplication::focusWidget()))
        area()->setFocus(Qt::OtherFocusReason); // never to what happens to stand beside it
    showSide(isWanted);
}

void CalendarPage::leaveReasons() {
    sideTimer_.stop();
    takeFocus();
    showSide(false);
}

void CalendarPage::told(int step) {
    QUndoStack *stack = draft_.stack();
    if (stack->count() == 0) // another picture; what was said of the last one is over
        Q_EMIT said(session().lastWritten().isEmpty() ? QString()
                                                      : tr("Last: %1").arg(session().lastWritten()));
    else if (step < lastStep_)
        Q_EMIT said(tr("Undone: %1").arg(stack->text(step)));
    else if (step > 0)
        Q_EMIT said(tr("Done: %1").arg(stack->text(step - 1)));
    lastStep_ = step;
}

void CalendarPage::printWeek() {
    offerPaper(this, session(), desk::weekPaper(draft_.picture()));
}

void CalendarPage::printDaySheets() {
    const Date today = session().today();
    const desk::WeekPicturePtr week = draft_.shared(); // the records may be read anew while it is asked
    SheetsWanted wanted;
    if (isDayShown()) {
        wanted.on = day_->day();
    } else {
        std::vector<Date> days;
        const DateRange shown = shownWeek();
        // Nobody drives a day that is over; of weeks that are, all, for the record.
        for (Date day = shown.contains(today) ? today : shown.from; day < shown.to; day = day.plusDays(1))
            days.push_back(day);
        const auto asked = askDaySheets(this, session(), days);
        if (!asked)
            return;
        wanted = *asked;
        if (!wanted.on) {
            offerPaper(this, session(), desk::daySheetsFrom(*week, days.front(), wanted.nurse));
            return;
        }
    }
    desk::Paper sheets =
        wanted.nurse ? desk::daySheet(*week, *wanted.nurse, *wanted.on) : desk::daySheets(*week, *wanted.on);
    sheets.title = tr("%1 for %2").arg(sheets.title, desk::dayText(*wanted.on, today));
    sheets.subtitle.clear(); // the day is in the title now, which is the dialog's too
    offerPaper(this, session(), sheets);
}

} // namespace kitround::ui
