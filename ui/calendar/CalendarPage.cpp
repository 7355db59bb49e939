#include "ui/calendar/CalendarPage.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "ui/calendar/DayLines.h"
#include "ui/calendar/DayPanel.h"
#include "ui/calendar/PlanTrace.h"
#include "ui/calendar/ReasonsPanel.h"
#include "ui/calendar/VisitForm.h"
#include "ui/calendar/WeekGrid.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/Look.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QAction>
#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QStackedWidget>
#include <QToolButton>

namespace kitround::ui {

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

    for (CardArea *area : {static_cast<CardArea *>(grid_), static_cast<CardArea *>(day_->lines())})
        area->setHinter([this](std::int32_t job, const CardDrop &drop) {
            const desk::MoveOffer offer =
                desk::offerMove(draft_.picture(), job, *drop.nurse, drop.on, drop.start);
            return DropHint{offer.summary, offer.isAllowed()};
        });
    const auto moveTo = [this](int job, qint64 nurse, qint64 day, int start) {
        move(job, NurseId(nurse), Date::fromDayNumber(day),
             start >= 0 ? std::optional(Minutes::of(start)) : std::nullopt);
    };
    const auto activate = [this](int job) {
        showReasons(job);
        reasons_->setFocus();
    };
    connect(grid_, &WeekGrid::currentChanged, this, &CalendarPage::showReasons);
    connect(grid_, &WeekGrid::activated, this, activate);
    connect(grid_, &WeekGrid::moveAsked, this, moveTo);
    connect(grid_, &WeekGrid::removalAsked, this, &CalendarPage::takeOut);
    connect(grid_, &WeekGrid::dayAsked, this, [this](qint64 day) { showDay(Date::fromDayNumber(day)); });
    connect(day_, &DayPanel::currentChanged, this, &CalendarPage::showReasons);
    connect(day_, &DayPanel::activated, this, activate);
    connect(day_, &DayPanel::moveAsked, this, moveTo);
    connect(day_, &DayPanel::removalAsked, this, &CalendarPage::takeOut);
    connect(reasons_, &ReasonsPanel::moveAsked, this, moveTo);
    connect(reasons_, &ReasonsPanel::removalAsked, this, &CalendarPage::takeOut);
    connect(reasons_, &ReasonsPanel::locksAsked, this, [this](int job, bool day, bool nurse, bool time) {
        draft_.step(tr("Lock a visit"), desk::withLocks(draft_.picture(), job, {day, nurse, time}));
    });
    connect(reasons_, &ReasonsPanel::patientAsked, this, &Page::showPatient);
    connect(reasons_, &ReasonsPanel::closeVisitAsked, this, &CalendarPage::closeVisit);
    connect(reasons_, &ReasonsPanel::dropAsked, this, &CalendarPage::dropVisit);
    connect(&draft_, &WeekDraft::changed, this, &CalendarPage::showPicture);
    connect(&this->session(), &Session::computed, this, &CalendarPage::sessionComputed);
    connect(&this->session(), &Session::closed, this, [this] {
        delete planner_;
        delete opener_;
        delete bounder_;
        shownDay_.reset();
        draft_.open(nullptr);
    });
    showPicture();
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
    back_ = step(QStringLiteral("weekBack"), QStringLiteral("back"), tr("Before"));
    forward_ = step(QStringLiteral("weekForward"), QStringLiteral("forward"), tr("After"));
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
    weeks_ = new QComboBox(this);
    weeks_->setObjectName(QStringLiteral("weeksTogether"));
    weeks_->setAccessibleName(tr("Weeks planned together"));
    weeks_->setToolTip(tr("Weeks planned together: spacing, evenness and deliveries are weighed over all"));
    weeks_->addItem(tr("1 week"));
    for (int n = 2; n <= desk::kMostWeeks; ++n)
        weeks_->addItem(tr("%1 weeks").arg(n));
    head()->addWidget(weeks_);
    connect(weeks_, &QComboBox::activated, this, [this](int index) { setWeeks(index + 1); });
    status_ = new QLabel(this);
    status_->setObjectName(QStringLiteral("planStatus"));
    head()->addWidget(status_, 1);
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
                               auto run) { addPageAction(text, keys, this, run)->setObjectName(objectName); };
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
    action(QStringLiteral("actionBefore"), tr("&Before"), QKeySequence(Qt::CTRL | Qt::Key_PageUp),
           [this] { goBy(-1); });
    action(QStringLiteral("actionAfter"), tr("&After"), QKeySequence(Qt::CTRL | Qt::Key_PageDown),
           [this] { goBy(1); });
    action(QStringLiteral("actionWeeks"), tr("&One or more weeks together"),
           QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_W),
           [this] { setWeeks(weeksAsked_ % desk::kMostWeeks + 1); });
    action(QStringLiteral("actionCallOut"), tr("A nurse calls &out…"), QKeySequence(Qt::CTRL | Qt::Key_U),
           [this] { callOut(); });
    action(QStringLiteral("actionOverrun"), tr("The chosen visit &runs over…"), {}, [this] { overrun(); });
    action(QStringLiteral("actionMend"), tr("&Mend the plan after changes"),
           QKeySequence(Qt::CTRL | Qt::Key_M), [this] { mend(); });
    action(QStringLiteral("actionSwap"), tr("S&wap two nurses' days…"), {}, [this] { swapDays(); });
    action(QStringLiteral("actionChanges"), tr("What &changed since publishing…"), {},
           [this] { showChanges(); });
    action(QStringLiteral("actionPrintWeek"), tr("Print the &week…"), QKeySequence::Print,
           [this] { printWeek(); });
    action(QStringLiteral("actionPrintDay"), tr("Print day sheets for the next &day…"), {},
           [this] { printDaySheets(); });
}

