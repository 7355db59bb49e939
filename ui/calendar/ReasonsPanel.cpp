#include "ui/calendar/ReasonsPanel.h"

#include "core/desk/views/VisitCards.h"
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
    offers_.clear();
    while (QLayoutItem *item = content_->takeAt(0)) {
        delete item->widget();
        delete item;
    }
}

void ReasonsPanel::addLines(const QString &heading, const QStringList &lines) {
    if (lines.isEmpty())
        return;
    if (!heading.isEmpty()) {
        auto *head = new QLabel(heading, contentHost_);
        head->setFont(Look::strongFont());
        head->setContentsMargins(0, Look::kInside, 0, 0);
        content_->addWidget(head);
    }
    for (const QString &line : lines) {
        auto *label = new QLabel(line, contentHost_);
        label->setWordWrap(true);
        content_->addWidget(label);
    }
}

void ReasonsPanel::addSuggestions(const QString &heading, const std::vector<desk::Suggestion> &suggestions) {
    if (suggestions.empty())
        return;
    addLines(heading, {QString()});
    delete content_->takeAt(content_->count() - 1)->widget();
    for (std::size_t i = 0; i < suggestions.size(); ++i) {
        const desk::Suggestion &s = suggestions[i];
        if (!s.isAllowed) {
            addLines({}, {s.text});
            content_->itemAt(content_->count() - 1)->widget()->setToolTip(s.tip);
            continue;
        }
        // The place, and under it what it means: one line would be cut in a narrow panel.
        auto *step = new QPushButton(QString(s.text)
                                         .replace(QStringLiteral(": "), QStringLiteral("\n"))
                                         .replace(QStringLiteral("; "), QStringLiteral("\n")),
                                     contentHost_);
        step->setToolTip(s.tip);
        step->setObjectName(QStringLiteral("suggestion%1").arg(i));
        step->setStyleSheet(QStringLiteral("text-align: left"));
        connect(step, &QPushButton::clicked, this, [this, s] {
            Q_EMIT moveAsked(job_, s.nurse.value(), s.on.dayNumber(),
                             s.start ? static_cast<int>(s.start->count()) : -1);
        });
        content_->addWidget(step);
        offers_.push_back(step);
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
    addSuggestions(isPlaced ? tr("Other places, the best first") : tr("Places that are free"),
                   reasons.alternatives);
    addSuggestions(tr("Ways out"), reasons.waysOut); // exceptions: only where no free place will do
    content_->addStretch(1);
    orderTabs();
    lockDay_->setChecked(visit.dayIsLocked);
    lockNurse_->setChecked(visit.nurseIsLocked);
    lockTime_->setChecked(visit.timeIsLocked);
    for (QCheckBox *box : {lockDay_, lockNurse_, lockTime_}) {
        box->setEnabled(isPlaced && reasons.noLocks.isEmpty());
        box->setToolTip(reasons.noLocks);
    }
    remove_->setEnabled(isPlaced);
    drop_->setVisible(visit.order.has_value());
    close_->setEnabled(visit.id.isSet() && visit.status == VisitStatus::Published);
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
