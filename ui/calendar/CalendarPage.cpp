#include "ui/calendar/CalendarPage.h"

#include "core/desk/views/HandMoves.h"
#include "core/desk/views/ShownWeek.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "ui/calendar/DayLines.h"
#include "ui/calendar/DayPanel.h"
#include "ui/calendar/FindField.h"
#include "ui/calendar/PlanTrace.h"
#include "ui/calendar/ReasonsPanel.h"
#include "ui/calendar/StatusLine.h"
#include "ui/calendar/WeekGrid.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/Look.h"
#include "ui/shared/Session.h"

#include <QAction>
#include <QApplication>
#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QStackedWidget>
#include <QToolButton>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

constexpr int kDoubleClickGrace = 100; // ms; a second click that is a little late is one still

} // namespace

CalendarPage::CalendarPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("calendarPage"), tr("Caseload calendar"), parent), draft_(this) {
    views_ = new QStackedWidget(this);
    grid_ = new WeekGrid(views_);
    day_ = new DayPanel(views_);
    views_->addWidget(grid_);
    views_->addWidget(day_);
    setBody(views_);
    reasons_ = new ReasonsPanel(this);
    setSide(reasons_, 300);
    makeHead();
    makeActions();
    if (auto *title = findChild<QLabel *>(QStringLiteral("pageTitle"))) // the step buttons keep their place
        title->setMinimumWidth(
            title->fontMetrics().horizontalAdvance(tr("Week of %1").arg(tr("Wed 28 Nov"))));

    connectCards();
    connectReasons();
    connect(draft_.stack(), &QUndoStack::indexChanged, this, &CalendarPage::told);
    connect(&draft_, &WeekDraft::changed, this, &CalendarPage::showPicture);
    connect(&this->session(), &Session::computed, this, &CalendarPage::sessionComputed);
    connect(&this->session(), &Session::opened, this, &CalendarPage::showPicture); // the week takes a while
    connect(&this->session(), &Session::closed, this, [this] {
        delete planner_;
        delete opener_;
        delete bounder_;
        shownDay_.reset();
        draft_.open(nullptr);
    });
    showPicture();
}

void CalendarPage::connectCards() {
    for (CardArea *cards : {static_cast<CardArea *>(grid_), static_cast<CardArea *>(day_->lines())}) {
        cards->setHinter([this](std::int32_t job, const CardDrop &drop) {
            const desk::MoveOffer offer =
                desk::offerMove(draft_.picture(), job, *drop.nurse, drop.on, drop.start);
            return DropHint{desk::moveText(draft_.picture(), job, offer), offer.isAllowed()};
        });
        connect(cards, &CardArea::mouseLeft, this,
                [this] { sideTimer_.start(QApplication::doubleClickInterval() + kDoubleClickGrace); });
        connect(cards, &CardArea::escaped, this, [this] {
            find_->leave();
            leaveReasons();
        });
        connect(cards, &CardArea::recordAsked, this, [this](qint64 visit) { recordOver(VisitId(visit)); });
        connect(cards, &CardArea::menuAsked, this, &CalendarPage::showCardMenu);
    }
    sideTimer_.setSingleShot(true);
    connect(&sideTimer_, &QTimer::timeout, this, [this] { showReasons(currentJob()); });
    const auto activate = [this](int job) {
        showReasons(job);
        reasons_->takeFocus();
    };
    connect(grid_, &WeekGrid::currentChanged, this, [this](int job) {
        if (!isDayShown())
            showReasons(job);
    });
    connect(grid_, &WeekGrid::activated, this, activate);
    connect(grid_, &WeekGrid::moveAsked, this, &CalendarPage::moveTo);
    connect(grid_, &WeekGrid::removalAsked, this, &CalendarPage::takeOut);
    connect(grid_, &WeekGrid::dayAsked, this, [this](qint64 day) { showDay(Date::fromDayNumber(day)); });
    connect(day_, &DayPanel::currentChanged, this, &CalendarPage::showReasons);
    connect(day_, &DayPanel::activated, this, activate);
    connect(day_, &DayPanel::moveAsked, this, &CalendarPage::moveTo);
    connect(day_, &DayPanel::removalAsked, this, &CalendarPage::takeOut);
}

