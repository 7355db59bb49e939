#include "ui/stock/RecallForm.h"

#include "core/desk/words/Words.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

namespace kitround::ui {

bool recordRecallCall(QWidget *window, Session &session, desk::RecallView view, desk::RecallHomeRow home) {
    RecordForm form(QObject::tr("Call about lot %1: %2").arg(view.number, home.name), window);
    form.addNote(
        QObject::tr("%1, %2. Had %3, by the record at most %4 still there, %5 used. Ask to put what is "
                    "left aside, unopened. Symptoms go to the nurse.")
            .arg(home.phone.isEmpty() ? QObject::tr("no phone on record") : home.phone, home.standing)
            .arg(home.received.count())
            .arg(home.there.count())
            .arg(home.used.count()));
    if (!home.outcome.isEmpty())
        form.addNote(QObject::tr("Before: %1").arg(home.outcome));
    QComboBox *answer =
        form.addChoice("answer", QObject::tr("Outcome"),
                       choicesOf({RecallAnswer::SetAside, RecallAnswer::NoneLeft, RecallAnswer::Declined,
                                  RecallAnswer::MessageLeft, RecallAnswer::NoAnswer},
                                 [](RecallAnswer a) { return desk::words(a); }),
                       -1); // nobody's answer is chosen beforehand
    answer->setPlaceholderText(QObject::tr("choose the answer"));
    form.addText("told_by", QObject::tr("Told by"), session.userName().toStdString());
    form.addText("spoke_with", QObject::tr("Spoke with, in the home"), {});
    addMoment(form, "at", QObject::tr("When"), momentNow(session), session.today());
    form.addNumber("set_aside", QObject::tr("Set aside, unopened"), std::nullopt,
                   QObject::tr("eaches; 0 where none is there"));
    form.addNumber("replaced", QObject::tr("Replaced already"), std::nullopt, QObject::tr("eaches"));
    form.addText("note", QObject::tr("Note"), {});
    form.setSaveText(QObject::tr("Record the call"));
    form.require({"answer", "told_by", "at", "at_time"});
    form.onSave(
        [&] {
            RecallOutcome outcome;
            outcome.lot = view.lot;
            outcome.catheter = home.catheter;
            outcome.answer = static_cast<RecallAnswer>(form.neededChoiceOf("answer"));
            outcome.toldBy = form.textOf("told_by");
            outcome.spokeWith = form.textOf("spoke_with");
            outcome.at = readNeededMoment(form, "at");
            desk::hearSetAside(outcome, form.numberOf("set_aside"));
            outcome.replaced = Eaches::of(form.numberOf("replaced").value_or(0));
            outcome.note = form.textOf("note");
            return outcome;
        },
        [&](const RecallOutcome &outcome) {
            return session.write(QObject::tr("Recorded a call about lot %1").arg(view.number),
                                 [&](desk::Desk &d) { return d.recordRecall(outcome); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
