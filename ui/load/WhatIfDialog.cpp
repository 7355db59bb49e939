#include "ui/load/WhatIfDialog.h"

#include "core/desk/views/CaseloadView.h"
#include "core/desk/words/Figures.h"
#include "core/desk/words/Words.h"
#include "ui/load/ListParts.h"
#include "ui/load/WhatIfColumns.h"
#include "ui/shared/Ask.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QScreen>
#include <QSpinBox>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

using desk::WhatIfKind;

constexpr std::int64_t kIterations = 2500; // some seconds for a caseload of hundreds

Date dayIn(const QComboBox &days) {
    return Date::fromDayNumber(days.currentData().toLongLong());
}

} // namespace

WhatIfDialog::WhatIfDialog(Session &session, DateRange week, QWidget *parent)
    : QDialog(parent), session_(session), week_(week), lines_(whatIfColumns(tr("The week"))),
      nurses_(whatIfNurseColumns()) {
    setWindowTitle(tr("What if… week of %1").arg(desk::dayText(week.from)));
    build(true);
    showFields();
}

WhatIfDialog::WhatIfDialog(Session &session, Date week, const desk::WhatIfQuestion &asked, QWidget *parent)
    : QDialog(parent), session_(session), week_(desk::weekHolding(*session.agency(), week)),
      lines_(whatIfColumns(tr("The week"))), nurses_(whatIfNurseColumns()), fixed_(asked) {
    setWindowTitle(tr("What if… week of %1").arg(desk::dayText(week_.from)));
    build(false);
    run();
}

WhatIfDialog::WhatIfDialog(Session &session, const KeptWhatIf &kept, const desk::ReopenedWhatIf &again,
                           QWidget *parent)
    : WhatIfDialog(session, again.week, again.question, parent) {
    setWindowTitle(QString::fromStdString(kept.name));
    opening_ = tr("Worked out anew on the records of %1. When it was kept on %2: %3.")
                   .arg(desk::dayText(session.today()), desk::dayText(kept.keptOn),
                        QString::fromStdString(kept.saidThen));
    if (again.isMoved)
        opening_ += QLatin1Char(' ') + tr("The week of %1 is over, so it is asked of the week of %2.")
                                           .arg(desk::dayText(kept.weekStart), desk::dayText(week_.from));
    keep_->hide();
}