void CalendarPage::connectReasons() {
    connect(reasons_, &ReasonsPanel::closeAsked, this, &CalendarPage::leaveReasons);
    connect(reasons_, &ReasonsPanel::moveAsked, this, [this](int job, qint64 nurse, qint64 day, int start) {
        moveTo(job, nurse, day, start);
        takeFocus(); // its button is gone
    });
    connect(reasons_, &ReasonsPanel::unlockAsked, this, [this](int job, const desk::Suggestion &place) {
        unlockAndMove(job, place);
        takeFocus(); // its button is gone
    });
    connect(reasons_, &ReasonsPanel::removalAsked, this, &CalendarPage::takeOut);
    connect(reasons_, &ReasonsPanel::locksAsked, this, [this](int job, bool day, bool nurse, bool time) {
        const desk::Locks locks{day, nurse, time};
        draft_.step(desk::lockName(draft_.picture(), job, locks),
                    desk::withLocks(draft_.picture(), job, locks));
    });
    connect(reasons_, &ReasonsPanel::patientAsked, this, &Page::showPatient);
    connect(reasons_, &ReasonsPanel::nurseAsked, this, &Page::showNurse);
    connect(reasons_, &ReasonsPanel::closeVisitAsked, this, &CalendarPage::closeVisit);
    connect(reasons_, &ReasonsPanel::dropAsked, this, &CalendarPage::dropVisit);
}

CalendarPage::~CalendarPage() = default;

void CalendarPage::makeHead() {
    const auto step = [this](const QString &objectName, const QString &icon, const QString &tip) {
        auto *button = new QToolButton(this);
        button->setObjectName(objectName);
        button->setIcon(Look::icon(icon));
        button->setToolTip(tip);
        button->setAccessibleName(tip);
        button->setMinimumSize(Look::kHit, Look::kHit);
        head()->addWidget(button);
        return button;
    };
    back_ = step(QStringLiteral("weekBack"), QStringLiteral("back"), tr("One week back"));
    forward_ = step(QStringLiteral("weekForward"), QStringLiteral("forward"), tr("One week on"));
    connect(back_, &QToolButton::clicked, this, [this] { goBy(-1); });
    connect(forward_, &QToolButton::clicked, this, [this] { goBy(1); });
    asDay_ = new QToolButton(this);
    asDay_->setObjectName(QStringLiteral("showAsDay"));
    asDay_->setText(tr("Day"));
    asDay_->setCheckable(true);
    asDay_->setToolTip(tr("One day on a time line, with its rounds drawn (Ctrl+D)"));
    asDay_->setMinimumHeight(Look::kHit);
    head()->addWidget(asDay_);
    connect(asDay_, &QToolButton::clicked, this, &CalendarPage::setDayShown);
    connect(views_, &QStackedWidget::currentChanged, this, [this] { asDay_->setChecked(isDayShown()); });
    weeks_ = new QComboBox(this);
    weeks_->setObjectName(QStringLiteral("weeksTogether"));
    weeks_->setAccessibleName(tr("Weeks planned together"));
    weeks_->setToolTip(tr("Weeks planned together: spacing, evenness and deliveries are weighed over all"));
    weeks_->addItem(tr("1 week"));
    for (int n = 2; n <= desk::kMostWeeks; ++n)
        weeks_->addItem(tr("%1 weeks").arg(n));
    head()->addWidget(weeks_);
    connect(weeks_, &QComboBox::activated, this, [this](int index) { setWeeks(index + 1); });
    makeFinding();
    makeStatus();
}

void CalendarPage::makeStatus() {
    // Over the whole width, whatever stands beside the cards: in the head it would be cut.
    status_ = new StatusLine(this);
    status_->setObjectName(QStringLiteral("planStatus"));
    if (auto *column = qobject_cast<QVBoxLayout *>(layout()))
        column->insertWidget(1, status_);
    head()->addStretch(1);
    progress_ = new QProgressBar(this);
    progress_->setObjectName(QStringLiteral("planProgress"));
    progress_->setRange(0, 1000);
    progress_->setTextVisible(false);
    progress_->setFixedWidth(120);
    progress_->hide();
    head()->addWidget(progress_);
    trace_ = new PlanTrace(this);
    trace_->hide();
    head()->addWidget(trace_);
    const auto button = [this](const QString &objectName, const QString &text) {
        auto *b = new QPushButton(text, this);
        b->setObjectName(objectName);
        head()->addWidget(b);
        return b;
    };
    stop_ = button(QStringLiteral("planStop"), tr("Stop, keep the best"));
    stop_->hide();
    save_ = button(QStringLiteral("planSave"), tr("Save draft"));
    publish_ = button(QStringLiteral("planPublish"), tr("Publish"));
    plan_ = setMainAction(QStringLiteral("planWeek"), tr("Plan the week"));
    connect(plan_, &QPushButton::clicked, this, &CalendarPage::plan);
    connect(stop_, &QPushButton::clicked, this, [this] {
        if (planner_)
            planner_->stop();
    });
    connect(save_, &QPushButton::clicked, this, [this] { accept(false); });
    connect(publish_, &QPushButton::clicked, this, [this] { accept(true); });
}

