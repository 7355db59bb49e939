// A visit besides those the orders owe: an as-needed visit, a trouble call.
#include "core/desk/views/VisitOrderView.h"
#include "core/desk/words/Words.h"
#include "ui/people/CareForms.h"
#include "ui/people/ComesAfterFields.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

namespace kitround::ui {

bool addVisit(QWidget *window, Session &session, Patient patient) {
    RecordForm form(QObject::tr("Add a visit: %1").arg(desk::personName(patient, session.agency()->index())),
                    window);
    form.addChoice("kind", QObject::tr("Kind of visit"),
                   choicesOf({VisitKind::AsNeeded, VisitKind::SymptomFollowUp, VisitKind::DressingCheck,
                              VisitKind::SupplyCount, VisitKind::Teaching, VisitKind::DrainOnly,
                              VisitKind::Routine, VisitKind::Supervisory},
                             [](VisitKind k) { return desk::words(k); }),
                   static_cast<qint64>(VisitKind::AsNeeded));
    form.addNote(desk::asNeededText(*session.agency(), patient.id));
    form.addDate("due_from", QObject::tr("Not before"), session.today(), session.today());
    form.addDate("due_to", QObject::tr("At the latest on"), session.today(), session.today());
    ComesAfterFields after(form, *session.agency(), patient.id, ComesAfterFields::For::AddedVisit, {},
                           std::nullopt);
    form.addLongText("note", QObject::tr("Why"), {});
    form.addNote(QObject::tr("The visit is due then; the calendar places it: plan the week, or mend the plan "
                             "after changes (Ctrl+M there). Ordered visits stay owed beside it."));
    form.require({"due_from", "due_to"});
    form.onSave(
        [&] {
            Visit visit;
            visit.patient = patient.id;
            visit.kind = static_cast<VisitKind>(form.choiceOf("kind"));
            visit.dueFrom = form.neededDateOf("due_from");
            visit.dueTo = form.neededDateOf("due_to").plusDays(1);
            visit.after = after.read();
            visit.note = form.textOf("note");
            return visit;
        },
        [&](const Visit &visit) {
            return session.write(QObject::tr("Added a visit for %1").arg(desk::personName(patient)),
                                 [&](desk::Desk &d) { return d.addVisit(visit); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
