#include "ui/calendar/ReasonsPanel.h"

#include "core/desk/views/PlanAsStored.h"
#include "core/desk/views/VisitCards.h"
#include "ui/calendar/WrappedButton.h"
#include "ui/shared/Look.h"

#include <QCheckBox>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QVBoxLayout>

namespace kitround::ui {

ReasonsPanel::ReasonsPanel(QWidget *parent) : QWidget(parent) {
    setObjectName(QStringLiteral("reasonsPanel"));
    setAccessibleName(tr("Reasons for the selected visit"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    title_ = new QLabel(this);
    title_->setFont(Look::strongFont());
    title_->setWordWrap(true);
    title_->setObjectName(QStringLiteral("reasonsTitle"));
    layout->addWidget(title_);
    area_ = new QScrollArea(this);
    area_->setWidgetResizable(true);
    area_->setFrameShape(QFrame::NoFrame);
    area_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    contentHost_ = new QWidget(area_);
    content_ = new QVBoxLayout(contentHost_);
    content_->setContentsMargins(0, 0, Look::kInside, 0);
    content_->setSpacing(4);
    area_->setWidget(contentHost_);
    layout->addWidget(area_, 1);

    auto *locks = new QHBoxLayout;
    locks->addWidget(new QLabel(tr("Lock"), this));
    const auto lock = [&](const QString &objectName, const QString &text) {
        auto *box = new QCheckBox(text, this);
        box->setObjectName(objectName);
        locks->addWidget(box);
        connect(box, &QCheckBox::clicked, this, [this] {
            Q_EMIT locksAsked(job_, lockDay_->isChecked(), lockNurse_->isChecked(), lockTime_->isChecked());
        });
        return box;
    };
    lockDay_ = lock(QStringLiteral("lockDay"), tr("day"));
    lockNurse_ = lock(QStringLiteral("lockNurse"), tr("nurse"));
    lockTime_ = lock(QStringLiteral("lockTime"), tr("time"));
    locks->addStretch(1);
    layout->addLayout(locks);
    const auto button = [&](const QString &objectName, const QString &text) {
        auto *b = new QPushButton(text, this);
        b->setObjectName(objectName);
        layout->addWidget(b);
        return b;
    };
    close_ = button(QStringLiteral("closeVisit"), tr("Record what happened…"));
    remove_ = button(QStringLiteral("takeOut"), tr("Take out of the plan"));
    drop_ = button(QStringLiteral("dropVisit"), tr("Call off for good…"));
    patient_ = button(QStringLiteral("openPatient"), tr("Open the patient's record"));
    connect(close_, &QPushButton::clicked, this, [this] { Q_EMIT closeVisitAsked(job_); });
    connect(remove_, &QPushButton::clicked, this, [this] { Q_EMIT removalAsked(job_); });
    connect(drop_, &QPushButton::clicked, this, [this] { Q_EMIT dropAsked(job_); });
    connect(patient_, &QPushButton::clicked, this, [this] { Q_EMIT patientAsked(patientId_); });
}

void ReasonsPanel::clear() {
    job_ = -1;
    title_->clear();
    offers_.clear();
    while (QLayoutItem *item = content_->takeAt(0)) {
        delete item->widget();
        delete item;
    }
}

void ReasonsPanel::addHeading(const QString &heading) {
    auto *head = new QLabel(heading, contentHost_);
    head->setFont(Look::strongFont());
    head->setContentsMargins(0, Look::kInside, 0, 0);
    content_->addWidget(head);
}

void ReasonsPanel::addLines(const QString &heading, const QStringList &lines) {
    if (lines.isEmpty())
        return;
    if (!heading.isEmpty())
        addHeading(heading);
    for (const QString &line : lines) {
        auto *label = new QLabel(line, contentHost_);
        label->setWordWrap(true);
        content_->addWidget(label);
    }
}

QPushButton *ReasonsPanel::addOffer(const QString &objectName, const QString &text, const QString &tip) {
    auto *offer = new WrappedButton(text, contentHost_);
    offer->setObjectName(objectName);
    offer->setToolTip(tip);
    content_->addWidget(offer);
    offers_.push_back(offer);
    return offer;
}

// The place, and under it what it means, each in its line.
void ReasonsPanel::addPlaces(const QString &heading, const std::vector<desk::Suggestion> &places) {
    if (places.empty())
        return;
    addHeading(heading);
    for (std::size_t i = 0; i < places.size(); ++i) {
        const desk::Suggestion &place = places[i];
        QPushButton *offer = addOffer(QStringLiteral("suggestion%1").arg(i),
                                      (QStringList{place.text} + place.more).join(u'\n'), place.tip);
        connect(offer, &QPushButton::clicked, this, [this, place] {
            Q_EMIT moveAsked(job_, place.nurse.value(), place.on.dayNumber(),
                             place.start ? static_cast<int>(place.start->count()) : -1);
        });
    }
}

// A lock is let go here; what else stands in the way is changed where it is on record.
void ReasonsPanel::addWaysOut(const std::vector<desk::Suggestion> &ways) {
    if (ways.empty())
        return;
    addHeading(tr("Ways out"));
    for (std::size_t i = 0; i < ways.size(); ++i) {
        const desk::Suggestion &way = ways[i];
        const QString objectName = QStringLiteral("wayOut%1").arg(i);
        if (way.step == desk::WayStep::Unlock) {
            connect(addOffer(objectName, way.text, way.tip), &QPushButton::clicked, this,
                    [this, way] { Q_EMIT unlockAsked(job_, way); });
            continue;
        }
        addLines({}, {way.text});
        content_->itemAt(content_->count() - 1)->widget()->setToolTip(way.tip);
        if (way.step == desk::WayStep::NurseRecord && way.nurse.isSet())
            connect(addOffer(objectName, tr("Open the nurse's record"), {}), &QPushButton::clicked, this,
                    [this, way] { Q_EMIT nurseAsked(way.nurse.value()); });
        else if (way.step == desk::WayStep::PatientRecord)
            connect(addOffer(objectName, tr("Open the patient's record: %1").arg(way.change), {}),
                    &QPushButton::clicked, this, [this] { Q_EMIT patientAsked(patientId_); });
    }
}

void ReasonsPanel::show(const desk::WeekPicture &week, std::int32_t job) {
    clear();
    job_ = job;
    const desk::VisitReasons reasons = desk::reasonsOf(week, job);
    const rounds::Job &j = week.problem.jobs[static_cast<std::size_t>(job)];
    const bool isPlaced = week.plan.placements[static_cast<std::size_t>(job)].isPlaced();
    const Visit &visit = week.due[static_cast<std::size_t>(job)].visit;
    patientId_ = j.patient.value();
    title_->setText(reasons.title);
    addLines({}, reasons.facts);
    addLines(tr("Rules it breaks"), desk::brokenRules(week, job));
    addLines(tr("Why it is not placed"), reasons.why);
    addPlaces(isPlaced ? tr("Other places, the best first") : tr("Places that are free"),
              reasons.alternatives);
    addWaysOut(reasons.waysOut); // exceptions: only where no free place will do
    content_->addStretch(1);
    orderTabs();
    showLocks(reasons, visit, isPlaced);
    showSteps(reasons, visit, isPlaced);
    goToTop(job, {});
}

// All of them always stand where they stood: what cannot be done is grey and says why, and nothing else comes
// under a hand that is on its way.
void ReasonsPanel::showSteps(const desk::VisitReasons &reasons, const Visit &visit, bool isPlaced) {
    const bool isPublished = visit.status == VisitStatus::Published;
    close_->setEnabled(visit.id.isSet() && (isPublished || !isPlaced));
    close_->setToolTip(close_->isEnabled() ? QString()
                       : isPlaced
                           ? tr("What happened is recorded once the plan is published.")
                           : tr("It never stood in a plan and nobody was told of it: there is no visit "
                                "to close. Unplaced when its days are over, it counts as not made."));
    remove_->setEnabled(isPlaced && reasons.noLocks.isEmpty());
    remove_->setToolTip(isPlaced ? reasons.noLocks : tr("It has no place to be taken out of."));
    drop_->setEnabled(visit.order.has_value());
    drop_->setToolTip(visit.order ? QString() : tr("No order owes it: there is none to be made one fewer."));
}

// The next visit is read from its first line on; one that only changed stays where it is read.
void ReasonsPanel::goToTop(std::int32_t job, VisitId over) {
    if (job != lastJob_ || over != lastOver_)
        area_->verticalScrollBar()->setValue(0);
    lastJob_ = job;
    lastOver_ = over;
}

void ReasonsPanel::showOver(const desk::WeekPicture &week, const Visit &visit) {
    clear();
    patientId_ = visit.patient.value();
    const desk::VisitReasons reasons = desk::reasonsOfOver(week, visit);
    title_->setText(reasons.title);
    addLines({}, reasons.facts);
    content_->addStretch(1);
    orderTabs();
    showLocks(reasons, visit, false);
    remove_->setEnabled(false);
    remove_->setToolTip(reasons.noLocks);
    drop_->setEnabled(false);
    drop_->setToolTip(reasons.noLocks);
    close_->setEnabled(!desk::hasHappened(visit.status));
    close_->setToolTip({});
    goToTop(-1, visit.id);
}

// What has no place may only be let go.
void ReasonsPanel::showLocks(const desk::VisitReasons &reasons, const Visit &visit, bool isPlaced) {
    lockDay_->setChecked(visit.dayIsLocked);
    lockNurse_->setChecked(visit.nurseIsLocked);
    lockTime_->setChecked(visit.timeIsLocked);
    for (QCheckBox *box : {lockDay_, lockNurse_, lockTime_}) {
        const bool hasNothing = !isPlaced && !box->isChecked();
        box->setEnabled(!hasNothing && reasons.noLocks.isEmpty());
        box->setToolTip(!reasons.noLocks.isEmpty() ? reasons.noLocks
                        : hasNothing ? tr("Without a place there is nothing to lock the visit to.")
                                     : QString());
    }
}

void ReasonsPanel::takeFocus() {
    QWidget *first = offers_.empty() ? nullptr : offers_.front();
    for (QWidget *step : std::initializer_list<QWidget *>{lockDay_, close_, remove_, patient_})
        if (!first && step->isEnabled())
            first = step;
    if (!first)
        return setFocus(Qt::OtherFocusReason);
    first->show(); // an offer that was made just now is hidden until its layout comes to it
    first->setFocus(Qt::OtherFocusReason);
}

// The offers are made anew for each visit and would come last: they come first, right after the cards.
void ReasonsPanel::orderTabs() {
    area_->setFocusPolicy(offers_.empty() ? Qt::StrongFocus : Qt::ClickFocus);
    QWidget *before = area_;
    for (QPushButton *offer : offers_) {
        setTabOrder(before, offer);
        before = offer;
    }
}

void ReasonsPanel::keyPressEvent(QKeyEvent *event) {
    QScrollBar *bar = area_->verticalScrollBar();
    if (event->key() == Qt::Key_Escape)
        Q_EMIT closeAsked();
    else if (event->key() == Qt::Key_PageUp)
        bar->triggerAction(QAbstractSlider::SliderPageStepSub);
    else if (event->key() == Qt::Key_PageDown)
        bar->triggerAction(QAbstractSlider::SliderPageStepAdd);
    else
        QWidget::keyPressEvent(event);
}

} // namespace kitround::ui