void CalendarPage::makeActions() {
    const auto action = [this](const QString &objectName, const QString &text, const QKeySequence &keys,
                               auto run) {
        QAction *made = addPageAction(text, keys, this, run);
        made->setObjectName(objectName);
        return made;
    };
    action(QStringLiteral("actionPlan"), tr("&Plan the week"), QKeySequence(Qt::CTRL | Qt::Key_R),
           [this] { plan(); });
    action(QStringLiteral("actionSaveDraft"), tr("&Save draft"), QKeySequence::Save,
           [this] { accept(false); });
    action(QStringLiteral("actionPublish"), tr("P&ublish the week"),
           QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_S), [this] { accept(true); });
    action(QStringLiteral("actionThisWeek"), tr("&This week"), QKeySequence(Qt::Key_Home | Qt::CTRL),
           [this] { showWeek(this->session().today()); });
    action(QStringLiteral("actionNextWeek"), tr("&Next week"), QKeySequence(Qt::Key_End | Qt::CTRL),
           [this] { showWeek(desk::nextWeek(*this->session().agency())); });
    action(QStringLiteral("actionDay"), tr("&Day or week"), QKeySequence(Qt::CTRL | Qt::Key_D),
           [this] { setDayShown(!isDayShown()); });
    stepBack_ = action(QStringLiteral("actionBefore"), {}, QKeySequence(Qt::CTRL | Qt::Key_PageUp),
                       [this] { goBy(-1); });
    stepForward_ = action(QStringLiteral("actionAfter"), {}, QKeySequence(Qt::CTRL | Qt::Key_PageDown),
                          [this] { goBy(1); });
    action(QStringLiteral("actionWeeks"), tr("&One or more weeks together"),
           QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_W),
           [this] { setWeeks(weeksAsked_ % desk::kMostWeeks + 1); });
    action(QStringLiteral("actionFind"), tr("&Find a visit"), QKeySequence::Find, [this] { find_->open(); });
    action(QStringLiteral("actionFindNext"), tr("Find ne&xt"), Qt::Key_F3, [this] { findNext(1); });
    action(QStringLiteral("actionFindBefore"), tr("Find pre&vious"), QKeySequence(Qt::SHIFT | Qt::Key_F3),
           [this] { findNext(-1); });
    // Their keys are the cards' own (CardArea); the menu tells them.
    constexpr std::array kSteps{std::pair(-1, 0), std::pair(1, 0), std::pair(0, -1), std::pair(0, 1)};
    for (std::size_t i = 0; i < kSteps.size(); ++i)
        moves_[i] = action(QStringLiteral("actionMove%1").arg(i), {}, {},
                           [this, step = kSteps[i]] { area()->moveBeside(step.first, step.second); });
    action(QStringLiteral("actionCallOut"), tr("&A nurse calls out…"), QKeySequence(Qt::CTRL | Qt::Key_U),
           [this] { callOut(); });
    action(QStringLiteral("actionOverrun"), tr("The chosen visit &runs over…"), {}, [this] { overrun(); });
    action(QStringLiteral("actionMend"), tr("&Mend the plan after changes"),
           QKeySequence(Qt::CTRL | Qt::Key_M), [this] { mend(); });
    action(QStringLiteral("actionSwap"), tr("S&wap two nurses' days…"), {}, [this] { swapDays(); });
    action(QStringLiteral("actionChanges"), tr("What &changed since publishing…"), {},
           [this] { showChanges(); });
    action(QStringLiteral("actionCompare"), tr("Compare p&lans…"), {}, [this] { comparePlans(); });
    action(QStringLiteral("actionPrintWeek"), tr("Print the wee&k…"), QKeySequence::Print,
           [this] { printWeek(); });
    printDay_ = action(QStringLiteral("actionPrintDay"), {}, {}, [this] { printDaySheets(); });
    nameActions();
}

