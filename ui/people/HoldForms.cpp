// Holds: away from home, and back again.
#include "core/desk/words/Words.h"
#include "ui/people/CareForms.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

namespace kitround::ui {

bool putOnHold(QWidget *window, Session &session, Patient patient) {
    RecordForm form(QObject::tr("Put on hold: %1").arg(desk::personName(patient)), window);
    form.addNote(
        QObject::tr("Visits, refill calls and reminders about a silent log stop together from the first day "
                    "of the hold, and go on together after it."));
    form.addChoice("kind", QObject::tr("Away because of"),
                   choicesOf({HoldKind::Hospital, HoldKind::Facility, HoldKind::Travel, HoldKind::Other},
                             [](HoldKind k) { return desk::words(k); }),
                   static_cast<qint64>(HoldKind::Hospital));
    form.addDate("from", QObject::tr("First day away"), session.today(), session.today());
    form.addDate("expected_return", QObject::tr("Expected back on"), std::nullopt, session.today());
    form.addNote(QObject::tr("Leave it empty where nobody knows."));
    form.addCheck("still_draining", QObject::tr("Drains go on while away, with own supplies"), false);
    form.addText("reason", QObject::tr("Reason"), {});
    form.setSaveText(QObject::tr("Put on hold"));
    form.onSave(
        [&] {
            Hold hold;
            hold.patient = patient.id;
            hold.kind = static_cast<HoldKind>(form.choiceOf("kind"));
            hold.from = form.neededDateOf("from");
            hold.expectedReturn = form.dateOf("expected_return");
            hold.stillDraining = form.checkOf("still_draining");
            hold.reason = form.textOf("reason");
            return hold;
        },
        [&](const Hold &hold) {
            return session.write(QObject::tr("Put %1 on hold").arg(desk::personName(patient)),
                                 [&](desk::Desk &d) { return d.save(hold); });
        });
    return form.exec() == QDialog::Accepted;
}

bool endHold(QWidget *window, Session &session, Patient patient, Hold hold) {
    RecordForm form(QObject::tr("End the hold: %1").arg(desk::personName(patient)), window);
    form.addNote(QObject::tr("%1 since %2. Visits and refill calls go on from the day of return.")
                     .arg(desk::words(hold.kind), desk::dayText(hold.from, session.today())));
    form.addDate("to", QObject::tr("First day home again"), session.today(), session.today());
    form.setSaveText(QObject::tr("End the hold"));
    form.onSave(
        [&] {
            Hold ended = hold;
            ended.to = form.neededDateOf("to");
            return ended;
        },
        [&](const Hold &ended) {
            return session.write(QObject::tr("Ended the hold of %1").arg(desk::personName(patient)),
                                 [&](desk::Desk &d) { return d.save(ended); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
