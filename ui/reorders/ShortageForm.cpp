#include "ui/reorders/ShortageForm.h"

#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

namespace kitround::ui {

bool recordShortageAction(QWidget *window, Session &session, const desk::ShortageRow &row) {
    const bool isOpen = row.stored && !row.stored->closedAt;
    ShortageAction seed;
    if (isOpen)
        seed = *row.stored;
    RecordForm form(QObject::tr("Shortage: %1, %2").arg(row.item, row.who), window);
    form.addNote(QObject::tr("%1. Proposed: %2").arg(row.supply, row.action));
    if (row.stored && !isOpen)
        form.addNote(QObject::tr("Before: %1").arg(row.standing));
    form.addText("action", QObject::tr("What is done"),
                 isOpen ? seed.action : std::string()); // nothing is done yet
    form.addText("owner", QObject::tr("Who does it"), isOpen ? seed.owner : session.userName().toStdString());
    form.addText("outcome", QObject::tr("Outcome"), seed.outcome);
    form.addCheck("is_closed", QObject::tr("done: close it with this outcome"), false);
    form.setSaveText(QObject::tr("Record it"));
    form.require({"action", "owner"});
    form.onSave(
        [&] {
            ShortageAction action = seed;
            action.item = row.itemId;
            action.catheter = row.catheter;
            action.action = form.textOf("action");
            action.owner = form.textOf("owner");
            action.outcome = form.textOf("outcome");
            if (!isOpen)
                action.openedAt = momentNow(session);
            if (form.checkOf("is_closed"))
                action.closedAt = momentNow(session);
            return action;
        },
        [&](const ShortageAction &action) {
            return session.write(QObject::tr("Recorded an action on a shortage"),
                                 [&](desk::Desk &d) { return d.save(action); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
