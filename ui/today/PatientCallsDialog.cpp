#include "ui/today/PatientCallsDialog.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"
#include "ui/shared/WrappedLabel.h"
#include "ui/today/PutBackForm.h"

#include <QAbstractProxyModel>
#include <QLabel>
#include <QPushButton>

#include <algorithm>
#include <utility>

namespace kitround::ui {

using desk::PatientCall;
using desk::PatientCallLine;
using desk::RecordedCall;

namespace {

constexpr qint64 kNotChosen = -1; // no call counts by a slip of the Enter key

// In plain ink, for it is dialled and read out; it can be copied.
QLabel *readOut(const QString &text) {
    auto *label = new WrappedLabel(text);
    label->setTextFormat(Qt::PlainText);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    return label;
}

void recordPatientTold(QWidget *window, Session &session, const PatientCall &call) {
    RecordForm form(QObject::tr("Phone %1").arg(call.who), window);
    form.addWidget("phone", QObject::tr("Phone"), readOut(desk::phoneText(call)));
    form.addWidget("say", QObject::tr("Say"), readOut(desk::sentencesOf(call)));
    if (!call.tried.isEmpty())
        form.addNote(QObject::tr("Before: %1.").arg(call.tried));
    form.addChoice("reached", QObject::tr("Who was reached"),
                   choicesOf({Reached::Patient, Reached::Relative, Reached::Message, Reached::Nobody},
                             [](Reached reached) { return desk::words(reached); }),
                   kNotChosen);
    form.addLongText("note", QObject::tr("What was said"), {});
    form.addNote(
        QObject::tr("Until a person has heard it the home stays on the list; the call is kept beside "
                    "it for the next who phones."));
    form.setSaveText(QObject::tr("Record the call"));
    form.require({"reached"});
    form.onSave(
        [&] {
            PatientTold told = call.toTell;
            told.reached = static_cast<Reached>(form.neededChoiceOf("reached"));
            told.note = form.textOf("note");
            return told;
        },
        [&](const PatientTold &told) {
            return session.write(QObject::tr("Phoned %1 about changed visits").arg(call.who),
                                 [&](desk::Desk &d) { return d.tellPatient(told); });
        });
    form.exec();
}

// The rows of a home stay together, and in their order, whatever the list is sorted by.
QVariant homeKey(const QString &by, const PatientCall &call) {
    return QStringLiteral("%1 %2 %3")
        .arg(by, QString::fromStdString(toIso(call.first)))
        .arg(call.patient.value(), 12, 10, QLatin1Char('0'));
}

std::function<QString(const PatientCallLine &)> onceAHome(std::function<QString(const PatientCall &)> text) {
    return
        [text = std::move(text)](const PatientCallLine &l) { return l.isFirst ? text(l.call) : QString(); };
}

} // namespace

std::vector<RowsColumn<PatientCallLine>> PatientCallsDialog::columns() {
    const auto all = [](const PatientCallLine &l) { return desk::sentencesOf(l.call); };
    const auto byTime = [](const PatientCallLine &l) { return homeKey({}, l.call); };
    const auto tried = [](const PatientCall &c) { return c.tried; };
    return {
        {.head = tr("Patient"),
         .text = onceAHome([](const PatientCall &c) { return c.who; }),
         .sortBy = [](const PatientCallLine &l) { return homeKey(l.call.who, l.call); },
         .tip = [](const PatientCallLine &l) { return l.call.who; }},
        {.head = tr("Phone"),
         .text = onceAHome([](const PatientCall &c) { return desk::phoneText(c); }),
         .sortBy = [](const PatientCallLine &l) { return homeKey(l.call.phone, l.call); },
         .tip = [](const PatientCallLine &l) { return desk::phoneText(l.call); }},
        {.head = tr("Visit"),
         .text = [](const PatientCallLine &l) { return l.change.kind; },
         .sortBy = [](const PatientCallLine &l) { return homeKey(l.call.changes.front().kind, l.call); },
         .tip = [](const PatientCallLine &l) { return l.change.kind; }},
        {.head = tr("Was"),
         .text = [](const PatientCallLine &l) { return l.change.was; },
         .sortBy = byTime,
         .tip = all},
        {.head = tr("Now"),
         .text = [](const PatientCallLine &l) { return l.change.now; },
         .sortBy = byTime,
         .tip = all},
        {.head = tr("Nurse"),
         .text = [](const PatientCallLine &l) { return l.change.nurse; },
         .sortBy = byTime,
         .tip = [](const PatientCallLine &l) { return l.change.nurse; }},
        {.head = tr("Tried"),
         .text = onceAHome(tried),
         .sortBy = [](const PatientCallLine &l) { return homeKey(l.call.tried, l.call); },
         .ink = [](const PatientCallLine &) { return std::optional(Role::Watch); },
         .tip = [](const PatientCallLine &l) { return l.call.tried; }},
    };
}

std::vector<RowsColumn<RecordedCall>> PatientCallsDialog::recordedColumns() {
    return {
        {.head = tr("Patient"), .text = [](const RecordedCall &c) { return c.who; }},
        {.head = tr("Reached"), .text = [](const RecordedCall &c) { return c.reached; }},
        {.head = tr("By"), .text = [](const RecordedCall &c) { return c.by; }},
        {.head = tr("About"),
         .text = [](const RecordedCall &c) { return c.about; },
         .tip = [](const RecordedCall &c) { return c.about; }},
    };
}

PatientCallsDialog::PatientCallsDialog(Session &session, QWidget *parent)
    : ListDialog(QStringLiteral("patientCalls"), tr("Patients to phone"), session, parent), model_(columns()),
      recorded_(recordedColumns()), recordedHead_(new QLabel(this)) {
    setRows(&model_, tr("Patients to phone about changed visits"));
    table_->keepReadable(0);
    table_->wrapTexts(); // what was tried is read whole before somebody dials again
    recordedHead_->setObjectName(QStringLiteral("recordedCallsHead"));
    recordedHead_->setWordWrap(true);
    recordedTable_ = addRowsBelow(recordedHead_, recorded_.model(), QStringLiteral("recordedCallsTable"),
                                  tr("Calls written down since yesterday"));
    recorded_.showIn(recordedTable_);
    reached_ = addStep(
        QStringLiteral("patientCallsReached"), tr("Reached…"), [this] { record(table_->currentSourceRow()); },
        Qt::CTRL | Qt::Key_R);
    back_ = addStep(
        QStringLiteral("patientCallsBack"), tr("Put back…"),
        [this] { putBack(recordedTable_->currentSourceRow()); }, Qt::CTRL | Qt::Key_B);
    addRoom();
    csv_ = addStep(
        QStringLiteral("patientCallsCsv"), tr("Save as CSV…"),
        [this] { saveTable(this, session_, desk::patientCallTable(calls_, *session_.agency())); },
        Qt::CTRL | Qt::Key_S);
    print_ = addStep(
        QStringLiteral("patientCallsPrint"), tr("Print…"),
        [this] { offerPaper(this, session_, desk::patientCallPaper(calls_, *session_.agency())); },
        QKeySequence::Print);
    addClose(QStringLiteral("patientCallsClose"));
    connect(table_, &DenseTable::opened, this, &PatientCallsDialog::record);
    connect(recordedTable_, &DenseTable::opened, this, &PatientCallsDialog::putBack);
    connect(recordedTable_, &DenseTable::currentRowChanged, this, &PatientCallsDialog::enableSteps);
    connect(&session_, &Session::agencyChanged, this, &PatientCallsDialog::fill);
    fill();
    table_->setFocus(Qt::OtherFocusReason);
}

void PatientCallsDialog::fill() {
    std::vector<PatientId> wanted = fromChosenOn();
    if (const auto back = std::exchange(putBack_, std::nullopt))
        wanted.insert(wanted.begin(), *back);
    calls_ = desk::patientCalls(*session_.agency());
    model_.setRows(desk::callLines(calls_));
    head_->setText(headText(calls_.size()));
    table_->fitColumns(6);
    choose(wanted);
    fillRecorded();
    enableSteps();
}

QString PatientCallsDialog::headText(std::size_t homes) const {
    if (homes == 0)
        return tr(
            "No home has to be phoned. Where a published plan changes - a nurse calls out, a visit moves "
            "or is called off - the homes it touches stand here, with what they know and what is so now, "
            "until somebody in each has heard it.");
    return desk::counted(static_cast<std::int64_t>(homes),
                         tr("1 home does not know yet how its visits stand now."),
                         tr("%1 homes do not know yet how their visits stand now.")) +
           u' ' +
           tr("Phone each, the first first, and press Enter on its row to write down who was reached. Each "
              "changed visit has a row of its own.");
}

void PatientCallsDialog::fillRecorded() {
    std::vector<RecordedCall> rows = desk::recordedCalls(*session_.agency());
    recordedHead_->setText(tr("Written down since yesterday. A call that was written down wrongly is put "
                              "back with a reason: it counts no more and stays on record."));
    recordedHead_->setVisible(!rows.empty());
    recordedTable_->setVisible(!rows.empty());
    recorded_.setRows(std::move(rows));
}

void PatientCallsDialog::enableSteps() {
    const bool mayWrite = !session_.isReadOnly();
    reached_->setEnabled(mayWrite && !calls_.empty());
    back_->setEnabled(mayWrite && recorded_.isChosenCounting());
    for (QPushButton *copy : {csv_, print_})
        copy->setEnabled(!calls_.empty());
}

std::vector<PatientId> PatientCallsDialog::fromChosenOn() const {
    const auto *shown = qobject_cast<const QAbstractProxyModel *>(table_->model());
    const int chosen = table_->currentIndex().row();
    std::vector<PatientId> homes;
    if (!shown || chosen < 0)
        return homes;
    const auto add = [&](int at) {
        homes.push_back(model_.row(shown->mapToSource(shown->index(at, 0)).row()).call.patient);
    };
    for (int at = chosen; at < shown->rowCount(); ++at)
        add(at);
    for (int at = chosen - 1; at >= 0; --at)
        add(at);
    return homes;
}

// Who was told is gone: whoever phones down the list goes on where they were.
void PatientCallsDialog::choose(const std::vector<PatientId> &wanted) {
    const std::vector<PatientCallLine> &rows = model_.rows();
    for (const PatientId home : wanted) {
        const auto same = std::ranges::find_if(
            rows, [&](const PatientCallLine &line) { return line.call.patient == home; });
        if (same == rows.end())
            continue;
        table_->selectSourceRow(static_cast<int>(same - rows.begin()));
        return;
    }
    table_->selectSourceRow(0);
}

void PatientCallsDialog::record(int row) {
    if (row < 0 || row >= model_.rowCount() || session_.isReadOnly())
        return;
    const PatientCall call = model_.row(row).call; // as on the screen, whatever is refreshed meanwhile
    recordPatientTold(this, session_, call);
}

void PatientCallsDialog::putBack(int row) {
    const auto call = recorded_.counting(row);
    if (!call || session_.isReadOnly())
        return;
    const bool isDone = askPutBack(
        this,
        tr("The call to %1 at %2 counts no more; where its visits are still to come the home is on the list "
           "again.")
            .arg(call->who, call->at),
        [&](const std::string &why) {
            putBack_ = call->told.patient; // before it is written: the list may be filled at once
            auto problem = session_.write(tr("Put back a call to %1 about changed visits").arg(call->who),
                                          [&](desk::Desk &d) { return d.takeBackCall(call->told.id, why); });
            if (problem)
                putBack_.reset();
            return problem;
        });
    if (isDone)
        table_->setFocus(Qt::OtherFocusReason);
}

} // namespace kitround::ui
