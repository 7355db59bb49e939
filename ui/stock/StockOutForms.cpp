// Forms of the expiry list and of first deliveries.
#include "core/desk/views/RefillCallView.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"
#include "ui/stock/RecalledFields.h"
#include "ui/stock/SupplyForms.h"

#include <QLineEdit>

namespace kitround::ui {
namespace {

QString titleOf(desk::RemovalWay way) {
    switch (way) {
    case desk::RemovalWay::WriteOff:
        return QObject::tr("Write off");
    case desk::RemovalWay::ToSupplier:
        return QObject::tr("Back to the supplier");
    case desk::RemovalWay::ToStoreroom:
        return QObject::tr("Out of the car");
    }
    return {};
}

std::vector<Choice> supplierChoices(const Snapshot &snapshot) {
    std::vector<Choice> choices;
    for (const Supplier &supplier : snapshot.suppliers)
        choices.push_back({QString::fromStdString(supplier.name), supplier.id.value()});
    return choices;
}

// Who sells the item, else the first on record.
qint64 likelySupplier(const Snapshot &snapshot, ItemId item) {
    for (const SupplierItem &offer : snapshot.supplierItems)
        if (offer.item == item && offer.isPreferred)
            return offer.supplier.value();
    return snapshot.suppliers.empty() ? 0 : snapshot.suppliers.front().id.value();
}

std::string quantityField(std::size_t i) {
    return "quantity_" + std::to_string(i);
}

} // namespace

bool takeStockOut(QWidget *window, Session &session, desk::StockRemoval removal) {
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    const SnapshotIndex &index = agency->index();
    const QString item = desk::itemName(index, removal.item);
    const Lot *lot = removal.lot ? index.lot(*removal.lot) : nullptr;
    RecordForm form(titleOf(removal.way), window);
    form.addNote(lot ? QObject::tr("%1, lot %2, %3.")
                           .arg(item, QString::fromStdString(lot->number), desk::words(removal.from.kind))
                     : QObject::tr("%1, %2.").arg(item, desk::words(removal.from.kind)));
    form.addNumber("quantity", QObject::tr("How many"), removal.quantity.count(), QObject::tr("eaches"));
    if (removal.way == desk::RemovalWay::ToSupplier)
        form.addChoice("supplier_id", QObject::tr("Supplier"), supplierChoices(agency->snapshot()),
                       likelySupplier(agency->snapshot(), removal.item));
    form.addText("why", QObject::tr("Why"), {});
    form.setSaveText(titleOf(removal.way));
    form.require({"quantity", "why"});
    form.onSave(
        [&] {
            removal.quantity = Eaches::of(form.neededNumberOf("quantity"));
            if (removal.way == desk::RemovalWay::ToSupplier)
                removal.supplier = SupplierId(form.choiceOf("supplier_id"));
            removal.why = form.textOf("why");
            return removal;
        },
        [&](const desk::StockRemoval &record) {
            return session.write(
                QObject::tr("%1: %2 of %3").arg(titleOf(record.way)).arg(record.quantity.count()).arg(item),
                [&](desk::Desk &d) { return d.takeOut(record); });
        });
    return form.exec() == QDialog::Accepted;
}

bool promiseStartUp(QWidget *window, Session &session, supply::StartUp start) {
    const desk::AgencyPtr agency = session.agency();
    const SnapshotIndex &index = agency->index();
    const Patient *patient = index.patient(start.patient);
    const Delivery proposed = supply::deliveryFor(start);
    if (!patient || proposed.lines.empty())
        return false;
    RecordForm form(QObject::tr("First delivery: %1").arg(desk::personName(*patient, index)), window);
    form.addNote(start.firstDrain ? QObject::tr("First drain on %1. It has to be there before.")
                                        .arg(desk::dayText(*start.firstDrain))
                                  : QObject::tr("The day of the first drain is not known."));
    for (std::size_t i = 0; i < proposed.lines.size(); ++i)
        form.addNumber(quantityField(i), desk::itemName(index, proposed.lines[i].item),
                       proposed.lines[i].quantity.count(), QObject::tr("eaches"));
    std::vector<Choice> ways{{desk::words(DeliveryWay::Courier), 0}};
    for (const Visit *visit : index.visitsOf(start.patient))
        if (visit->on && *visit->on >= agency->today() && visit->kind != VisitKind::Phone &&
            (visit->status == VisitStatus::Drafted || visit->status == VisitStatus::Published))
            ways.push_back(
                {QObject::tr("the nurse brings it on %1").arg(desk::dayText(*visit->on)), visit->id.value()});
    form.addChoice("way", QObject::tr("How"), ways, proposed.visit ? proposed.visit->value() : 0);
    form.addDate("promised_for", QObject::tr("Day"), proposed.promisedFor, session.today());
    form.addText("why_more", QObject::tr("Why more than proposed"), {});
    form.addText("why_day", QObject::tr("Why after the first drain"), {});
    form.addText("answered_by", QObject::tr("Who agreed to it"), {});
    form.addText("reason_for_need", QObject::tr("Why it is needed"), "first supply, by the order");
    RecalledFields recalled(form, session, index, start.patient); // of another catheter's stock there
    recalled.add();
    form.setSaveText(QObject::tr("Promise it"));
    struct First {
        std::vector<RecallOutcome> recalls;
        RefillContact agreed;
        Delivery delivery;
        desk::OfferReasons why;
    };
    std::vector<std::size_t> rows;
    form.require({"promised_for", "answered_by"});
    form.onSave(
        [&] {
            First first;
            recalled.require();
            first.recalls = recalled.read(form.textOf("answered_by"));
            first.agreed.patient = start.patient;
            first.agreed.at = momentNow(session);
            first.agreed.answeredBy = form.textOf("answered_by");
            first.agreed.reasonForNeed = form.textOf("reason_for_need");
            first.why.more = form.textOf("why_more");
            first.why.day = form.textOf("why_day");
            first.delivery = proposed;
            first.delivery.promisedFor = form.neededDateOf("promised_for");
            first.delivery.visit.reset();
            first.delivery.way = DeliveryWay::Courier;
            if (const VisitId visit(form.choiceOf("way")); visit.isSet()) {
                first.delivery.way = DeliveryWay::WithVisit;
                first.delivery.visit = visit;
            }
            first.delivery.lines.clear();
            rows.clear();
            for (std::size_t i = 0; i < proposed.lines.size(); ++i)
                if (const auto quantity = form.numberOf(quantityField(i)).value_or(0); quantity != 0) {
                    first.delivery.lines.push_back(proposed.lines[i]);
                    first.delivery.lines.back().quantity = Eaches::of(quantity);
                    rows.push_back(i);
                }
            return first;
        },
        [&](const First &first) -> std::optional<Problem> {
            if (auto refused = recalled.write(
                    first.recalls, QObject::tr("Recorded a recall call to %1").arg(desk::initials(*patient))))
                return refused;
            const auto problem =
                session.write(QObject::tr("Promised a first delivery to %1").arg(desk::initials(*patient)),
                              [&](desk::Desk &d) {
                                  return d.promiseFirst(first.agreed, first.delivery, start, first.why);
                              });
            if (!problem)
                return std::nullopt;
            Problems found = flattened(*problem);
            for (Problem &p : found)
                if (p.row > 0 && static_cast<std::size_t>(p.row) <= rows.size()) {
                    p.field = quantityField(rows[static_cast<std::size_t>(p.row) - 1]);
                    p.row = 0;
                }
            return recalled.atFields(joined(std::move(found)));
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
