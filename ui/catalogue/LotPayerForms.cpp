// A lot's own facts (its state is changed in the storeroom), and who pays under which refill rule.
#include "core/desk/words/Words.h"
#include "ui/catalogue/CatalogueForms.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

namespace kitround::ui {

bool editLot(QWidget *window, Session &session, Lot lot) {
    const desk::AgencyPtr agency = session.agency();
    RecordForm form(lot.id.isSet() ? QObject::tr("Lot %1").arg(QString::fromStdString(lot.number))
                                   : QObject::tr("New lot"),
                    window);
    form.addChoice("item_id", QObject::tr("Item"), itemChoices(agency->snapshot(), {}), lot.item.value());
    form.addText("number", QObject::tr("Lot number"), lot.number);
    form.addDate("expires_on", QObject::tr("Last day of use"), lot.expiresOn, agency->today());
    form.addNote(
        QObject::tr("State: %1. Quarantine and recall are set under Stock forecast, where what they stop is "
                    "shown.")
            .arg(desk::words(lot.state)));
    form.require({"item_id", "number"});
    form.onSave(
        [&] {
            Lot r = lot;
            r.item = ItemId(form.choiceOf("item_id"));
            r.number = form.textOf("number");
            r.expiresOn = form.dateOf("expires_on");
            return r;
        },
        [&](const Lot &record) {
            return session.write(QObject::tr("Saved a lot"), [&](desk::Desk &d) { return d.save(record); });
        });
    return form.exec() == QDialog::Accepted;
}

bool editPayer(QWidget *window, Session &session, Payer payer) {
    RecordForm form(payer.id.isSet() ? QObject::tr("Payer: %1").arg(QString::fromStdString(payer.name))
                                     : QObject::tr("New payer"),
                    window);
    form.addText("name", QObject::tr("Name"), payer.name);
    form.addCheck("refill_rule_applies", QObject::tr("Refills follow a window"), payer.refillRuleApplies);
    form.addNumber("contact_at_most_before", QObject::tr("Need confirmed at most"),
                   payer.contactAtMostBefore.count(), QObject::tr("days before the supply ends"));
    form.addNumber("deliver_at_most_before", QObject::tr("Delivered at most"),
                   payer.deliverAtMostBefore.count(), QObject::tr("days before the supply ends"));
    form.addNumber("most_days_held", QObject::tr("One shipment covers at most"), payer.mostDaysHeld.count(),
                   QObject::tr("days"));
    form.require({"name", "contact_at_most_before", "deliver_at_most_before", "most_days_held"});
    form.onSave(
        [&] {
            Payer r = payer;
            r.name = form.textOf("name");
            r.refillRuleApplies = form.checkOf("refill_rule_applies");
            r.contactAtMostBefore = Days::of(form.neededNumberOf("contact_at_most_before"));
            r.deliverAtMostBefore = Days::of(form.neededNumberOf("deliver_at_most_before"));
            r.mostDaysHeld = Days::of(form.neededNumberOf("most_days_held"));
            return r;
        },
        [&](const Payer &record) {
            return session.write(QObject::tr("Saved a payer"), [&](desk::Desk &d) { return d.save(record); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
