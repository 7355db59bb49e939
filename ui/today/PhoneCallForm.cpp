#include "ui/today/PhoneCallForm.h"

#include "core/desk/words/Words.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <algorithm>

namespace kitround::ui {
namespace {

std::vector<Choice> patientChoices(const SnapshotIndex &agency) {
    std::vector<Choice> choices;
    for (const Patient &patient : agency.snapshot().patients)
        if (isOnService(patient.status))
            choices.push_back({desk::personName(patient, agency), patient.id.value()});
    std::ranges::stable_sort(choices, {}, &Choice::text);
    choices.insert(choices.begin(), {QObject::tr("Nobody of ours"), 0});
    return choices;
}

} // namespace

bool logPhoneCall(QWidget *window, Session &session) {
    RecordForm form(QObject::tr("Log a phone call"), window);
    QStringList emergency;
    for (const Symptom sign :
         {Symptom::WorseBreathlessness, Symptom::SeverePain, Symptom::Collapse, Symptom::HeavyBleeding})
        emergency << desk::words(sign);
    form.addNote(QObject::tr("If the caller speaks of: %1 - the emergency number first, then this form.")
                     .arg(emergency.join(QStringLiteral(", "))));
    form.addChoice("patient_id", QObject::tr("About"), patientChoices(session.agency()->index()), 0);
    form.addText("caller", QObject::tr("Caller"), {});
    form.addChoice("topic", QObject::tr("It is"),
                   {{QObject::tr("Clinical: to a nurse now, without advice from the office"),
                     qint64(CallTopic::Clinical)},
                    {QObject::tr("About supplies: to the clerk"), qint64(CallTopic::Supply)},
                    {QObject::tr("About a visit: to the coordinator"), qint64(CallTopic::Schedule)}},
                   qint64(CallTopic::Clinical));
    form.addLongText("words", QObject::tr("In the caller's words"), {});
    form.addText("owner", QObject::tr("Whose it is now"), {});
    form.addNote(QObject::tr("The call stays under Today and on the hand-over list until it is closed with "
                             "what was done."));
    form.require({"owner"});
    form.onSave(
        [&] {
            PhoneCall call;
            call.at = session.now();
            if (const qint64 patient = form.choiceOf("patient_id"); patient > 0)
                call.patient = PatientId(patient);
            call.caller = form.textOf("caller");
            call.topic = static_cast<CallTopic>(form.choiceOf("topic"));
            call.words = form.textOf("words");
            call.owner = form.textOf("owner");
            return call;
        },
        [&](const PhoneCall &call) {
            return session.write(QObject::tr("Logged a phone call"),
                                 [&](desk::Desk &d) { return d.save(call); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
