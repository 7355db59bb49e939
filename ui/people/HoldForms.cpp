// Holds: away from home, and back again.
#include "core/desk/views/PatientView.h"
#include "core/desk/words/AwayWords.h"
#include "core/desk/words/OrderQuestionWords.h"
#include "core/desk/words/Words.h"
#include "ui/people/CareForms.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/OrderAnswerForm.h"
#include "ui/shared/Session.h"
#include "ui/shared/WrappedLabel.h"

#include <QCheckBox>

namespace kitround::ui {
namespace {

struct AwayFields {
    DateField *from, *back;
    QCheckBox *draining;
};

// What to carry, worked out anew whenever the days change.
void showCarry(RecordForm &form, Session &session, PatientId patient, const AwayFields &fields) {
    auto *carry = new WrappedLabel({}, &form);
    form.addWidget("carry", QObject::tr("To carry"), carry);
    form.setFieldShown("carry", false);
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    const auto tell = [&form, carry, agency, patient, fields] {
        const auto from = fields.from->date();
        const bool isShown = fields.draining->isChecked() && from;
        form.setFieldShown("carry", isShown);
        if (isShown)
            carry->setText(desk::carryLines(agency->index(), patient, *from, fields.back->date())
                               .join(QLatin1Char('\n')));
    };
    QObject::connect(fields.draining, &QCheckBox::toggled, carry, tell);
    for (DateField *day : {fields.from, fields.back})
        QObject::connect(day, &DateField::changed, carry, tell);
}

std::string suffix(std::size_t question) {
    return "_" + std::to_string(question);
}

// Which visits and deliveries fall out, before anything is saved.
void showFallsOut(RecordForm &form, Session &session, const Hold &hold, DateField *from) {
    auto *lines = new WrappedLabel({}, &form);
    form.addWidget("falls_out", QObject::tr("Falls out"), lines);
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    const auto tell = [lines, agency, hold, from] {
        Hold asked = hold;
        const auto day = from->date();
        asked.from = day.value_or(asked.from);
        lines->setText(day ? desk::holdEffectLines(*agency, asked).join(QLatin1Char('\n'))
                           : QObject::tr("Told once the first day is entered."));
    };
    QObject::connect(from, &DateField::changed, lines, tell);
    tell();
}

bool editHold(RecordForm &form, Session &session, const Hold &hold, const QString &done) {
    form.addNote(
        QObject::tr("Visits, refill calls and reminders about a silent log stop together from the first day "
                    "of the hold, and go on together after it."));
    if (hold.id.isSet())
        form.addNote(
            QObject::tr("Visits that this hold has cancelled stay so; what the orders owe outside its "
                        "days is due again and wants a place in the plan."));
    form.addChoice("kind", QObject::tr("Away because of"),
                   choicesOf({HoldKind::Hospital, HoldKind::Facility, HoldKind::Travel, HoldKind::Other},
                             [](HoldKind k) { return desk::words(k); }),
                   static_cast<qint64>(hold.kind));
    DateField *from = form.addDate("from", QObject::tr("First day away"), hold.from, session.today());
    DateField *back = form.addDate("expected_return", QObject::tr("Expected back on"), hold.expectedReturn,
                                   session.today());
    form.addNote(QObject::tr("Leave it empty where nobody knows. Visits go on only once the day of return is "
                             "entered, by “End the hold…”."));
    QCheckBox *draining = form.addCheck(
        "still_draining", QObject::tr("Drains go on while away, with own supplies"), hold.stillDraining);
    showCarry(form, session, hold.patient, {from, back, draining});
    showFallsOut(form, session, hold, from);
    form.addText("reason", QObject::tr("Reason"), hold.reason);
    form.require({"from"});
    form.onSave(
        [&] {
            Hold entered = hold;
            entered.kind = static_cast<HoldKind>(form.choiceOf("kind"));
            entered.from = form.neededDateOf("from");
            entered.expectedReturn = form.dateOf("expected_return");
            entered.stillDraining = form.checkOf("still_draining");
            entered.reason = form.textOf("reason");
            return entered;
        },
        [&](const Hold &entered) {
            return session.write(done, [&](desk::Desk &d) { return d.save(entered); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace

bool putOnHold(QWidget *window, Session &session, Patient patient) {
    RecordForm form(QObject::tr("Put on hold: %1").arg(desk::personName(patient, session.agency()->index())),
                    window);
    form.setSaveText(QObject::tr("Put on hold"));
    Hold hold;
    hold.patient = patient.id;
    hold.from = session.today();
    return editHold(form, session, hold, QObject::tr("Put %1 on hold").arg(desk::personName(patient)));
}

bool changeHold(QWidget *window, Session &session, Patient patient, Hold hold) {
    RecordForm form(
        QObject::tr("Change the hold: %1").arg(desk::personName(patient, session.agency()->index())), window);
    return editHold(form, session, hold,
                    QObject::tr("Changed the hold of %1").arg(desk::personName(patient)));
}

bool callOffHold(QWidget *window, Session &session, Patient patient, Hold hold) {
    const QString name = desk::personName(patient, session.agency()->index());
    if (!Ask::confirm(
            window, QObject::tr("Call the hold off? %1").arg(name),
            QObject::tr("%1: %2.\n\nVisits that it has cancelled stay so; what the orders owe is due "
                        "again and wants a place in the plan.")
                .arg(name, desk::holdText(hold, session.today())),
            QObject::tr("Call the hold off"), QObject::tr("Go back")))
        return false;
    return session.writeOrTell(window,
                               QObject::tr("Called off the hold of %1").arg(desk::personName(patient)),
                               [&](desk::Desk &d) { return d.remove(hold); });
}

bool endHold(QWidget *window, Session &session, Patient patient, Hold hold) {
    RecordForm form(QObject::tr("End the hold: %1").arg(desk::personName(patient, session.agency()->index())),
                    window);
    form.addNote(QObject::tr("%1 since %2. Visits and refill calls go on from the day of return.")
                     .arg(desk::words(hold.kind), desk::dayText(hold.from, session.today())));
    form.addDate("to", QObject::tr("First day home again"), session.today(), session.today());
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    const std::vector<safety::OrderQuestion> questions =
        safety::questionsOnReturn(agency->index(), hold, session.today());
    for (std::size_t i = 0; i < questions.size(); ++i) {
        form.addHeading(QObject::tr("Before the order is gone on with"));
        form.addNote(desk::questionText(questions[i], agency->index()));
        addAnswerFields(form, suffix(i));
    }
    if (!questions.empty())
        form.addNote(
            QObject::tr("Where nobody has been asked yet, leave it empty: the question then stands under "
                        "Today until it is answered or a new order is entered."));
    form.setSaveText(QObject::tr("End the hold"));
    form.require({"to"});
    form.onSave(
        [&] {
            Hold ended = hold;
            ended.to = form.neededDateOf("to");
            std::vector<OrderAnswer> answers;
            for (std::size_t i = 0; i < questions.size(); ++i)
                if (const auto answer = answerOf(form, questions[i].order, session.now(), suffix(i)))
                    answers.push_back(*answer);
            return std::pair(ended, answers);
        },
        [&](const std::pair<Hold, std::vector<OrderAnswer>> &home) {
            return session.write(QObject::tr("Ended the hold of %1").arg(desk::personName(patient)),
                                 [&](desk::Desk &d) { return d.returnHome(home.first, home.second); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
