#include "ui/people/LogTab.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/people/DrainEntryForm.h"
#include "ui/people/LogChart.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/FormParts.h"

#include <QCheckBox>
#include <QLabel>

namespace kitround::ui {
namespace {

constexpr int kMomentWidth = 150; // "Tue 24 Nov 10:30" is never cut

QString symptomsText(const DrainEntry &entry) {
    QStringList words;
    for (const Symptom s : entry.symptoms)
        words << desk::words(s);
    return words.join(QStringLiteral(", "));
}

QString whenText(const DrainEntry &entry) {
    return entry.timeIsKnown ? desk::momentText(entry.at) : desk::dayText(entry.at.date);
}

std::vector<RowsColumn<DrainEntry>> columns() {
    return {
        {.head = QObject::tr("When"),
         .text = whenText,
         .sortBy =
             [](const DrainEntry &e) {
                 return QVariant(qlonglong(e.at.date.dayNumber() * 1440 + e.at.minute.count()));
             }},
        {.head = QObject::tr("What"),
         .text =
             [](const DrainEntry &e) {
                 return e.isVoid ? QObject::tr("%1 (struck out)").arg(desk::words(e.outcome))
                                 : desk::words(e.outcome);
             },
         .ink = [](const DrainEntry &e) { return e.isVoid ? std::optional(Role::FaintInk) : std::nullopt; }},
        {.head = QObject::tr("Volume, mL"),
         .text =
             [](const DrainEntry &e) { return e.volume ? desk::numberText(e.volume->count()) : notKnown(); },
         .sortBy = [](const DrainEntry &e) { return QVariant(qlonglong(e.volume ? e.volume->count() : -1)); },
         .isNumber = true},
        {.head = QObject::tr("Signs"), .text = symptomsText, .tip = symptomsText},
        {.head = QObject::tr("Told by"), .text = [](const DrainEntry &e) { return desk::words(e.source); }},
        {.head = QObject::tr("Note"),
         .text = [](const DrainEntry &e) { return QString::fromStdString(e.note).simplified(); },
         .tip = [](const DrainEntry &e) { return QString::fromStdString(e.note); }},
    };
}

} // namespace

LogTab::LogTab(Session &session, QWidget *parent) : RecordTab(session, parent), model_(columns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *which = new QHBoxLayout; // what is shown, above what can be done with it: both are read whole
    auto *row = new QHBoxLayout;
    makeControls(which, row);
    layout->addLayout(which);
    layout->addLayout(row);
    callBox_ = new QLabel(this);
    callBox_->setObjectName(QStringLiteral("callBox"));
    callBox_->setAccessibleDescription(tr("What to call about"));
    callBox_->setWordWrap(true);
    callBox_->setMargin(Look::kBetween);
    callBox_->setAutoFillBackground(true);
    callBox_->setFrameShape(QFrame::Box);
    callBox_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    callBox_->hide();
    layout->addWidget(callBox_);
    chart_ = new LogChart(this);
    layout->addWidget(chart_);
    table_ = new DenseTable(QStringLiteral("logTable"), tr("Drain log"), this);
    table_->setModel(new RowsProxy(&model_, this));
    table_->keepReadable(0, kMomentWidth);
    layout->addWidget(table_, 1);
    connect(table_, &DenseTable::opened, this, &LogTab::correct);
    connect(table_, &DenseTable::currentRowChanged, this, [this] {
        const bool mayChange = current() && !current()->isVoid && !this->session().isReadOnly();
        correct_->setEnabled(mayChange);
        strike_->setEnabled(mayChange);
    });
}

void LogTab::makeControls(QHBoxLayout *which, QHBoxLayout *row) {
    catheters_ = new QComboBox(this);
    catheters_->setObjectName(QStringLiteral("logCatheter"));
    catheters_->setAccessibleName(tr("Catheter"));
    catheters_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    which->addWidget(catheters_);
    connect(catheters_, &QComboBox::activated, this, &LogTab::showEntries);
    log_ = addButton(row, QStringLiteral("logDrain"), tr("Log a drain…"), [this] { log(); });
    correct_ = addButton(row, QStringLiteral("logCorrect"), tr("Correct…"), [this] { correct(); });
    strike_ = addButton(row, QStringLiteral("logStrike"), tr("Strike out…"), [this] { strikeOut(); });
    row->addStretch(1);
    which->addStretch(1);
    whole_ = new QCheckBox(tr("Whole log, with what was struck out"), this);
    whole_->setObjectName(QStringLiteral("logWhole"));
    which->addWidget(whole_);
    connect(whole_, &QCheckBox::toggled, this, &LogTab::showEntries);
}

void LogTab::fill() {
    if (shown_ != patientId()) {
        callBox_->hide();
        whole_->setChecked(false);
    }
    fillCatheters();
    shown_ = patientId();
    showEntries();
}

void LogTab::fillCatheters() {
    const qint64 before = shown_ == patientId() ? catheters_->currentData().toLongLong() : 0;
    catheters_->clear();
    for (const Catheter *c : session().agency()->index().cathetersOf(patientId()))
        catheters_->addItem(c->removedAt ? tr("%1 (out)").arg(desk::catheterText(*c))
                                         : desk::catheterText(*c),
                            static_cast<qlonglong>(c->id.value()));
    catheters_->setCurrentIndex(std::max(0, catheters_->findData(static_cast<qlonglong>(before))));
    catheters_->setEnabled(catheters_->count() > 1);
}

CatheterId LogTab::catheter() const {
    return CatheterId(catheters_->currentData().toLongLong());
}

const DrainEntry *LogTab::current() const {
    const int row = table_->currentSourceRow();
    return row >= 0 && row < model_.rowCount() ? &model_.row(row) : nullptr;
}

void LogTab::showEntries() {
    if (!session().isOpen() || !session().agency())
        return;
    const SnapshotIndex &index = session().agency()->index();
    std::vector<DrainEntry> entries;
    if (whole_->isChecked()) {
        const auto all = session().desk().wholeLog(catheter());
        if (!all)
            Ask::problem(this, all.error());
        else
            entries = *all;
    } else {
        const auto loaded = index.entriesOf(catheter());
        entries.assign(loaded.begin(), loaded.end());
    }
    std::ranges::stable_sort(entries, std::greater(), &DrainEntry::at); // the newest first
    model_.setRows(std::move(entries));
    table_->fitColumns(5);
    const DrainOrder *order = index.orderInForce(catheter(), session().today());
    chart_->show(desk::logPoints(*session().agency(), catheter()),
                 order ? order->mostPerSession : std::nullopt, session().today());
    log_->setEnabled(!session().isReadOnly()); // without a catheter it says what comes first
    correct_->setEnabled(false);
    strike_->setEnabled(false);
}

void LogTab::log() {
    if (!catheter().isSet()) {
        Ask::tell(this, tr("Log a drain"), tr("Add the catheter first, under Catheters and orders."));
        return;
    }
    if (const auto raised = logDrain(this, session(), patientId(), catheter(), nullptr))
        showRaised(*raised);
}

void LogTab::correct() {
    const DrainEntry *entry = current();
    if (!entry || entry->isVoid || session().isReadOnly())
        return;
    const DrainEntry old = *entry;
    if (const auto raised = logDrain(this, session(), patientId(), old.catheter, &old))
        showRaised(*raised);
}

void LogTab::strikeOut() {
    const DrainEntry *entry = current();
    if (!entry)
        return;
    const DrainEntryId id = entry->id;
    const auto why =
        Ask::line(this, tr("Strike out the drain of %1").arg(whenText(*entry)),
                  tr("Why? The entry is kept, marked as struck out; its supplies are given back."));
    if (why)
        session().writeOrTell(this, tr("Struck out a drain"),
                              [&](desk::Desk &d) { return d.voidDrain(id, why->trimmed().toStdString()); });
}

void LogTab::showRaised(const std::vector<CallItem> &raised) {
    callBox_->setVisible(!raised.empty());
    if (raised.empty())
        return;
    QStringList texts;
    for (const CallItem &item : raised)
        texts << QStringLiteral("%1: %2").arg(desk::words(item.urgency), desk::cautionText(item));
    const QString text = tr("Stored. Call about this:\n%1").arg(texts.join(QStringLiteral("\n\n")));
    QPalette p = callBox_->palette();
    p.setColor(QPalette::Window, Look::colour(Role::ActGround));
    callBox_->setPalette(p);
    Look::setInk(callBox_, Role::Act);
    callBox_->setFont(Look::strongFont());
    callBox_->setText(text);
    Ask::tell(this, tr("Call about this drain"), text);
}

} // namespace kitround::ui