void WhatIfDialog::build(bool asks) {
    setObjectName(QStringLiteral("whatIfDialog"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    if (asks)
        buildQuestion(layout);
    buildRun(layout);
    auto *tables = new QHBoxLayout;
    lineTable_ = new DenseTable(QStringLiteral("whatIfTable"), tr("The week before and after"), this);
    lineTable_->setModel(new RowsProxy(&lines_, this));
    nurseTable_ = new DenseTable(QStringLiteral("whatIfNurses"), tr("Nurses before and after"), this);
    nurseTable_->setModel(new RowsProxy(&nurses_, this));
    for (DenseTable *table : {lineTable_, nurseTable_})
        table->fitColumns(0); // the headings are read before there is an answer
    tables->addWidget(lineTable_, 1);
    tables->addWidget(nurseTable_, 1);
    layout->addLayout(tables, 1);
    notes_ = new QLabel(this);
    notes_->setObjectName(QStringLiteral("whatIfNotes"));
    notes_->setWordWrap(true);
    notes_->setFont(Look::smallFont()); // the tables above need the height
    layout->addWidget(notes_);
    auto *buttons = new QHBoxLayout;
    keep_ = new QPushButton(tr("Keep under a name…"), this);
    keep_->setObjectName(QStringLiteral("whatIfKeep"));
    keep_->setEnabled(false);
    auto *close = new QPushButton(tr("Close"), this);
    close->setObjectName(QStringLiteral("whatIfClose"));
    buttons->addStretch(1);
    buttons->addWidget(keep_);
    buttons->addWidget(close);
    layout->addLayout(buttons);
    connect(keep_, &QPushButton::clicked, this, &WhatIfDialog::keep);
    connect(close, &QPushButton::clicked, this, &QDialog::accept);
    connect(&session_, &Session::closed, this, &QDialog::reject);
    // Both tables with their last columns and rows, on a screen of 1280 by 720 too; larger where there is
    // room.
    const QSize room = screen()->availableSize();
    resize(QSize(1240, 690).expandedTo({room.width() * 3 / 4, room.height() * 3 / 4}));
}

QWidget *WhatIfDialog::named(QWidget *widget, const char *name) {
    widget->setObjectName(QString::fromLatin1(name));
    return widget;
}

QComboBox *WhatIfDialog::dayChoice(const char *name) {
    auto *days = new QComboBox(this);
    named(days, name);
    for (Date day = week_.from; day < week_.to; ++day)
        if (day >= session_.today())
            days->addItem(desk::dayText(day), qint64(day.dayNumber()));
    return days;
}

// Two fields in one row: the tables below need the height.
QWidget *WhatIfDialog::sideBySide(QWidget *first, const QString &between, QWidget *second) {
    auto *row = new QWidget(this);
    auto *layout = new QHBoxLayout(row);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(first);
    layout->addWidget(new QLabel(between, row));
    layout->addWidget(second);
    layout->addStretch(1);
    return row;
}

void WhatIfDialog::buildQuestion(QVBoxLayout *to) {
    question_ = new QWidget(this);
    form_ = new QFormLayout(question_);
    form_->setContentsMargins(0, 0, 0, 0);
    form_->setSpacing(Look::kInside);
    kind_ = new QComboBox(this);
    named(kind_, "whatIfKind");
    for (const auto &[kind, words] : {std::pair(WhatIfKind::NurseAway, tr("A nurse is away")),
                                      std::pair(WhatIfKind::NurseAdded, tr("A nurse is added")),
                                      std::pair(WhatIfKind::Referrals, tr("More referrals come")),
                                      std::pair(WhatIfKind::Shift, tr("A shift is changed")),
                                      std::pair(WhatIfKind::Setting, tr("A weight or a rule is changed"))})
        kind_->addItem(words, int(kind));
    form_->addRow(tr("Change"), kind_);
    buildNurse();
    buildReferrals();
    buildDays();
    buildSetting();
    for (QWidget *wide : std::initializer_list<QWidget *>{kind_, nurse_, setting_})
        wide->setMaximumWidth(420);
    alignFields(*form_); // other fields for another change: they all begin at the same place
    to->addWidget(question_);
    watchFields();
}

void WhatIfDialog::buildNurse() {
    const desk::AgencyPtr agency = session_.agency();
    nurse_ = new QComboBox(this);
    named(nurse_, "whatIfNurse");
    const std::vector<NurseId> away = desk::awayAllWeek(*agency, week_);
    const auto isAway = [&](const Choice &choice) {
        return std::ranges::find(away, NurseId(choice.value)) != away.end();
    };
    auto nurses = nurseChoices(agency->snapshot(), {});
    std::ranges::stable_sort(nurses, {}, isAway); // those who work come first
    for (const Choice &choice : nurses)
        nurse_->addItem(isAway(choice) ? tr("%1 (no hours that week)").arg(choice.text) : choice.text,
                        choice.value);
    form_->addRow(tr("Nurse"), nurse_);
}

void WhatIfDialog::buildReferrals() {
    count_ = new QSpinBox(this);
    named(count_, "whatIfCount");
    count_->setRange(1, desk::kMostReferrals);
    count_->setValue(5);
    form_->addRow(tr("Referrals like the usual mix"), count_);
    seed_ = new QSpinBox(this);
    named(seed_, "whatIfSeed");
    seed_->setRange(1, 9999);
    seed_->setToolTip(tr("The same number draws the same patients again; another draws others"));
    for (QSpinBox *narrow : {count_, seed_})
        narrow->setMaximumWidth(220);
    auto *seedRow = new QWidget(this);
    auto *seedLayout = new QHBoxLayout(seedRow);
    seedLayout->setContentsMargins(0, 0, 0, 0);
    seedLayout->addWidget(seed_);
    seedLayout->addWidget(new QLabel(tr("another number draws other patients"), seedRow), 1);
    form_->addRow(tr("Draw number"), seedRow);
    seed_->setAccessibleName(tr("Draw number"));
}

void WhatIfDialog::buildDays() {
    awayFrom_ = dayChoice("whatIfAwayFrom");
    awayFrom_->setAccessibleName(tr("First day away"));
    awayTo_ = dayChoice("whatIfAwayTo");
    awayTo_->setAccessibleName(tr("Last day away"));
    awayTo_->setCurrentIndex(awayTo_->count() - 1);
    awayRow_ = sideBySide(awayFrom_, tr("to the end of"), awayTo_);
    form_->addRow(tr("Away from"), awayRow_);
    day_ = dayChoice("whatIfDay");
    day_->setCurrentIndex(std::min(1, day_->count() - 1));
    day_->setMaximumWidth(220);
    form_->addRow(tr("Day"), day_);
    from_ = new QLineEdit(this);
    named(from_, "whatIfFrom");
    from_->setAccessibleName(tr("Works from"));
    from_->setPlaceholderText(tr("08:00; empty: does not work"));
    from_->setMinimumWidth(220);
    to_ = new QLineEdit(this);
    named(to_, "whatIfTo");
    to_->setAccessibleName(tr("Works until"));
    to_->setPlaceholderText(tr("16:30"));
    hoursRow_ = sideBySide(from_, tr("until"), to_);
    shiftNow_ = new QLabel(hoursRow_);
    named(shiftNow_, "whatIfShiftNow");
    auto *hours = qobject_cast<QHBoxLayout *>(hoursRow_->layout());
    hours->insertWidget(hours->count() - 1, shiftNow_); // before the room that is left
    form_->addRow(tr("Works from"), hoursRow_);
}

void WhatIfDialog::buildSetting() {
    setting_ = new QComboBox(this);
    named(setting_, "whatIfSetting");
    for (const SettingInfo &info : settingTable())
        if (info.group == "plan" || info.group == "visits" || info.group == "travel")
            setting_->addItem(desk::label(info.key), int(info.key));
    form_->addRow(tr("Setting"), setting_);
    value_ = new QLineEdit(this);
    named(value_, "whatIfValue");
    settingNote_ = new QLabel(this);
    auto *valueRow = new QWidget(this);
    auto *valueLayout = new QHBoxLayout(valueRow);
    valueLayout->setContentsMargins(0, 0, 0, 0);
    valueLayout->addWidget(value_);
    valueLayout->addWidget(settingNote_, 1);
    form_->addRow(tr("Value"), valueRow);
    value_->setMaximumWidth(120);
    value_->setAccessibleName(tr("Value"));
}

void WhatIfDialog::showShiftNow() {
    const NurseId nurse(nurse_->currentData().toLongLong());
    shiftNow_->setText(day_->count() > 0 && nurse_->count() > 0
                           ? desk::shiftNowText(*session_.agency(), nurse, dayIn(*day_))
                           : QString());
}

void WhatIfDialog::watchFields() {
    for (QComboBox *box : {nurse_, day_})
        connect(box, &QComboBox::currentIndexChanged, this, &WhatIfDialog::showShiftNow);
    connect(kind_, &QComboBox::currentIndexChanged, this, &WhatIfDialog::showFields);
    connect(setting_, &QComboBox::currentIndexChanged, this, &WhatIfDialog::showFields);
    for (QComboBox *box : {kind_, nurse_, awayFrom_, awayTo_, day_, setting_})
        connect(box, &QComboBox::currentIndexChanged, this, &WhatIfDialog::forgetAnswer);
    for (QSpinBox *box : {count_, seed_})
        connect(box, &QSpinBox::valueChanged, this, &WhatIfDialog::forgetAnswer);
    for (QLineEdit *edit : {from_, to_, value_})
        connect(edit, &QLineEdit::textChanged, this, &WhatIfDialog::forgetAnswer);
}

// An answer stands beside its own question only.
void WhatIfDialog::forgetAnswer() {
    if (!answer_ && !isRefused_)
        return;
    isRefused_ = false;
    answer_.reset();
    keep_->setEnabled(false);
    lines_.setRows({});
    nurses_.setRows({});
    notes_->clear();
    summary_->setText(tr("Not asked yet: plan both to read the answer."));
}

void WhatIfDialog::refuse(const QString &why) {
    isRefused_ = true;
    summary_->setText(why);
}

void WhatIfDialog::buildRun(QVBoxLayout *to) {
    auto *row = new QHBoxLayout;
    run_ = new QPushButton(fixed_ ? tr("Plan both again") : tr("Plan both"), this);
    named(run_, "whatIfRun");
    run_->setDefault(true);
    stop_ = new QPushButton(tr("Stop"), this);
    named(stop_, "whatIfStop");
    progress_ = new QProgressBar(this);
    named(progress_, "whatIfProgress");
    progress_->setRange(0, 1000);
    progress_->setTextVisible(false);
    row->addWidget(run_);
    row->addWidget(stop_);
    progress_->setMaximumWidth(220);
    summary_ = new QLabel(this);
    named(summary_, "whatIfSummary");
    summary_->setFont(Look::strongFont());
    summary_->setWordWrap(true);
    summary_->setText(tr("Choose one change. The week is planned as it is and with the change, on a copy; "
                         "the agency stays as it is."));
    row->addWidget(progress_);
    row->addWidget(summary_, 1);
    to->addLayout(row);
    setRunning(false);
    connect(run_, &QPushButton::clicked, this, &WhatIfDialog::run);
    connect(stop_, &QPushButton::clicked, this, [this] {
        if (job_)
            job_->stop();
        summary_->setText(tr("Stopping…"));
    });
}

void WhatIfDialog::showFields() {
    const auto kind = static_cast<WhatIfKind>(kind_->currentData().toInt());
    const auto shown = [this](QWidget *field, bool on) {
        field->setVisible(on);
        if (QWidget *label = form_->labelForField(field))
            label->setVisible(on);
    };
    shown(nurse_,
          kind == WhatIfKind::NurseAway || kind == WhatIfKind::NurseAdded || kind == WhatIfKind::Shift);
    shown(awayRow_, kind == WhatIfKind::NurseAway);
    shown(count_, kind == WhatIfKind::Referrals);
    shown(seed_->parentWidget(), kind == WhatIfKind::Referrals);
    for (QWidget *field : std::initializer_list<QWidget *>{day_, hoursRow_})
        shown(field, kind == WhatIfKind::Shift);
    showShiftNow();
    shown(setting_, kind == WhatIfKind::Setting);
    shown(value_->parentWidget(), kind == WhatIfKind::Setting);
    if (auto *label = qobject_cast<QLabel *>(form_->labelForField(nurse_)))
        label->setText(kind == WhatIfKind::NurseAdded ? tr("Like") : tr("Nurse"));
    const auto key = static_cast<SettingKey>(setting_->currentData().toInt());
    const SettingInfo &info = infoOf(key);
    const std::int64_t now = session_.agency()->snapshot().settings[key];
    value_->setText(desk::figureText(key, now));
    const QString bounds = tr("now %1, from %2 to %3")
                               .arg(desk::figureText(key, now), desk::figureText(key, info.least),
                                    desk::figureText(key, info.most));
    const QString unit = desk::figureUnit(key, session_.agency()->settings().currency);
    settingNote_->setText(unit.isEmpty() ? bounds : tr("%1; %2").arg(unit, bounds));
}

desk::WhatIfQuestion WhatIfDialog::question() const {
    if (fixed_)
        return *fixed_;
    desk::WhatIfQuestion q;
    q.kind = static_cast<WhatIfKind>(kind_->currentData().toInt());
    q.nurse = NurseId(nurse_->currentData().toLongLong());
    // In mid-week the first day on offer is not the week's first.
    const bool isAllWeek = dayIn(*awayFrom_) == week_.from && awayTo_->currentIndex() == awayTo_->count() - 1;
    if (q.kind == WhatIfKind::NurseAway && !isAllWeek)
        q.away = DateRange{dayIn(*awayFrom_), dayIn(*awayTo_).plusDays(1)};
    q.referrals = count_->value();
    q.seed = static_cast<std::uint64_t>(seed_->value());
    q.on = dayIn(*day_);
    q.from = clockAsTyped(from_->text().trimmed().toStdString());
    q.to = clockAsTyped(to_->text().trimmed().toStdString());
    q.setting = static_cast<SettingKey>(setting_->currentData().toInt());
    if (const auto value = desk::figureFrom(value_->text(), q.setting, "value"))
        q.value = *value;
    return q;
}

bool WhatIfDialog::canReadFields() {
    const auto tellBad = [this](ProblemCode code, const char *field, const QLineEdit *edit) {
        refuse(desk::words(Problem{code, field, {edit->text().toStdString()}}));
        return false;
    };
    const auto kind = static_cast<WhatIfKind>(kind_->currentData().toInt());
    if (nurse_->count() == 0 && kind != WhatIfKind::Referrals && kind != WhatIfKind::Setting) {
        refuse(tr("There is no active nurse to ask about: enter one under Nurses first."));
        return false;
    }
    for (const auto &[edit, field] : {std::pair(from_, "from_time"), std::pair(to_, "to_time")}) {
        const QString text = edit->text().trimmed();
        if (kind == WhatIfKind::Shift && !text.isEmpty() && !clockAsTyped(text.toStdString()))
            return tellBad(ProblemCode::NotATime, field, edit);
    }
    if (kind != WhatIfKind::Setting)
        return true;
    const auto key = static_cast<SettingKey>(setting_->currentData().toInt());
    const auto value = desk::figureFrom(value_->text(), key, "value");
    if (!value)
        refuse(desk::words(value.error()));
    return value.has_value();
}

void WhatIfDialog::run() {
    forgetAnswer();
    if (!fixed_ && !canReadFields())
        return;
    setRunning(true);
    summary_->setText(tr("Planning the week as it is, then with the change…"));
    rounds::SolveOptions options;
    options.iterations = kIterations;
    job_ = BackgroundJob::start(
        this,
        [agency = session_.agency(), stock = session_.stock(), day = week_.from, asked = question(),
         options](std::stop_token stop, const ProgressSink &progress) {
            return desk::askWhatIf(agency, day, stock ? &stock->refills : nullptr, asked, options, stop,
                                   progress);
        },
        [this](Result<desk::WhatIfAnswer> answer) {
            job_ = nullptr;
            setRunning(false);
            answered(std::move(answer));
        });
    connect(job_, &BackgroundJob::progressed, this,
            [this](double share) { progress_->setValue(static_cast<int>(1000 * share)); });
}

void WhatIfDialog::setRunning(bool on) {
    run_->setEnabled(!on);
    if (question_) // an answer stands beside its own question
        question_->setEnabled(!on);
    stop_->setVisible(on);
    progress_->setVisible(on);
    progress_->setValue(0);
}

void WhatIfDialog::answered(Result<desk::WhatIfAnswer> answer) {
    if (!answer) {
        const Problem &problem = answer.error();
        if (problem.code == ProblemCode::Cancelled)
            summary_->setText(tr("Stopped; nothing was compared."));
        else
            refuse(desk::words(problem));
        run_->setFocus(Qt::OtherFocusReason); // not on Close, where the keyboard went meanwhile
        return;
    }
    show(*answer);
    answer_ = std::move(*answer);
    keep_->setEnabled(!session_.isReadOnly());
    keep_->setFocus(Qt::OtherFocusReason);
}

void WhatIfDialog::show(const desk::WhatIfAnswer &answer) {
    summary_->setText(answer.title);
    lines_.setRows(desk::whatIfLines(answer));
    nurses_.setRows(desk::whatIfNurseLines(answer));
    lineTable_->fitColumns(0);
    nurseTable_->fitColumns(0);
    QStringList notes = answer.notes;
    if (!opening_.isEmpty())
        notes.prepend(opening_);
    const QString turn = desk::whatIfTurnNote(answer);
    notes.removeAll(turn); // what is true of every answer goes on in its line: the tables need the height
    const QString always =
        desk::overtimeCountsText() + u' ' +
        tr("Both plans come from the same search with the same work. Nothing in the agency "
           "was changed.");
    notes << (turn.isEmpty() ? always : turn + u' ' + always);
    notes_->setText(notes.join(QLatin1Char('\n')));
}

void WhatIfDialog::keep() {
    QString proposed = desk::freeKeptName(*session_.agency(), answer_->title);
    QString label = tr("Name");
    // A refused name is asked for again, with what was typed and why it was refused.
    while (const auto typed = Ask::line(this, tr("Keep this what-if"), label, proposed)) {
        const QString name = typed->trimmed();
        if (name.isEmpty())
            return;
        const KeptWhatIf kept = desk::keptOf(*answer_, name, session_.today());
        const std::optional<Problem> problem = session_.write(
            tr("Kept the what-if %1").arg(name), [&](desk::Desk &desk) { return desk.save(kept); });
        if (!problem) {
            hasKept_ = true;
            keep_->setEnabled(false);
            summary_->setText(tr("%1. Kept as \"%2\".").arg(answer_->title, name));
            return;
        }
        proposed = name;
        label = desk::words(*problem) + QLatin1Char('\n') + tr("Name");
    }
}

} // namespace kitround::ui
