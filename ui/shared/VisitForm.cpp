#include "ui/shared/VisitForm.h"

#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QLineEdit>

namespace kitround::ui {
namespace {

constexpr qint64 kNoOutcome = -1; // nothing counts as made by a slip of the Enter key

// Empty: what was planned is shown, and not taken for what was so.
QLineEdit *addTimeAsMade(RecordForm &form, const std::string &field, const QString &label,
                         std::optional<Minutes> planned) {
    QLineEdit *edit = form.addTime(field, label, std::nullopt);
    if (!planned)
        return edit;
    edit->setPlaceholderText(QObject::tr("planned %1").arg(desk::timeText(*planned)));
    edit->setMaximumWidth(140);
    return edit;
}

// A visit that went as planned need not be typed; who says so still saves it. Before its planned end nobody
// can say so.
void addAsPlanned(RecordForm &form, QComboBox *status, QLineEdit *start, QLineEdit *end, const Visit &visit,
                  LocalTime now) {
    if (!visit.startAt || visit.status == VisitStatus::Missed)
        return;
    if (visit.on && LocalTime{*visit.on, *visit.startAt + visit.length} > now)
        return;
    const QString from = desk::timeText(*visit.startAt), to = desk::timeText(*visit.startAt + visit.length);
    form.addButton(QStringLiteral("visitAsPlanned"), QObject::tr("Fill in as &planned, %1-%2").arg(from, to),
                   [=] {
                       status->setCurrentIndex(status->findData(static_cast<qint64>(VisitStatus::Done)));
                       start->setText(from);
                       end->setText(to);
                   });
}

std::optional<LocalTime> momentOf(std::optional<Date> day, std::optional<Minutes> minute) {
    if (!day || !minute)
        return std::nullopt;
    return LocalTime{*day, *minute};
}

} // namespace

bool recordVisit(QWidget *window, Session &session, Visit visit, const QString &who) {
    RecordForm form(QObject::tr("What happened: %1").arg(who), window);
    const Date today = session.today();
    const bool wasMissed =
        visit.status == VisitStatus::Missed; // only whom was told is still to be written down
    if (const QString after = desk::afterText(visit, session.agency()->index()); !after.isEmpty())
        form.addNote(after);
    QComboBox *status = form.addChoice(
        "status", QObject::tr("The visit was"),
        choicesOf({VisitStatus::Done, VisitStatus::Missed}, [](VisitStatus s) { return desk::words(s); }),
        wasMissed ? static_cast<qint64>(VisitStatus::Missed) : kNoOutcome);
    form.addDate("visited_on", QObject::tr("Day"), visit.on ? visit.on : today, today);
    QLineEdit *start = addTimeAsMade(form, "started_at", QObject::tr("Start"), visit.startAt);
    QLineEdit *end =
        addTimeAsMade(form, "ended_at", QObject::tr("End"),
                      visit.startAt ? std::optional(*visit.startAt + visit.length) : std::nullopt);
    addAsPlanned(form, status, start, end, visit, session.agency()->snapshot().now);
    addDistance(form, session.agency()->settings().distanceUnit);
    form.addHeading(QObject::tr("If it was missed"));
    form.addChoice(
        "miss_reason", QObject::tr("Reason"),
        choicesOf(
            {MissReason::None, MissReason::Refused, MissReason::NotHome, MissReason::Hospital,
             MissReason::NurseAway, MissReason::Weather, MissReason::Other},
            // Of a missed visit it is asked for: not chosen is no answer.
            [](MissReason r) { return r == MissReason::None ? QObject::tr("not chosen") : desk::words(r); }),
        static_cast<qint64>(visit.missReason));
    form.addNote(
        QObject::tr("\"%1\" may be a hospital stay or an emergency: Today then asks for a welfare call until "
                    "somebody was reached. A missed visit is told to the prescriber.")
            .arg(desk::words(MissReason::NotHome)));
    form.addDate("prescriber_told_on", QObject::tr("Prescriber told on"), std::nullopt, today);
    form.addTime("prescriber_told_at", QObject::tr("at"), std::nullopt);
    form.addLongText("note", QObject::tr("Note"), visit.note);
    form.require({"status", "visited_on"});
    form.onSave(
        [&] {
            Visit record = visit;
            record.status = static_cast<VisitStatus>(form.neededChoiceOf("status"));
            const Date day = form.neededDateOf("visited_on");
            if (record.status == VisitStatus::Done) {
                record.startedAt = momentOf(day, form.timeOf("started_at"));
                record.endedAt = momentOf(day, form.timeOf("ended_at"));
                record.driven = distanceOf(form, session.agency()->settings().distanceUnit);
                record.drivenIsEstimated = record.driven && form.checkOf("driven_is_estimated");
            }
            record.missReason = static_cast<MissReason>(form.choiceOf("miss_reason"));
            record.prescriberToldAt =
                momentOf(form.dateOf("prescriber_told_on"), form.timeOf("prescriber_told_at"));
            record.note = form.textOf("note");
            return record;
        },
        [&](const Visit &record) {
            return session.write(QObject::tr("Recorded what happened at the visit to %1").arg(who),
                                 [&](desk::Desk &d) { return d.closeVisit(record); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