bool CalendarPage::isDayShown() const {
    return views_->currentWidget() == day_;
}

std::int32_t CalendarPage::currentJob() const {
    return isDayShown() ? day_->lines()->currentJob() : grid_->currentJob();
}

void CalendarPage::chooseJob(int job) {
    if (isDayShown()) {
        day_->setCurrentJob(job);
        showReasons(job);
    } else {
        grid_->setCurrentJob(job);
    }
}

void CalendarPage::setDayShown(bool isDay) {
    if (!draft_.isOpen())
        return;
    const desk::WeekPicture &week = draft_.picture();
    const std::int32_t job = currentJob();
    if (isDay && !(shownDay_ && week.week.contains(*shownDay_))) {
        // The chosen visit's day, else today where the week holds it, else the week's first working day.
        const std::int32_t duty = job >= 0 ? week.plan.placements[static_cast<std::size_t>(job)].duty : -1;
        const Date today = session().today();
        shownDay_ = duty >= 0                   ? desk::dayOfDuty(week, duty)
                    : week.week.contains(today) ? today
                                                : week.week.from.plusDays(1);
    }
    views_->setCurrentWidget(isDay ? static_cast<QWidget *>(day_) : grid_);
    showPicture();
    if (job >= 0)
        chooseJob(job);
    takeFocus();
}

void CalendarPage::showDay(Date day) {
    if (draft_.isOpen() && draft_.picture().week.contains(day)) {
        shownDay_ = day;
        setDayShown(true);
    } else {
        views_->setCurrentWidget(day_);
        showWeek(day);
    }
}

void CalendarPage::goBy(int steps) {
    if (!draft_.isOpen() || planner_)
        return;
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
    if (grid_->currentJob() < 0 && !grid_->board().rows.empty())
        for (const desk::BoardRow &row : grid_->board().rows)
            for (const desk::BoardDay &day : row.days)
                if (!day.cards.empty()) {
                    grid_->setCurrentJob(day.cards.front().job);
                    showSide(false); // chosen for the keyboard only; nobody asked for reasons yet
                    return;
                }
}

