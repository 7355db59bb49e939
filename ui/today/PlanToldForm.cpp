#include "ui/today/PlanToldForm.h"

#include "core/desk/words/Words.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

namespace kitround::ui {

bool recordPlanTold(QWidget *window, Session &session, PlanTold told, const QString &what) {
    const Nurse *nurse = session.agency()->index().nurse(told.nurse);
    const QString name = nurse ? desk::personName(*nurse) : QObject::tr("The nurse");
    RecordForm form(QObject::tr("%1 was told").arg(name), window);
    form.addNote(what);
    form.addText("told_by", QObject::tr("Told by"), session.userName().toStdString());
    form.addLongText("note", QObject::tr("What was said"), {});
    form.addNote(QObject::tr("The patients are ticked off one by one, on the list of patients to phone."));
    form.addNote(QObject::tr("Print the day sheet anew; the one printed before is out of date."));
    form.addNote(QObject::tr("Recorded wrongly? It is put back under Nurses told."));
    form.require({"told_by"});
    form.onSave(
        [&] {
            PlanTold record = told;
            record.by = form.textOf("told_by");
            record.note = form.textOf("note");
            return record;
        },
        [&](const PlanTold &record) {
            return session.write(QObject::tr("Told %1 of a changed round").arg(name),
                                 [&](desk::Desk &d) { return d.tellPlan(record); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
