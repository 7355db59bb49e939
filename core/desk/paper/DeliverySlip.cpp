// What goes with one delivery: what is in it, by lot, how it travels, and who took it.
#include "core/desk/paper/PaperParts.h"
#include "core/desk/words/PhoneScript.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {

using namespace parts;

Paper deliverySlip(const Agency &agency, const Delivery &delivery) {
    Paper paper = blankPaper(
        agency, Text::tr("Delivery slip"),
        Text::tr("%1, for %2")
            .arg(nameWithCode(agency.index(), delivery.patient), // whoever carries it asks for a person
                 dayText(delivery.promisedFor, agency.today())),
        false);
    QStringList way{Text::tr("By: %1. It is %2.").arg(words(delivery.way), words(delivery.status))};
    if (const Patient *patient = agency.index().patient(delivery.patient))
        way << Text::tr("To: %1").arg(addressWithPostcode(patient->address));
    if (delivery.carriedBy)
        way << Text::tr("Carried by: %1").arg(nurseName(agency, *delivery.carriedBy));
    if (delivery.shippedAt)
        way << Text::tr("Shipped: %1").arg(momentText(*delivery.shippedAt));
    if (!delivery.trackingNumber.empty())
        way << Text::tr("Tracking number: %1").arg(fromStd(delivery.trackingNumber));
    if (delivery.deliveredAt)
        way << Text::tr("Delivered: %1, received by %2")
                   .arg(momentText(*delivery.deliveredAt), fromStd(delivery.receivedBy));
    if (const QString lacking = arrivedShort(delivery); !lacking.isEmpty())
        way << Text::tr("It %1:").arg(lacking);
    for (const DeliveryLine &line : delivery.lines)
        if (const QString lacking = arrivedShort(line); !lacking.isEmpty())
            way << Text::tr("%1: %2").arg(itemName(agency.index(), line.item), lacking);
    addLines(paper, Text::tr("How it travels"), way);
    Table what = table({column(Text::tr("Item")), column(Text::tr("Eaches"), Align::Right),
                        column(Text::tr("Lot")), column(Text::tr("Last day of use"))});
    for (const DeliveryLine &line : delivery.lines) {
        const Lot *lot = line.lot ? agency.index().lot(*line.lot) : nullptr;
        what.rows.push_back(
            {itemName(agency.index(), line.item).toStdString(), std::to_string(line.quantity.count()),
             lot ? lot->number : Text::tr("not picked yet").toStdString(),
             lot && lot->expiresOn ? dayText(*lot->expiresOn, Date()).toStdString() : std::string()});
    }
    add(paper, Text::tr("What is in it"), std::move(what));
    QStringList received{
        Text::tr("Name: ____________________    Relation: ______________"),
        Text::tr("Date and time: ______________    Signature: ____________________"),
        Text::tr("Staff may not sign for the patient. Check that nothing is torn or past its last day; "
                 "call us if something is missing.")};
    if (const QString call = callUs(agency); !call.isEmpty())
        received << call;
    addLines(paper, Text::tr("Received by"), received);
    addLines(paper, Text::tr("Used bottles"), {usedBottleText(agency.settings())});
    return paper;
}

} // namespace kitround::desk
