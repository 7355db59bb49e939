// What ends care: leaving service, a catheter out. Both tell afterwards what stopped and what is left to do.
#include "core/desk/views/LocalTimes.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/people/CareForms.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

namespace kitround::ui {
namespace {

const Delivery *deliveryOf(const desk::Agency &agency, DeliveryId id) {
    for (const Delivery &delivery : agency.snapshot().deliveries)
        if (delivery.id == id)
            return &delivery;
    return nullptr;
}

} // namespace

QString exitEffectText(const desk::ExitEffect &effect, const desk::Agency &agency) {
    QStringList lines;
    lines << QObject::tr("Visits cancelled: %1").arg(effect.visitsCancelled);
    lines << QObject::tr("Deliveries cancelled: %1").arg(effect.deliveriesCancelled);
    lines << QObject::tr("Orders ended: %1").arg(effect.ordersEnded);
    lines << QObject::tr("Calls closed: %1").arg(effect.callsClosed);
    lines << QObject::tr("Pieces of stock free again: %1").arg(effect.freed.count());
    if (effect.leftAtHome.count() > 0)
        lines << desk::counted(
            effect.leftAtHome.count(),
            QObject::tr("Left at the home by the record: 1 piece. It never goes back to the "
                        "shelf: settle it under Stock forecast, Closed homes."),
            QObject::tr("Left at the home by the record: %1 pieces. They never go back to "
                        "the shelf: settle them under Stock forecast, Closed homes."));
    for (const DeliveryId id : effect.inTransit) {
        const Delivery *delivery = deliveryOf(agency, id);
        lines << (delivery
                      ? QObject::tr(
                            "A parcel is on its way already, promised for %1 (%2). Call to stop or fetch it.")
                            .arg(desk::dayText(delivery->promisedFor, agency.today()),
                                 desk::words(delivery->way))
                      : QObject::tr("A parcel is on its way already. Call to stop or fetch it."));
    }
    return lines.join(QLatin1Char('\n'));
}

bool leaveService(QWidget *window, Session &session, Patient patient) {
    const desk::AgencyPtr agency = session.agency();
    RecordForm form(
        QObject::tr("Leaves service: %1").arg(desk::personName(patient, session.agency()->index())), window);
    form.addNote(QObject::tr(
        "From this moment, in one step: visits to come are cancelled, deliveries not yet sent are cancelled "
        "and their stock is free again, drain orders and visit orders end, and reminders and calls about "
        "this "
        "person close. The record, the log and the lots sent to the home are kept, so that a recall still "
        "reaches the home."));
    form.addChoice("to", QObject::tr("Leaves because"),
                   choicesOf({CareStatus::Discharged, CareStatus::Transferred, CareStatus::Deceased},
                             [](CareStatus s) { return desk::words(s); }),
                   static_cast<qint64>(CareStatus::Discharged));
    addMoment(form, "exited_at", QObject::tr("On"), session.now(), session.today());
    form.addText("exit_reason", QObject::tr("Reason"), {});
    form.setSaveText(QObject::tr("Leaves service now"));
    std::optional<desk::ExitEffect> effect;
    form.require({"exited_at", "exited_at_time"});
    form.onSave(
        [&] {
            desk::ExitRecord record;
            record.patient = patient.id;
            record.to = static_cast<CareStatus>(form.choiceOf("to"));
            record.at = desk::instantOf(*agency, readNeededMoment(form, "exited_at"));
            record.reason = form.textOf("exit_reason");
            return record;
        },
        [&](const desk::ExitRecord &record) {
            return session.write(QObject::tr("%1 left service").arg(desk::personName(patient)),
                                 [&](desk::Desk &d) {
                                     auto done = d.exitPatient(record);
                                     if (done)
                                         effect = *done;
                                     return done;
                                 });
        });
    if (form.exec() != QDialog::Accepted || !effect)
        return false;
    Ask::tell(window, QObject::tr("%1 left service").arg(desk::personName(patient)),
              exitEffectText(*effect, *agency));
    return true;
}

bool takeCatheterOut(QWidget *window, Session &session, Catheter catheter) {
    const desk::AgencyPtr agency = session.agency();
    RecordForm form(QObject::tr("Catheter out: %1").arg(desk::catheterText(catheter)), window);
    form.addNote(
        QObject::tr("This catheter's drain order and refills end. With the last catheter out, visits for "
                    "drains end too."));
    addMoment(form, "removed_at", QObject::tr("Taken out on"), session.now(), session.today());
    form.addText("removal_reason", QObject::tr("Reason"), {});
    form.setSaveText(QObject::tr("Catheter is out"));
    std::optional<desk::ExitEffect> effect;
    form.require({"removed_at", "removed_at_time"});
    form.onSave(
        [&] { return std::pair(readNeededMoment(form, "removed_at"), form.textOf("removal_reason")); },
        [&](const std::pair<LocalTime, std::string> &out) {
            return session.write(QObject::tr("Recorded a catheter out"), [&](desk::Desk &d) {
                auto done = d.removeCatheter(catheter.id, desk::instantOf(*agency, out.first), out.second);
                if (done)
                    effect = *done;
                return done;
            });
        });
    if (form.exec() != QDialog::Accepted || !effect)
        return false;
    Ask::tell(window, QObject::tr("The catheter is out"), exitEffectText(*effect, *agency));
    return true;
}

} // namespace kitround::ui
