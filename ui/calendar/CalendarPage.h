#pragma once
// The caseload calendar: plan the week, move visits by hand, save a draft, publish, print.
#include "ui/calendar/WeekDraft.h"
#include "ui/shared/Page.h"

#include <QPointer>
#include <QTimer>

#include <array>

class QAction;
class QComboBox;
class QLabel;
class QProgressBar;
class QStackedWidget;
class QPushButton;
class QToolButton;

namespace kitround::ui {

class BackgroundJob;
class CardArea;
class DayPanel;
class FindField;
class PlanTrace;
class ReasonsPanel;
class StatusLine;
class WeekGrid;

class CalendarPage : public Page {
    Q_OBJECT
public:
    explicit CalendarPage(Session &session, QWidget *parent = nullptr);
    ~CalendarPage() override;

    QUndoStack *undoStack() override { return draft_.stack(); }
    bool hasUnsavedDraft() const override { return draft_.isOpen() && draft_.isChanged(); }
    std::optional<DateRange> unsavedWeeks() const { // of the draft that others cannot see yet
        return hasUnsavedDraft() ? std::optional(draft_.picture().week) : std::nullopt;
    }
    void takeFocus() override;
    void showWeek(Date anyDay);
    void leadTo(Date anyDay); // its week, unless that is shown already, or a week is being planned
    void showDay(Date day);   // of any week

Q_SIGNALS:
    void phoneAsked(); // the list of homes to be phoned about visits that changed

protected:
    void resizeEvent(QResizeEvent *event) override;

private:
    void openWeekOf(Date anyDay); // whatever becomes of the draft
    void switchView(bool isDay);
    Date dayToShow() const; // where the day view starts from the week
    void makeHead();
    void makeStatus(); // how the plan stands, and what is done with it
    void makeActions();
    void connectCards();
    void connectReasons();
    void openShownWeek(); // in the background, for weeks the session did not open
    void sessionComputed();
    void showPicture();
    void carryChoice();     // to the picture that is shown next
    void showReasonsAnew(); // where they are open: of the visit that is chosen now, or they close
    void showHead(DateRange shown, int weeks);
    void showStatus(std::size_t unplaced, double mainNurseShare);
    static QString inOneLine(const QStringList &bits);
    void nameActions(); // a day's or a week's
    void showReasons(int job);
    void leaveReasons();
    void told(int step);    // what the draft's step was, undone or done, at the foot
    CardArea *area() const; // the grid or the lines, as shown
    void chooseJob(int job);
    std::int32_t currentJob() const;
    bool isDayShown() const;
    void setDayShown(bool isDay);
    void goBy(int steps);        // weeks, or days in the day view
    void goOnOpening(int steps); // from a week that is still being worked out
    void nameAsked();            // the week or the day, in the head, until it is there
    void dropOpener();           // its answer is not wanted any more; nobody waits for it
    void stayWithWeek();         // that is shown; the one asked for does not come
    void tellRecordsChanged();   // under a draft, which stays as it is
    DateRange shownWeek() const; // of the draft's
    void setWeeks(int weeks);    // how many are planned together
    bool mayLeaveDraft();
    void moveTo(int job, qint64 nurse, qint64 dayNumber, int startMinute); // -1: the best time
    void move(int job, NurseId nurse, Date on, std::optional<Minutes> start);
    void takeOut(int job);
    void unlockAndMove(int job, const desk::Suggestion &place);
    void plan();
    // Whether what was moved by hand keeps its place; nothing where the person goes back.
    std::optional<bool> askToKeep(const std::vector<std::int32_t> &byHand);
    void startPlanning(const std::vector<std::int32_t> &byHand, bool keep);
    void showPlanning();
    void planEnded();
    void takePlanned(const desk::WeekPicturePtr &planned, const std::vector<std::int32_t> &byHand);
    QString weeksText() const; // "week of Sun 6 Dec"
    QString publishText() const;
    bool isPublishedAsItStands() const;
    bool confirmPublish();
    void seekLeastCost(double planCost);
    // How far from the best at most, or empty; `isWhole`: every visit has its place.
    QString gapText(double cost, bool isWhole) const;
    void accept(bool publish);
    void printWeek();
    void printDaySheets();
    void makeFinding();
    void layHead();          // what the find field needs room for gives way where there is little
    void findNext(int step); // of what is typed; 0: the first, or the one that is chosen already
    void tellFound();
    const Visit *chosenOver() const; // nullptr where none is chosen that is over
    void recordOver(VisitId visit);
    void showCardMenu(const QPoint &where);
    void closeVisit(int job); // -1: the one that is over
    void dropVisit(int job);
    bool isAtRest() const; // open, and neither planned nor read anew: what is shown is what is on record
    void callOut();
    void offerPatientCallsOnceRead(); // what was published just now
    void offerPatientCalls();
    void overrun();
    void mend();
    void swapDays();
    void showChanges();
    void comparePlans();

    WeekDraft draft_;
    desk::WeekPicturePtr numbered_; // whose numbers of visits the cards hold
    QStackedWidget *views_;
    WeekGrid *grid_;
    DayPanel *day_;
    ReasonsPanel *reasons_;
    QToolButton *back_, *forward_, *asDay_;
    QComboBox *weeks_;
    FindField *find_;
    StatusLine *status_;
    std::array<QAction *, 4> moves_{}; // earlier, later, up, down
    QAction *stepBack_ = nullptr, *stepForward_ = nullptr, *printDay_ = nullptr;
    QTimer sideTimer_; // no double click may follow any more
    int lastStep_ = 0;
    QProgressBar *progress_;
    PlanTrace *trace_;
    QPushButton *plan_, *stop_, *save_, *publish_;
    QPointer<BackgroundJob> planner_, opener_, bounder_;
    int weeksAsked_ = 1;
    std::optional<Date>
        shownDay_; // any day of the week that is shown (the day view's own); none: no week yet
};

} // namespace kitround::ui