void CalendarPage::showWeek(Date anyDay) {
    if (!mayLeaveDraft())
        return;
    shownDay_ = anyDay;
    draft_.stack()->clear();
    openShownWeek();
}

void CalendarPage::openShownWeek() {
    delete opener_;
    opener_ = BackgroundJob::start(
        this,
        [agency = session().agency(), stock = session().stock(), day = *shownDay_,
         weeks = weeksAsked_](std::stop_token, const ProgressSink &) {
            return desk::openWeek(agency, day, stock ? &stock->refills : nullptr, weeks);
        },
        [this](Result<desk::WeekPicturePtr> week) {
            if (!week) {
                weeksAsked_ = draft_.isOpen() ? desk::weeksIn(draft_.picture()) : 1;
                weeks_->setCurrentIndex(weeksAsked_ - 1);
                Ask::problem(this, week.error());
            } else {
                delete bounder_;
                draft_.open(*week);
            }
        });
}

void CalendarPage::sessionComputed() {
    if (hasUnsavedDraft() || planner_) {
        Q_EMIT said(tr("The records changed. Save or undo the draft to see the week with them."));
        return;
    }
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
    delete bounder_;
    draft_.open(isThisWeek ? session().thisWeek() : session().nextWeek());
}

void CalendarPage::showPicture() {
    const bool isOpen = draft_.isOpen();
    for (QWidget *widget :
         std::initializer_list<QWidget *>{back_, forward_, asDay_, weeks_, save_, publish_, plan_})
        widget->setEnabled(isOpen && !planner_);
    // Their room is needed to tell how planning goes.
    for (QWidget *widget : std::initializer_list<QWidget *>{back_, forward_, asDay_, weeks_, save_, publish_})
        widget->setVisible(!planner_);
    for (QAction *a : pageActions())
        a->setEnabled(isOpen && !planner_);
    if (!isOpen) {
        showEmpty(session().isOpen() ? tr("Working out what this week owes…") : tr("No file is open."));
        showSide(false);
        return;
    }
    const desk::WeekPicture &week = draft_.picture();
    const DateRange shown = shownWeek();
    const int weeks = desk::weeksIn(week);
    const QString weekTitle = tr("Week of %1").arg(desk::dayText(shown.from, session().today()));
    setTitle(isDayShown() ? desk::dayText(shownDay_.value_or(shown.from), session().today())
             : weeks == 1 ? weekTitle
                          : tr("%1 (%2 of %3)")
                                .arg(weekTitle)
                                .arg((shown.from - week.week.from).count() / 7 + 1)
                                .arg(weeks));
    asDay_->setChecked(isDayShown());
    if (week.problem.nurses.empty()) {
        showEmpty(
            tr("No nurse yet. Add nurses with their shifts under Nurses; visits due come from the visit "
               "orders in the patients' records. Then plan the week here."));
        return;
    }
    showEmpty({});
    const std::int32_t current = currentJob();
    desk::WeekBoard board = desk::boardOf(week, shown);
    const int mainNurse = static_cast<int>(board.mainNurseShare * 100 + 0.5);
    const auto unplaced = board.tray.size();
    grid_->setBoard(std::move(board), session().today());
    if (isDayShown())
        day_->show(draft_.shared(), shownDay_.value_or(shown.from));
    if (current >= 0 && currentJob() == current && reasons_->isVisible())
        reasons_->show(week, current);
    const rounds::CostParts &parts = week.evaluation.parts;
    const QString due = desk::visitsText(static_cast<std::int64_t>(week.due.size()));
    QStringList bits;
    bits << (weeks == 1 ? due : tr("%1 in %2 weeks").arg(due).arg(weeks));
    bits << (unplaced == 0 ? tr("all placed") : tr("%1 not placed").arg(unplaced));
    QStringList costBits{tr("cost %1").arg(static_cast<qlonglong>(parts.total() + 0.5))};
    if (const QString gap = gapText(parts.total()); !gap.isEmpty())
        costBits << gap;
    if (unplaced < week.due.size())
        bits << tr("main nurse %1 %").arg(mainNurse);
    if (!week.evaluation.broken.empty())
        bits << tr("%1 rules broken").arg(week.evaluation.broken.size());
    if (draft_.isChanged())
        bits << tr("not saved");
    const QString dot = QStringLiteral("  ·  ");
    status_->setText(bits.join(dot) + u'\n' + costBits.join(dot));
    status_->setToolTip(status_->text()); // a small window cuts its end
    QPalette ink = palette();
    ink.setColor(QPalette::WindowText, Look::colour(unplaced > 0 ? Role::Act : Role::FaintInk));
    status_->setPalette(ink);
    publish_->setToolTip(publishText());
    const bool mayWrite = !session().isReadOnly() && !planner_;
    save_->setEnabled(mayWrite && draft_.isChanged());
    publish_->setEnabled(mayWrite && week.evaluation.broken.empty());
}

