#include "ui/today/PatientCallsDialog.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <QLabel>
#include <QPushButton>

#include <algorithm>

namespace kitround::ui {

using desk::PatientCall;

namespace {

constexpr qint64 kNotChosen = -1; // no call counts by a slip of the Enter key

void recordPatientTold(QWidget *window, Session &session, const PatientCall &call) {
    RecordForm form(QObject::tr("Phone %1").arg(call.who), window);
    form.addNote(desk::phoneText(call));
    form.addNote(call.changes.join(QLatin1Char('\n')));
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

} // namespace

std::vector<RowsColumn<PatientCall>> PatientCallsDialog::columns() {
    return {
        {.head = tr("Patient"), .text = [](const PatientCall &c) { return c.who; }},
        {.head = tr("Phone"), .text = [](const PatientCall &c) { return desk::phoneText(c); }},
        {.head = tr("Was"),
         .text = [](const PatientCall &c) { return c.was; },
         .tip = [](const PatientCall &c) { return c.changes.join(QLatin1Char('\n')); }},
        {.head = tr("Now"),
         .text = [](const PatientCall &c) { return c.now; },
         .sortBy = [](const PatientCall &c) { return QVariant(QString::fromStdString(toIso(c.first))); },
         .tip = [](const PatientCall &c) { return c.changes.join(QLatin1Char('\n')); }},
        {.head = tr("Nurse"), .text = [](const PatientCall &c) { return c.nurse; }},
        {.head = tr("Tried"),
         .text = [](const PatientCall &c) { return c.tried; },
         .ink = [](const PatientCall &) { return std::optional(Role::Watch); },
         .tip = [](const PatientCall &c) { return c.tried; }},
    };
}

PatientCallsDialog::PatientCallsDialog(Session &session, QWidget *parent)
    : ListDialog(QStringLiteral("patientCalls"), tr("Patients to phone"), session, parent),
      model_(columns()) {
    setRows(&model_, tr("Patients to phone about changed visits"));
    reached_ = addStep(QStringLiteral("patientCallsReached"), tr("Reached…"),
                       [this] { record(table_->currentSourceRow()); });
    addRoom();
    csv_ = addStep(QStringLiteral("patientCallsCsv"), tr("Save as CSV…"), [this] {
        saveTable(this, session_, desk::patientCallTable(model_.rows(), *session_.agency()));
    });
    print_ = addStep(QStringLiteral("patientCallsPrint"), tr("Print…"), [this] {
        offerPaper(this, session_, desk::patientCallPaper(model_.rows(), *session_.agency()));
    });
    addClose(QStringLiteral("patientCallsClose"));
    connect(table_, &DenseTable::opened, this, &PatientCallsDialog::record);
    connect(&session_, &Session::agencyChanged, this, &PatientCallsDialog::fill);
    fill();
    table_->setFocus(Qt::OtherFocusReason);
}

void PatientCallsDialog::fill() {
    const int before = table_->currentSourceRow();
    const std::optional<PatientId> chosen =
        before >= 0 ? std::optional(model_.row(before).patient) : std::nullopt;
    model_.setRows(desk::patientCalls(*session_.agency()));
    const std::vector<PatientCall> &calls = model_.rows();
    const auto count = static_cast<std::int64_t>(calls.size());
    reached_->setEnabled(count > 0 && !session_.isReadOnly());
    for (QPushButton *copy : {csv_, print_})
        copy->setEnabled(count > 0);
    head_->setText(
        count == 0 ? tr("No home has to be phoned. Where a published plan changes - a nurse calls out, a "
                        "visit moves or is called off - the homes it touches stand here, with what they "
                        "know and what is so now, until somebody in each has heard it.")
                   : desk::counted(count, tr("1 home does not know yet how its visits stand now."),
                                   tr("%1 homes do not know yet how their visits stand now.")) +
                         u' ' +
                         tr("Phone each, the first first, and press Enter on its row to write down who was "
                            "reached."));
    table_->fitColumns(2);
    if (calls.empty())
        return;
    // Who was told is gone: the next to phone stands in the same row.
    const auto same =
        std::ranges::find_if(calls, [&](const PatientCall &call) { return call.patient == chosen; });
    const auto next = same == calls.end() ? std::clamp(before, 0, static_cast<int>(count) - 1)
                                          : static_cast<int>(same - calls.begin());
    table_->selectSourceRow(next);
}

void PatientCallsDialog::record(int row) {
    if (row < 0 || row >= model_.rowCount() || session_.isReadOnly())
        return;
    const PatientCall call = model_.row(row); // as it is on the screen, whatever is refreshed meanwhile
    recordPatientTold(this, session_, call);
}

} // namespace kitround::ui
