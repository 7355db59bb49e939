// The part of the calendar page that plans, saves and publishes.
#include "core/desk/views/HandMoves.h"
#include "core/desk/views/PlanCautions.h"
#include "core/desk/views/PublishNews.h"
#include "core/desk/views/ShownWeek.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "ui/calendar/CalendarPage.h"
#include "ui/calendar/CardArea.h"
#include "ui/calendar/PlanTrace.h"
#include "ui/calendar/StatusLine.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/Session.h"

#include <QLabel>
#include <QProgressBar>
#include <QPushButton>

#include <algorithm>
#include <cmath>
#include <set>

namespace kitround::ui {
namespace {

// Work limit of one run of the planner; seconds are only a guard for slow machines.
constexpr std::int64_t kIterations = 60000;
constexpr int kSearches = 2; // side by side; always two, so that every machine finds the same plan
constexpr double kSecondsGuard = 60;
// For the bound; a week too large for a bound worth telling in this time is told beside the best seen.
constexpr int kBoundRounds = 400;
constexpr double kBoundSeconds = 6;
constexpr double kGapWorthTelling = 50; // per cent

} // namespace

QString CalendarPage::weeksText() const {
    const desk::WeekPicture &week = draft_.picture();
    const QString from = desk::dayText(week.week.from);
    return desk::weeksIn(week) == 1 ? tr("week of %1").arg(from)
                                    : tr("%1 weeks from %2").arg(desk::weeksIn(week)).arg(from);
}

QString CalendarPage::publishText() const {
    return tr("Publish %1").arg(weeksText());
}

void CalendarPage::plan() {
    if (!draft_.isOpen() || planner_)
        return;
    const std::optional<bool> keep = askToKeep(draft_.movedByHand());
    if (keep && draft_.isOpen() && !planner_) // the records may have been read anew meanwhile
        startPlanning(draft_.movedByHand(), *keep);
}

std::optional<bool> CalendarPage::askToKeep(const std::vector<std::int32_t> &byHand) {
    const auto count = static_cast<std::int64_t>(std::ranges::count_if(
        byHand, [this](std::int32_t job) { return desk::canBeHeld(draft_.picture(), job); }));
    if (count == 0)
        return false;
    const auto step = Ask::choose(
        this, tr("Plan the week"),
        desk::counted(count,
                      tr("1 visit stands where you moved it by hand. Planning may move it again, unless it "
                         "keeps its place."),
                      tr("%1 visits stand where you moved them by hand. Planning may move them again, unless "
                         "they keep their places.")),
        {tr("Keep what I moved by hand (%1)").arg(desk::visitsText(count)), tr("Plan everything anew")});
    return step ? std::optional(*step == 0) : std::nullopt;
}

void CalendarPage::startPlanning(const std::vector<std::int32_t> &byHand, bool keep) {
    rounds::SolveOptions options;
    options.seed = static_cast<std::uint64_t>(draft_.picture().seed);
    options.iterations = kIterations * desk::weeksIn(draft_.picture());
    options.threads = kSearches;
    options.seconds = kSecondsGuard;
    planner_ = BackgroundJob::start(
        this,
        [week = draft_.shared(), kept = keep ? byHand : std::vector<std::int32_t>(),
         options](std::stop_token stop, const ProgressSink &progress) -> Result<desk::WeekPicturePtr> {
            if (kept.empty())
                return desk::planWeek(*week, options, stop, progress);
            const auto planned = desk::planWeek(*desk::heldInPlace(*week, kept), options, stop, progress);
            if (!planned)
                return planned.error();
            return desk::withLocksOf(**planned, *week);
        },
        [this, byHand](Result<desk::WeekPicturePtr> planned) {
            planner_ = nullptr;
            planEnded();
            if (!planned) {
                Ask::problem(this, planned.error());
                return;
            }
            takePlanned(*planned, byHand);
            if (isVisible() && !area()->hasFocus())
                takeFocus();
        });
    connect(planner_, &BackgroundJob::progressed, this,
            [this](double share, const QString &, double cost, int open) {
                progress_->setValue(static_cast<int>(share * 1000));
                trace_->add(cost, open);
                seekLeastCost(cost);
                QStringList bits{
                    tr("Best so far: %1, %2 not placed").arg(desk::weightedMinutesText(cost)).arg(open)};
                if (const QString gap = gapText(cost, open == 0); !gap.isEmpty())
                    bits << gap;
                status_->setText(inOneLine(bits));
            });
    showPlanning();
}

void CalendarPage::showPlanning() {
    progress_->setValue(0);
    progress_->show();
    trace_->start();
    trace_->show();
    stop_->show();
    stop_->setFocus();
    showPicture();
    status_->setText(tr("Planning…"));
    status_->setToolTip({}); // it was about the plan before
}

// Once for a week, beside the planning: a picture that is opened anew forgets it.
void CalendarPage::seekLeastCost(double planCost) {
    if (bounder_ || draft_.leastCost())
        return;
    bounder_ = BackgroundJob::start(
        this,
        [week = draft_.shared(), planCost](std::stop_token stop, const ProgressSink &) {
            return desk::leastCost(*week, planCost, {.rounds = kBoundRounds, .seconds = kBoundSeconds}, stop);
        },
        [this](std::optional<double> cost) {
            bounder_ = nullptr;
            draft_.setLeastCost(cost);
        });
}

QString CalendarPage::gapText(double cost, bool isWhole) const {
    if (const auto least = draft_.leastCost(); least && cost > 0) {
        const double percent = *least > 0 ? 100 * (cost - *least) / *least : 100;
        if (percent < kGapWorthTelling)
            return percent < 0.05 ? desk::provenText(isWhole)
                                  : tr("within %1 % of the best possible, often nearer")
                                        .arg(percent, 0, 'f', percent < 10 ? 1 : 0);
    }
    if (const auto best = draft_.bestSeen(); best && cost > *best + 0.5)
        return tr("%1 more than the best seen here").arg(desk::numberText(std::llround(cost - *best)));
    return {};
}

void CalendarPage::planEnded() {
    const bool isInSight = isVisible(); // else the keys are wanted elsewhere
    if (isInSight)
        takeFocus(); // before the button that has it goes
    progress_->hide();
    trace_->hide();
    stop_->hide();
    showPicture();
    if (isInSight)
        takeFocus();
}

void CalendarPage::takePlanned(const desk::WeekPicturePtr &planned, const std::vector<std::int32_t> &byHand) {
    const desk::WeekPicture &before = draft_.picture();
    if (desk::isNoBetter(*planned, before)) {
        Q_EMIT said(tr("Planned again: nothing better was found, the plan stays as it was."));
        return;
    }
    const std::int64_t undone = desk::standElsewhere(before, *planned, byHand);
    draft_.step(tr("Plan the week"), planned);
    const QString weight = desk::weightedMinutesText(planned->evaluation.parts.total());
    const auto open = static_cast<qlonglong>(desk::unplacedJobs(*planned).size());
    QString text = open == 0 ? tr("Planned: %1, all placed").arg(weight)
                             : tr("Planned: %1, %2 not placed").arg(weight, desk::numberText(open));
    if (undone > 0)
        text += desk::counted(
            undone, tr("; 1 visit that you moved by hand stands elsewhere now: Ctrl+Z puts the plan back"),
            tr("; %1 visits that you moved by hand stand elsewhere now: Ctrl+Z puts the plan back"));
    Q_EMIT said(text);
}

// False where the plan may not be published, or the person goes back.
bool CalendarPage::confirmPublish() {
    const desk::WeekPicture &week = draft_.picture();
    if (const QStringList broken = desk::brokenRules(week); !broken.isEmpty()) {
        Ask::tell(this, tr("Not published"),
                  (QStringList{tr("The plan breaks a rule. The cards that break one are marked.")} + broken)
                      .join(u'\n'));
        return false;
    }
    std::set<NurseId> nurses;
    std::int64_t visits = 0;
    for (const rounds::Placement &placed : week.plan.placements)
        if (placed.isPlaced()) {
            ++visits;
            nurses.insert(desk::nurseOfDuty(week, placed.duty));
            if (placed.secondDuty >= 0)
                nurses.insert(desk::nurseOfDuty(week, placed.secondDuty));
        }
    const QString what =
        tr("%1, %2").arg(desk::visitsText(visits), desk::counted(static_cast<std::int64_t>(nurses.size()),
                                                                 tr("1 nurse"), tr("%1 nurses")));
    const auto news = desk::publishNews(week);
    QStringList lines{
        news && news->isAgain
            ? what + u'.'
            : tr("%1. From now on changes to these visits are listed, so that you can tell nurses "
                 "and patients.")
                  .arg(what)};
    if (news)
        lines << desk::publishNewsLines(*news);
    if (const auto open = static_cast<std::int64_t>(desk::unplacedJobs(week).size()); open > 0)
        lines << desk::counted(open, tr("1 visit is not placed. It stays due and under Today."),
                               tr("%1 visits are not placed. They stay due and under Today."));
    lines << desk::undecidedLeave(week) << desk::publishCautions(week);
    return Ask::confirm(this, publishText() + u'?', lines.join(u'\n'), publishText(), tr("Go back"));
}

void CalendarPage::accept(bool publish) {
    if (!draft_.isOpen() || planner_)
        return;
    const desk::WeekPicturePtr picture = draft_.shared(); // the records may be read anew while it is asked
    const desk::WeekPicture &week = *picture;
    const QString name = weeksText();
    if (publish && isPublishedAsItStands() && desk::brokenRules(week).isEmpty()) {
        Q_EMIT said(tr("Nothing changed since it was published."));
        return;
    }
    if (publish && !confirmPublish())
        return;
    const QString what =
        publish ? tr("Published the %1").arg(name) : tr("Saved the draft of the %1").arg(name);
    const bool done = session().writeOrTell(this, what, [&](desk::Desk &desk) -> Result<std::vector<Plan>> {
        const auto records = desk::planRecords(week);
        if (!records)
            return records.error();
        return desk.acceptPlans(*records, publish);
    });
    if (done) {
        if (publish)
            offerPatientCallsOnceRead();
        shownDay_ = shownWeek().from;
        draft_.setSaved();
        showPicture();
    }
}

} // namespace kitround::ui
