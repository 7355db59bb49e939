#include "ui/stock/RecallForm.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <algorithm>

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
    const auto markSetAside = [&form, answer] {
        form.setRequired("set_aside", answer->currentData() == static_cast<qint64>(RecallAnswer::SetAside));
    };
    QObject::connect(answer, &QComboBox::currentIndexChanged, &form, markSetAside);
    markSetAside();
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
            return storeRecall(&form, session, QObject::tr("Recorded a call about lot %1").arg(view.number),
                               outcome);
        });
    return form.exec() == QDialog::Accepted;
}

std::optional<Problem> storeRecall(QWidget *window, Session &session, const QString &what,
                                   const RecallOutcome &outcome) {
    const auto store = [&](const std::string &why) {
        return session.write(what, [&](desk::Desk &d) { return d.recordRecall(outcome, why); });
    };
    auto problem = store({});
    if (!problem || !desk::asksWhyBeyond(*problem))
        return problem;
    const auto why = Ask::line(window, QObject::tr("Not as the record has it"),
                               QObject::tr("%1\nWhy is it right all the same? The reason is kept with the "
                                           "call.")
                                   .arg(desk::words(*problem)));
    const std::string reason = why ? why->trimmed().toStdString() : std::string();
    return reason.empty() ? problem : store(reason);
}

bool addRecalledHome(QWidget *window, Session &session, const desk::RecallView &view) {
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    std::vector<Choice> homes;
    for (const Catheter &catheter : agency->snapshot().catheters) {
        const desk::RecallHomeRow row = desk::recallHomeRow(agency->index(), catheter.id);
        if (std::ranges::find(view.homes, catheter.id, &desk::RecallHomeRow::catheter) == view.homes.end())
            homes.push_back({QObject::tr("%1, %2").arg(row.name, row.place), catheter.id.value()});
    }
    std::ranges::sort(homes, {}, &Choice::text);
    homes.insert(homes.begin(), {QString(), 0}); // an empty text chooses the first: nobody
    RecordForm form(QObject::tr("Add a home to the calls about lot %1").arg(view.number), window);
    form.addNote(QObject::tr("For a home that has the lot although the record never sent it there: the lot "
                             "written down at a hand-over may be wrong."));
    makeSearchable(*form.addChoice("catheter_id", QObject::tr("Home"), homes, 0));
    form.require({"catheter_id"});
    form.setSaveText(QObject::tr("Record its call…"));
    CatheterId chosen;
    form.onSave(
        [&] {
            const auto value = searchedValue(*form.findChild<QComboBox *>(QStringLiteral("catheter_id")));
            if (value.value_or(0) == 0)
                form.addReadFault(Problem{ProblemCode::Missing, "catheter_id"});
            return CatheterId(value.value_or(0));
        },
        [&](CatheterId home) -> std::optional<Problem> {
            chosen = home;
            return std::nullopt;
        });
    return form.exec() == QDialog::Accepted && chosen.isSet() &&
           recordRecallCall(window, session, view, desk::recallHomeRow(agency->index(), chosen));
}

} // namespace kitround::ui
