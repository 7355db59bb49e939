// Holds: away from home, and back again.
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

} // namespace

bool putOnHold(QWidget *window, Session &session, Patient patient) {
    RecordForm form(QObject::tr("Put on hold: %1").arg(desk::personName(patient, session.agency()->index())),
                    window);
    form.addNote(
        QObject::tr("Visits, refill calls and reminders about a silent log stop together from the first day "
                    "of the hold, and go on together after it."));
    form.addChoice("kind", QObject::tr("Away because of"),
                   choicesOf({HoldKind::Hospital, HoldKind::Facility, HoldKind::Travel, HoldKind::Other},
                             [](HoldKind k) { return desk::words(k); }),
                   static_cast<qint64>(HoldKind::Hospital));
    DateField *from = form.addDate("from", QObject::tr("First day away"), session.today(), session.today());
    DateField *back =
        form.addDate("expected_return", QObject::tr("Expected back on"), std::nullopt, session.today());
    form.addNote(QObject::tr("Leave it empty where nobody knows."));
    QCheckBox *draining =
        form.addCheck("still_draining", QObject::tr("Drains go on while away, with own supplies"), false);
    showCarry(form, session, patient.id, {from, back, draining});
    form.addText("reason", QObject::tr("Reason"), {});
    form.setSaveText(QObject::tr("Put on hold"));
    form.require({"from"});
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