void CalendarPage::showReasons(int job) {
    showSide(job >= 0 && draft_.isOpen());
    if (job >= 0 && draft_.isOpen())
        reasons_->show(draft_.picture(), job);
}

void CalendarPage::move(int job, NurseId nurse, Date on, std::optional<Minutes> start) {
    if (planner_)
        return;
    const desk::MoveOffer offer = desk::offerMove(draft_.picture(), job, nurse, on, start);
    if (!offer.isAllowed()) {
        Q_EMIT said(tr("Not moved: %1").arg(offer.summary));
        return;
    }
    draft_.step(tr("Move a visit"), offer.after);
    chooseJob(job);
    Q_EMIT said(tr("Moved: %1").arg(offer.summary));
}

void CalendarPage::takeOut(int job) {
    if (planner_ || !draft_.picture().plan.placements[static_cast<std::size_t>(job)].isPlaced())
        return;
    const desk::MoveOffer offer = desk::offerRemoval(draft_.picture(), job);
    if (!offer.isAllowed()) {
        Q_EMIT said(tr("Not taken out: %1").arg(offer.summary));
        return;
    }
    draft_.step(tr("Take a visit out"), offer.after);
    chooseJob(job);
}

void CalendarPage::printWeek() {
    offerPaper(this, session(), desk::weekPaper(draft_.picture()));
}

void CalendarPage::printDaySheets() {
    const Date tomorrow = session().today().plusDays(1);
    const DateRange week = draft_.picture().week;
    offerPaper(this, session(),
               desk::daySheets(draft_.picture(), week.contains(tomorrow) ? tomorrow : week.from));
}

void CalendarPage::closeVisit(int job) {
    const Visit &visit = draft_.picture().due[static_cast<std::size_t>(job)].visit;
    const Patient *patient = session().agency()->index().patient(visit.patient);
    recordVisit(this, session(), visit, patient ? desk::personName(*patient) : QString());
}

bool CalendarPage::isAtRest() const {
    return draft_.isOpen() && !planner_ && !opener_;
}

void CalendarPage::dropVisit(int job) {
    if (!isAtRest() || session().isReadOnly())
        return;
    if (hasUnsavedDraft()) {
        Q_EMIT said(tr("Save or undo the draft first: a visit is called off in the records themselves."));
        return;
    }
    const Visit visit = draft_.picture().due[static_cast<std::size_t>(job)].visit;
    const auto why = Ask::line(this, tr("Call off for good"), desk::callOffText());
    if (!why)
        return;
    const Patient *patient = session().agency()->index().patient(visit.patient);
    session().writeOrTell(
        this, tr("Called off a visit to %1").arg(patient ? desk::personName(*patient) : QString()),
        [&](desk::Desk &desk) { return desk.dropVisit(visit, why->trimmed().toStdString()); });
}

} // namespace kitround::ui
