// What ends care: leaving service, which is shown before it is done, and the way back from a mistake; a
// catheter out. All tell afterwards what stopped and what is left to do.
#include "core/desk/views/LocalTimes.h"
#include "core/desk/views/PackedParcels.h"
#include "core/desk/words/SupplyWords.h"
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

// A parcel in a nurse's car is not back on the shelf because care has ended: whoever has it says where it is.
void askCarParcels(RecordForm &form, bool isAsked) {
    if (isAsked)
        form.addChoice("car_parcels", QObject::tr("The parcel packed in the nurse's car"),
                       choicesOf({desk::CameBack::InCar, desk::CameBack::ToQuarantine,
                                  desk::CameBack::NeverLeft, desk::CameBack::Lost},
                                 [](desk::CameBack where) { return desk::words(where); }),
                       static_cast<qint64>(desk::CameBack::InCar));
}
desk::CameBack carParcelsOf(const RecordForm &form, bool isAsked) {
    return isAsked ? static_cast<desk::CameBack>(form.choiceOf("car_parcels")) : desk::CameBack::InCar;
}

} // namespace

QString exitEffectText(const desk::ExitEffect &effect, const desk::Agency &agency) {
    QStringList lines;
    lines << QObject::tr("Visits cancelled: %1").arg(desk::numberText(effect.visitsCancelled));
    lines << QObject::tr("Deliveries cancelled: %1").arg(desk::numberText(effect.deliveriesCancelled));
    lines << QObject::tr("Orders ended: %1").arg(desk::numberText(effect.ordersEnded));
    lines << QObject::tr("Calls closed: %1").arg(desk::numberText(effect.callsClosed));
    lines << QObject::tr("Pieces of stock free again: %1").arg(desk::numberText(effect.freed.count()));
    if (effect.fromCars.count() > 0)
        lines << desk::counted(effect.fromCars.count(),
                               QObject::tr("From a parcel in a nurse's car, not back on the shelf: 1 piece"),
                               QObject::tr("From parcels in nurses' cars, not back on the shelf: %1 pieces"));
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

QString exitUndoneText(const desk::ExitUndone &undone, const desk::Agency &agency) {
    QStringList lines;
    lines << QObject::tr("Orders in force again: %1").arg(desk::numberText(undone.ordersReopened));
    lines << QObject::tr("Calls open again: %1").arg(desk::numberText(undone.callsReopened));
    if (undone.goesOnHold)
        lines << QObject::tr("The hold that was ended goes on.");
    if (undone.visitsCancelled > 0)
        lines << desk::counted(
            undone.visitsCancelled,
            QObject::tr("1 visit stays cancelled. What the orders owe is due again: plan or "
                        "mend the week. A visit beside the orders is added anew."),
            QObject::tr("%1 visits stay cancelled. What the orders owe is due again: plan "
                        "or mend the week. A visit beside the orders is added anew."));
    for (const DeliveryId id : undone.toPromise)
        if (const Delivery *delivery = deliveryOf(agency, id))
            lines << QObject::tr("To be promised anew: the delivery of %1 (%2).")
                         .arg(desk::dayText(delivery->promisedFor, agency.today()),
                              desk::words(delivery->way));
    for (const Date from : undone.holdsToEnter)
        lines
            << QObject::tr("To be entered anew: the hold from %1.").arg(desk::dayText(from, agency.today()));
    return lines.join(QLatin1Char('\n'));
}

bool backOnService(QWidget *window, Session &session, Patient patient) {
    const desk::AgencyPtr agency = session.agency();
    RecordForm form(
        QObject::tr("Left service by mistake: %1").arg(desk::personName(patient, agency->index())), window);
    form.addNote(QObject::tr(
        "For an exit that should not have been entered. In one step: the status is what it was, the orders "
        "that the exit ended are in force again, and its calls are open. Visits and deliveries stay "
        "cancelled; what has to be planned, promised or entered anew is told. Who comes back after time away "
        "from service gets a new referral and new orders instead."));
    form.addText("why", QObject::tr("What happened"), {});
    form.setSaveText(QObject::tr("Back on service"));
    form.require({"why"});
    std::optional<desk::ExitUndone> undone;
    form.onSave([&] { return form.textOf("why"); },
                [&](const std::string &why) {
                    return session.write(QObject::tr("%1 is back on service").arg(desk::personName(patient)),
                                         [&](desk::Desk &d) {
                                             auto done = d.undoExit(patient.id, why);
                                             if (done)
                                                 undone = *done;
                                             return done;
                                         });
                });
    if (form.exec() != QDialog::Accepted || !undone)
        return false;
    Ask::tell(window, QObject::tr("%1 is back on service").arg(desk::personName(patient)),
              exitUndoneText(*undone, *agency));
    return true;
}

namespace {

// What it would do is read before it is done, and Enter goes back.
bool isExitMeant(RecordForm &form, const desk::ExitRecord &record, const Patient &patient,
                 const desk::ExitEffect &effect, const desk::Agency &agency) {
    const QString name = desk::personName(patient, agency.index());
    return Ask::confirm(&form, QObject::tr("What this ends: %1").arg(name),
                        QObject::tr("%1 leaves service: %2, from %3.\n\n%4")
                            .arg(name, desk::words(record.to),
                                 desk::momentText(desk::localTimeOf(agency, record.at)),
                                 exitEffectText(effect, agency)),
                        QObject::tr("Leaves service now"), QObject::tr("Go back"));
}

void addExitFields(RecordForm &form, Session &session) {
    form.addNote(QObject::tr(
        "From this moment, in one step: visits to come are cancelled, deliveries not yet sent are cancelled "
        "and their stock is free again, drain orders and visit orders end, and reminders and calls about "
        "this person close. The record, the log and the lots sent to the home are kept, so that a recall "
        "still reaches the home. It is shown before it is done."));
    constexpr qint64 kNobodySaid = -1;
    form.addChoice("to", QObject::tr("Leaves because"),
                   choicesOf({CareStatus::Discharged, CareStatus::Transferred, CareStatus::Deceased},
                             [](CareStatus s) { return desk::words(s); }),
                   kNobodySaid);
    addMoment(form, "exited_at", QObject::tr("On"), session.now(), session.today());
    form.addText("exit_reason", QObject::tr("Reason"), {});
    form.setSaveText(QObject::tr("Show what this ends…"));
    form.require({"to", "exited_at", "exited_at_time", "exit_reason"});
}

} // namespace

bool leaveService(QWidget *window, Session &session, Patient patient) {
    const desk::AgencyPtr agency = session.agency();
    RecordForm form(
        QObject::tr("Leaves service: %1").arg(desk::personName(patient, session.agency()->index())), window);
    addExitFields(form, session);
    const bool isParcelAsked = desk::endsWithParcelInCar(agency->index(), patient.id);
    askCarParcels(form, isParcelAsked);
    std::optional<desk::ExitEffect> effect;
    form.onSave(
        [&] {
            desk::ExitRecord record;
            record.patient = patient.id;
            record.to = static_cast<CareStatus>(form.neededChoiceOf("to"));
            record.at = desk::instantOf(*agency, readNeededMoment(form, "exited_at"));
            record.reason = form.textOf("exit_reason");
            if (record.reason.empty())
                form.addReadFault({ProblemCode::Missing, "exit_reason"});
            record.carParcels = carParcelsOf(form, isParcelAsked);
            return record;
        },
        [&](const desk::ExitRecord &record) -> std::optional<Problem> {
            const auto would = session.desk().previewExit(record);
            if (!would)
                return would.error();
            if (!isExitMeant(form, record, patient, *would, *agency))
                return Problem{ProblemCode::Cancelled};
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
    const bool isParcelAsked = desk::endsWithParcelInCar(agency->index(), catheter.patient, catheter.id);
    askCarParcels(form, isParcelAsked);
    form.setSaveText(QObject::tr("Catheter is out"));
    std::optional<desk::ExitEffect> effect;
    form.require({"removed_at", "removed_at_time"});
    struct Out {
        LocalTime at;
        std::string why;
        desk::CameBack carParcels;
    };
    form.onSave(
        [&] {
            return Out{readNeededMoment(form, "removed_at"), form.textOf("removal_reason"),
                       carParcelsOf(form, isParcelAsked)};
        },
        [&](const Out &out) {
            return session.write(QObject::tr("Recorded a catheter out"), [&](desk::Desk &d) {
                auto done =
                    d.removeCatheter(catheter.id, desk::instantOf(*agency, out.at), out.why, out.carParcels);
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