bool CalendarPage::isDayShown() const {
    return views_->currentWidget() == day_;
}

CardArea *CalendarPage::area() const {
    return isDayShown() ? static_cast<CardArea *>(day_->lines()) : grid_;
}

std::int32_t CalendarPage::currentJob() const {
    return area()->currentJob();
}

void CalendarPage::chooseJob(int job) {
    if (isDayShown()) {
        day_->setCurrentJob(job);
        showReasons(job);
    } else {
        grid_->setCurrentJob(job);
    }
}

// The chosen visit's day; else the day that was looked at last, today where the week holds it, or the week's
// first working day. A week that is only opened stands on its first day: that was no choice.
Date CalendarPage::dayToShow() const {
    const desk::WeekPicture &week = draft_.picture();
    const DateRange shown = shownWeek();
    const std::int32_t job = currentJob();
    const std::int32_t duty = job >= 0 ? week.plan.placements[static_cast<std::size_t>(job)].duty : -1;
    if (duty >= 0 && shown.contains(desk::dayOfDuty(week, duty)))
        return desk::dayOfDuty(week, duty);
    const Visit *over = chosenOver();
    if (const auto on = over ? over->day() : std::nullopt; on && shown.contains(*on))
        return *on;
    if (shownDay_ && shown.contains(*shownDay_) && *shownDay_ != shown.from)
        return *shownDay_;
    const Date today = session().today();
    return shown.contains(today) ? today : shown.from.plusDays(1);
}

void CalendarPage::setDayShown(bool isDay) {
    if (!draft_.isOpen()) {
        asDay_->setChecked(isDayShown()); // the click has pressed it already
        return;
    }
    if (isDay && !isDayShown())
        shownDay_ = dayToShow();
    switchView(isDay);
}

void CalendarPage::switchView(bool isDay) {
    const std::int32_t job = currentJob();
    const VisitId over = area()->currentOver();
    views_->setCurrentWidget(isDay ? static_cast<QWidget *>(day_) : grid_);
    showPicture();
    if (area()->holds(job))
        chooseJob(job);
    else if (!area()->chooseOver(over))
        showReasons(-1); // the visit stands on another day
    takeFocus();
}

void CalendarPage::showDay(Date day) {
    if (draft_.isOpen() && draft_.picture().week.contains(day)) {
        shownDay_ = day;
        switchView(true);
    } else if (mayLeaveDraft()) {
        views_->setCurrentWidget(day_);
        openWeekOf(day);
    }
}

void CalendarPage::goBy(int steps) {
    if (planner_ || !session().agency())
        return;
    const bool isOpeningAnother =
        opener_ && shownDay_ && draft_.isOpen() && !draft_.picture().week.contains(*shownDay_);
    if (!draft_.isOpen() || isOpeningAnother) {
        goOnOpening(steps);
        return;
    }
    if (isDayShown()) {
        showDay(day_->day().plusDays(steps));
        return;
    }
    const Date day = shownWeek().from.plusDays(7 * steps);
    if (!draft_.picture().week.contains(day)) {
        showWeek(day);
        return;
    }
    shownDay_ = day;
    showPicture();
    takeFocus();
}

void CalendarPage::goOnOpening(int steps) {
    const int days = draft_.isOpen() && isDayShown() ? 1 : 7;
    const Date from = shownDay_ ? *shownDay_ : desk::firstWeek(*session().agency());
    showWeek(from.plusDays(days * steps));
}

void CalendarPage::nameAsked() {
    if (!shownDay_ || !session().agency())
        return;
    if (isDayShown()) {
        setTitle(desk::dayText(*shownDay_, session().today()));
        return;
    }
    // Every week begins on the weekday of any other.
    const Date any = desk::nextWeek(*session().agency());
    std::int64_t ahead = (*shownDay_ - any).count() % 7;
    if (ahead < 0)
        ahead += 7;
    setTitle(tr("Week of %1").arg(desk::dayText(shownDay_->plusDays(-ahead), session().today())));
}

DateRange CalendarPage::shownWeek() const {
    const desk::WeekPicture &week = draft_.picture();
    return desk::weekHolding(week, shownDay_ && week.week.contains(*shownDay_) ? *shownDay_ : week.week.from);
}

void CalendarPage::setWeeks(int weeks) {
    if (draft_.isOpen() && !planner_ && weeks != weeksAsked_ && mayLeaveDraft()) {
        weeksAsked_ = weeks;
        shownDay_ = shownWeek().from;
        draft_.stack()->clear();
        openShownWeek();
    }
    weeks_->setCurrentIndex(weeksAsked_ - 1);
}

