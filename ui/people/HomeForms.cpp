// A catheter's own facts, and a count of what stands in a home.
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Words.h"
#include "ui/people/CareForms.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/HomeCountStore.h"
#include "ui/shared/Session.h"

#include <QLineEdit>

namespace kitround::ui {

bool editCatheter(QWidget *window, Session &session, Catheter catheter) {
    // A side nobody chose would be the wrong one half the time, so a new catheter has none.
    constexpr qint64 kUnchosen = -1;
    const bool isNew = !catheter.id.isSet();
    const QString whose = desk::nameWithCode(session.agency()->index(), catheter.patient);
    RecordForm form(
        isNew ? QObject::tr("New catheter: %1").arg(whose)
              : QObject::tr("Catheter: %1").arg(desk::nameWithCode(session.agency()->index(), catheter.id)),
        window);
    form.addChoice(
        "site", QObject::tr("Site"),
        choicesOf({CavitySite::Chest, CavitySite::Abdomen}, [](CavitySite s) { return desk::words(s); }),
        isNew ? kUnchosen : static_cast<qint64>(catheter.site));
    form.addChoice("side", QObject::tr("Side"),
                   choicesOf({Side::Left, Side::Right, Side::Midline}, [](Side s) { return desk::words(s); }),
                   isNew ? kUnchosen : static_cast<qint64>(catheter.side));
    form.addDate("inserted_on", QObject::tr("Inserted on"), catheter.insertedOn, session.today());
    form.addText("connector", QObject::tr("Connector class"), catheter.connector)
        ->setPlaceholderText(QObject::tr("empty: not known"));
    form.require({"site", "side"});
    form.onSave(
        [&] {
            Catheter record = catheter;
            record.site = static_cast<CavitySite>(form.neededChoiceOf("site"));
            record.side = static_cast<Side>(form.neededChoiceOf("side"));
            record.insertedOn = form.dateOf("inserted_on");
            record.connector = form.textOf("connector");
            return record;
        },
        [&](const Catheter &record) {
            return session.write(QObject::tr("Saved a catheter"),
                                 [&](desk::Desk &d) { return d.save(record); });
        });
    return form.exec() == QDialog::Accepted;
}

bool countAtHome(QWidget *window, Session &session, PatientId patient) {
    const desk::AgencyPtr agency = session.agency();
    std::vector<Choice> catheters;
    for (const Catheter *catheter : agency->index().cathetersOf(patient))
        catheters.push_back({desk::catheterText(*catheter), catheter->id.value()});
    if (catheters.empty()) {
        Ask::tell(window, QObject::tr("Record a count"),
                  QObject::tr("Add the catheter first: stock is kept by catheter."));
        return false;
    }
    RecordForm form(QObject::tr("Record a count"), window);
    form.addNote(QObject::tr(
        "One item, counted at the home. The record is set to the count; the difference is kept."));
    if (const QString past = desk::expiredText(agency->index(), patient); !past.isEmpty())
        form.addNote(QObject::tr("By the record: %1. %2").arg(past, desk::countPastDateText()));
    form.addChoice("catheter_id", QObject::tr("Catheter"), catheters, catheters.front().value);
    const auto items = itemChoices(agency->snapshot(), {});
    form.addChoice("item_id", QObject::tr("Item"), items, items.empty() ? 0 : items.front().value);
    form.addNumber("counted", QObject::tr("Counted"), std::nullopt, QObject::tr("pieces"));
    addMoment(form, "at", QObject::tr("On"), session.now(), session.today());
    form.addChoice("source", QObject::tr("Told by"),
                   choicesOf({EntrySource::Phone, EntrySource::Nurse, EntrySource::HomeLog},
                             [](EntrySource s) { return desk::words(s); }),
                   static_cast<qint64>(EntrySource::Phone));
    form.addLongText("note", QObject::tr("Note"), {});
    form.require({"counted", "at", "at_time"});
    std::string why;
    form.onSave(
        [&] {
            HomeCount count;
            count.catheter = CatheterId(form.choiceOf("catheter_id"));
            count.item = ItemId(form.choiceOf("item_id"));
            count.counted = Eaches::of(form.neededNumberOf("counted"));
            count.at = readNeededMoment(form, "at");
            count.source = static_cast<EntrySource>(form.choiceOf("source"));
            count.note = form.textOf("note");
            return count;
        },
        [&](const HomeCount &count) {
            return storeHomeCount(&form, session, QObject::tr("Recorded a count at a home"), count, why);
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