bool CalendarPage::mayLeaveDraft() {
    return !hasUnsavedDraft() ||
           Ask::confirm(this, tr("Leave this draft?"), tr("The changes to this plan are not saved."),
                        tr("Leave them"), tr("Go back"));
}

void CalendarPage::takeFocus() {
    if (isDayShown()) {
        day_->lines()->setFocus(Qt::OtherFocusReason);
        return;
    }
    grid_->setFocus(Qt::OtherFocusReason);
    if (grid_->currentJob() < 0 && !grid_->currentOver().isSet() && !grid_->board().rows.empty())
        for (const desk::BoardRow &row : grid_->board().rows)
            for (const desk::BoardDay &day : row.days)
                if (!day.cards.empty()) {
                    grid_->setCurrentJob(day.cards.front().job);
                    showSide(false); // chosen for the keyboard only; nobody asked for reasons yet
                    return;
                }
}

void CalendarPage::showWeek(Date anyDay) {
    if (mayLeaveDraft())
        openWeekOf(anyDay);
}

void CalendarPage::leadTo(Date anyDay) {
    if (!planner_ && (!draft_.isOpen() || !draft_.picture().week.contains(anyDay)))
        showWeek(anyDay);
}

void CalendarPage::openWeekOf(Date anyDay) {
    draft_.stack()->clear(); // shows the old week once more, which need not hold the new day
    shownDay_ = anyDay;
    openShownWeek();
    nameAsked();
}

void CalendarPage::dropOpener() {
    if (opener_)
        opener_->abandon();
    opener_ = nullptr;
}

void CalendarPage::openShownWeek() {
    dropOpener();
    opener_ = BackgroundJob::start(
        this,
        [agency = session().agency(), stock = session().stock(), day = *shownDay_,
         weeks = weeksAsked_](std::stop_token, const ProgressSink &) {
            return desk::openWeek(agency, day, stock ? &stock->refills : nullptr, weeks);
        },
        [this](Result<desk::WeekPicturePtr> week) {
            opener_ = nullptr;
            if (!week) {
                stayWithWeek();
                Ask::problem(this, week.error());
            } else if (planner_ || (hasUnsavedDraft() && draft_.picture().week == (*week)->week)) {
                stayWithWeek(); // something was moved, or is planned, since it was asked for
                tellRecordsChanged();
            } else {
                delete bounder_;
                if (!draft_.isOpen() || draft_.picture().week != (*week)->week) {
                    grid_->forget();
                    day_->lines()->forget();
                    showSide(false);
                }
                draft_.renew(*week);
            }
        });
}

void CalendarPage::stayWithWeek() {
    weeksAsked_ = draft_.isOpen() ? desk::weeksIn(draft_.picture()) : 1;
    weeks_->setCurrentIndex(weeksAsked_ - 1);
    if (!draft_.isOpen())
        return;
    if (!draft_.picture().week.contains(*shownDay_))
        shownDay_ = draft_.picture().week.from;
    showPicture(); // the head named the one that was asked for
}

void CalendarPage::tellRecordsChanged() {
    Q_EMIT said(tr("The records changed. Save or undo the draft to see the week with them."));
}

void CalendarPage::sessionComputed() {
    if (hasUnsavedDraft() || planner_) {
        tellRecordsChanged();
        return;
    }
    if (!shownDay_)
        shownDay_ = desk::firstWeek(*session().agency());
    const bool isElsewhere = shownDay_ && !session().nextWeek()->week.contains(*shownDay_) &&
                             !session().thisWeek()->week.contains(*shownDay_);
    if (isElsewhere || weeksAsked_ > 1) {
        const DateRange first = draft_.isOpen() ? draft_.picture().week : session().nextWeek()->week;
        if (weeksAsked_ > 1 && (!shownDay_ || first.contains(*shownDay_)))
            shownDay_ = first.from;
        openShownWeek();
        return;
    }
    const bool isThisWeek = shownDay_ && session().thisWeek()->week.contains(*shownDay_);
    dropOpener(); // it would be older
    delete bounder_;
    draft_.renew(isThisWeek ? session().thisWeek() : session().nextWeek());
}

bool CalendarPage::isAtRest() const {
    return draft_.isOpen() && !planner_ && !opener_;
}

} // namespace kitround::ui
