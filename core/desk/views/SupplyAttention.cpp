#include "core/desk/views/AttentionParts.h"
#include "core/desk/views/PackedParcels.h"
#include "core/desk/views/PlanAsStored.h"
#include "core/desk/views/RefillCallView.h"
#include "core/desk/views/StartUpView.h"
#include "core/desk/views/SubstitutionView.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/CarStock.h"
#include "core/supply/Recall.h"
#include "core/supply/StartUps.h"

#include <algorithm>
#include <map>
#include <set>

namespace kitround::desk::parts {
namespace {

constexpr Days kExpirySoon = Days::of(14); // a lot is worth a walk to the shelf from here on (assumed)

QString lotNumber(const Agency &agency, LotId id) {
    const Lot *lot = agency.index().lot(id);
    return lot ? fromStd(lot->number) : Text::tr("not known");
}

std::optional<PatientId> patientAt(const Agency &agency, const Place &place) {
    if (place.kind != PlaceKind::Home)
        return std::nullopt;
    const Catheter *catheter = agency.index().catheter(CatheterId(place.ref));
    return catheter ? std::optional(catheter->patient) : std::nullopt;
}

QString placeText(const Agency &agency, const Place &place) {
    if (place.kind == PlaceKind::Home) {
        const auto patient = patientAt(agency, place);
        return Text::tr("at the home of %1")
            .arg(patient ? shortName(agency, *patient) : Text::tr("an unknown patient"));
    }
    if (place.kind == PlaceKind::Car)
        if (const Nurse *nurse = agency.index().nurse(NurseId(place.ref)))
            return Text::tr("in the car of %1").arg(personName(*nurse));
    return Text::tr("in: %1").arg(words(place.kind));
}

void addRunOut(Items &items, const Agency &agency, const HomeRow &row, double target) {
    const Date today = agency.today();
    const bool isEmpty = row.usable().count() <= 0;
    if (row.isOnHold || row.knowledge == forecast::StockKnowledge::Unknown ||
        (!isEmpty && row.chanceDry7 <= target))
        return;
    AttentionItem item;
    item.kind = AttentionKind::RunOut;
    item.harm = isEmpty || (row.runOutP10 && *row.runOutP10 <= today.plusDays(2)) ? Harm::Today : Harm::Soon;
    item.patient = row.patient;
    item.item = row.item;
    item.dueOn = isEmpty ? std::optional(today) : row.runOutP10;
    item.title = Text::tr("%1 may run out of %2").arg(shortName(agency, row.patient), row.itemName);
    item.detail =
        row.onHand.count() < 0
            ? Text::tr("The record says %1 fewer than none in the home (%2; %3): something there was never "
                       "written down. Count again. Chance of running dry within 7 days: %4.")
                  .arg(numberText(-row.onHand.count()), words(row.knowledge), row.place,
                       chanceText(row.chanceDry7))
            : Text::tr("By the record %1 in the home (%2; %3). Chance of running dry within 7 days: %4.")
                  .arg(numberText(row.onHand.count()), words(row.knowledge), row.place,
                       chanceText(row.chanceDry7));
    if (!row.recalled.isZero())
        item.detail += u' ' + Text::tr("Not counted: %1.").arg(row.recall);
    if (!row.expired.isZero())
        item.detail += u' ' + Text::tr("Not counted: %1.").arg(row.past);
    if (row.runOutP10)
        item.detail += u' ' + Text::tr("Dry by %1 in 1 of 10 cases.").arg(dayText(*row.runOutP10, today));
    if (!row.promised.isEmpty())
        item.detail += u' ' + Text::tr("A delivery is promised; see that it goes out.");
    items.push_back(std::move(item));
}

void addRefill(Items &items, const Agency &agency, const supply::RefillProposal &p) {
    if (p.urgency == supply::RefillUrgency::Later)
        return;
    AttentionItem item;
    item.kind = AttentionKind::RefillCall;
    item.harm = p.urgency == supply::RefillUrgency::CallSoon ? Harm::Soon : Harm::Today;
    item.patient = p.patient;
    item.dueOn = p.callBy;
    const QString answered = answeredTodayText(agency.index(), p.patient);
    item.title = Text::tr("Refill call to %1: %2")
                     .arg(shortName(agency, p.patient), answered.isEmpty() ? words(p.urgency) : answered);
    item.detail = reason(p, agency.index());
    if (const QString called = calledTodayText(agency.index(), p.patient); !called.isEmpty())
        item.detail = Text::tr("Called today %1. ").arg(called) + item.detail;
    if (!answered.isEmpty())
        item.harm = Harm::Soon;
    items.push_back(std::move(item));
}

// Of one patient, by catheter: items of which nobody knows how many there are.
using UnknownOf = std::map<CatheterId, QStringList>;

// "Kit 500 mL", with its catheter where several are asked about.
QString unknownNames(const Agency &agency, const UnknownOf &unknown, CatheterId id) {
    QStringList names = unknown.at(id);
    names.removeDuplicates();
    const QString text = names.join(QStringLiteral(", "));
    const Catheter *catheter = unknown.size() > 1 ? agency.index().catheter(id) : nullptr;
    return catheter ? QStringLiteral("%1 (%2)").arg(text, catheterText(*catheter)) : text;
}

AttentionItem unknownLine(const Agency &agency, PatientId patient) {
    AttentionItem item;
    item.kind = AttentionKind::UnknownStock;
    item.harm = Harm::Soon;
    item.patient = item.formOf = patient;
    item.title = shortName(agency, patient);
    return item;
}

QString firstText(const StartUpRow &row, Date today, const QString &names) {
    QStringList told{
        Text::tr("A new catheter, and nothing was ever delivered, counted or drained for it: %1.")
            .arg(names)};
    if (row.mayPromise)
        told << Text::tr("Promise the first delivery: %1 (%2).").arg(row.items, row.way);
    if (row.start.isLate)
        told << Text::tr("It does not get there before the first drain.");
    else if (row.start.firstDrain)
        told << Text::tr("The first drain is on %1.").arg(dayText(*row.start.firstDrain, today));
    if (!row.gaps.isEmpty())
        told << row.gaps;
    return told.join(u' ');
}

// Nobody has been there yet: what is to do is not to ask but to send. Of several catheters the line says
// which.
AttentionItem askForFirst(const Agency &agency, const StartUpRow &row, const UnknownOf &unknown) {
    const Date today = agency.today();
    const supply::StartUp &start = row.start;
    AttentionItem item = unknownLine(agency, start.patient);
    const Catheter *catheter = unknown.size() > 1 ? agency.index().catheter(start.catheter) : nullptr;
    item.title =
        Text::tr("First supplies for %1")
            .arg(catheter ? QStringLiteral("%1 (%2)").arg(item.title, catheterText(*catheter)) : item.title);
    item.form = NextForm::FirstDelivery;
    item.firstFor = start.catheter;
    item.dueOn = start.deliverOn;
    if (start.isLate || (item.dueOn && *item.dueOn <= today.plusDays(1)))
        item.harm = Harm::Today;
    item.detail = firstText(row, today, unknownNames(agency, unknown, start.catheter)) + u' ' +
                  Text::tr("Where the home has supplies already, record a count instead.");
    return item;
}

// `never`: nothing was counted or delivered; `inUse`: the same where the home drains since before the records
// begin; `coming`: their first delivery is on its way.
AttentionItem askForCount(const Agency &agency, PatientId patient, const QStringList &never,
                          const QStringList &inUse, const QStringList &coming) {
    AttentionItem item = unknownLine(agency, patient);
    item.title =
        (inUse.isEmpty() ? Text::tr("What does %1 have at home?") : Text::tr("Count the home of %1 first"))
            .arg(item.title);
    item.form = NextForm::Count;
    QStringList told;
    if (!inUse.isEmpty())
        told << Text::tr("In use for more than a week, and nothing was ever counted or delivered by this "
                         "record: %1. Phone the home, ask what is on the shelf, and record the count, also a "
                         "count of 0; no run-out date and no delivery can be proposed until then.")
                    .arg(inUse.join(QStringLiteral(", ")));
    if (!never.isEmpty())
        told << Text::tr("Never counted, never delivered: %1. Phone the home, ask what is on the shelf, and "
                         "record the count; no run-out date can be given until then.")
                    .arg(never.join(QStringLiteral(", ")));
    if (!coming.isEmpty())
        told << Text::tr("The first delivery is on its way and nothing was counted: %1. Once it is there the "
                         "stock is known; record a count where the home has some already.")
                    .arg(coming.join(QStringLiteral(", ")));
    item.detail = told.join(u' ');
    return item;
}

// However many items nobody has counted: a line for each new catheter, which is sent its first supplies, and
// one for what the patient is asked.
void addUnknownStock(Items &items, const Agency &agency, const StockPicture &stock) {
    std::map<PatientId, UnknownOf> unknown;
    for (const forecast::ItemForecast &home : stock.homes)
        if (home.knowledge == forecast::StockKnowledge::Unknown && !home.isOnHold)
            unknown[home.patient][home.catheter] << itemName(agency.index(), home.item);
    if (unknown.empty())
        return;
    std::map<PatientId, std::vector<StartUpRow>> starts;
    for (StartUpRow &row : startUpRows(stock))
        starts[row.start.patient].push_back(std::move(row));
    for (const auto &[patient, of] : unknown) {
        std::set<CatheterId> sent;
        for (const StartUpRow &row : starts[patient])
            if (of.contains(row.start.catheter)) {
                items.push_back(askForFirst(agency, row, of));
                sent.insert(row.start.catheter);
            }
        QStringList never, inUse, coming;
        for (const auto &[id, itemNames] : of) {
            if (sent.contains(id))
                continue;
            const Catheter *catheter = agency.index().catheter(id);
            const bool isFirst = catheter && supply::awaitsFirstDelivery(agency.index(), *catheter);
            const bool isComing = isFirst && supply::isOnItsWay(agency.index(), *catheter);
            const bool isOld = isFirst && supply::isInUse(agency.index(), *catheter);
            (isComing ? coming : isOld ? inUse : never) << unknownNames(agency, of, id);
        }
        if (!never.isEmpty() || !inUse.isEmpty() || !coming.isEmpty())
            items.push_back(askForCount(agency, patient, never, inUse, coming));
    }
}

void addDelivery(Items &items, const Agency &agency, const Delivery &d) {
    const bool isOpen = d.status == DeliveryStatus::Promised || d.status == DeliveryStatus::Picked ||
                        d.status == DeliveryStatus::InTransit;
    const Date today = agency.today();
    if (!isOpen || d.promisedFor > today.plusDays(1))
        return;
    AttentionItem item;
    item.kind = AttentionKind::DeliveryDue;
    item.harm = d.promisedFor <= today ? Harm::Today : Harm::Soon;
    item.patient = d.patient;
    item.dueOn = d.promisedFor;
    item.title = Text::tr("Delivery to %1").arg(shortName(agency, d.patient));
    item.detail =
        (d.way == DeliveryWay::WithVisit ? Text::tr("Promised for %1, to come with a visit; it is %2.")
                                         : Text::tr("Promised for %1, by courier; it is %2."))
            .arg(dayText(d.promisedFor, today), words(d.status));
    if (d.promisedFor < today)
        item.detail += u' ' + Text::tr("The day has passed: find out where it is, and tell the home.");
    const Visit *visit = d.visit ? agency.index().visit(*d.visit) : nullptr;
    const QString elsewhere = visit && !hasHappened(visit->status)
                                  ? parcelText(agency.index(), *visit, agency.index().toldPlace(*visit))
                                  : QString();
    if (!elsewhere.isEmpty())
        item.detail += u' ' + elsewhere + u'.';
    items.push_back(std::move(item));
}

constexpr Days kRevertSoon = Days::of(3); // time for a delivery of the ordered size (assumed)

void addSubstitution(Items &items, const Agency &agency, const SubstitutionRow &row) {
    const Date today = agency.today();
    if (row.record.revertedOn || row.record.revertOn > today + kRevertSoon)
        return;
    AttentionItem item;
    item.kind = AttentionKind::SubstitutionDue;
    item.harm = row.isDue ? Harm::Today : Harm::Soon;
    item.patient = row.patient;
    item.item = row.record.item;
    item.dueOn = row.record.revertOn;
    item.title = Text::tr("%1 goes back to %2").arg(shortName(agency, row.patient), row.item);
    item.detail =
        Text::tr("%1 has stood in for it since %2; the day to go back is %3. See that the ordered size "
                 "is there and the home knows, then close the substitution.")
            .arg(row.standIn, dayText(row.record.from, today), dayText(row.record.revertOn, today));
    items.push_back(std::move(item));
}

void addPurchase(Items &items, const Agency &agency, const PurchaseOrder &order) {
    const bool isOpen =
        order.status == PurchaseStatus::Sent || order.status == PurchaseStatus::PartlyReceived;
    if (!isOpen || !order.expectedOn || *order.expectedOn >= agency.today())
        return;
    const Supplier *supplier = agency.index().supplier(order.supplier);
    AttentionItem item;
    item.kind = AttentionKind::OrderLate;
    item.harm = Harm::Soon;
    item.dueOn = order.expectedOn;
    item.title = Text::tr("Order %1 is late").arg(fromStd(order.number));
    item.detail = Text::tr("Expected from %1 on %2; it is %3. Ask for a new date.")
                      .arg(supplier ? fromStd(supplier->name) : Text::tr("the supplier"),
                           dayText(*order.expectedOn, agency.today()), words(order.status));
    items.push_back(std::move(item));
}

// Nobody of the agency has it any more: the home it goes to is rung.
void sayUnderWay(AttentionItem &item, const Agency &agency, const Delivery &delivery, const QString &lot,
                 const QString &what) {
    const Patient *patient = agency.index().patient(delivery.patient);
    item.patient = delivery.patient;
    item.title =
        Text::tr("Recalled lot %1 is on its way to %2").arg(lot, shortName(agency, delivery.patient));
    item.detail =
        Text::tr("%1. Ring the home (%2): refuse the parcel, or set it aside unopened. Record the call from "
                 "the list of where the lot went.")
            .arg(what, patient && !patient->phone.empty() ? fromStd(patient->phone)
                                                          : Text::tr("no phone on record"));
}

// The nurse carries it until somebody records that it was taken out.
void sayInCar(AttentionItem &item, const Agency &agency, const StockBalance &b, const Lot &lot) {
    const NurseId id(b.place.ref);
    const Nurse *nurse = agency.index().nurse(id);
    if (!nurse)
        return;
    item.nurse = id;
    item.title = Text::tr("%1 carries %2 of recalled lot %3")
                     .arg(personName(*nurse), numberText(b.quantity.count()), fromStd(lot.number));
    item.detail =
        Text::tr("%1, in the car. Tell the nurse today: do not use it, set it aside with its label. "
                 "Once it is out, record that under Stock forecast, Storeroom, \"Where did this lot go\".")
            .arg(itemName(agency.index(), b.item));
    const Eaches packed = supply::packedInCar(agency.index(), id, b.item, lot.id);
    if (packed.count() > 0)
        item.detail += u' ' + Text::tr("Of these, %1 are packed for a home: cancel that delivery once the "
                                       "parcel is back.")
                                  .arg(numberText(packed.count()));
}

void addRecalled(Items &items, const Agency &agency, const StockBalance &b) {
    // Homes are on the list as calls; what stands in quarantine is where it should be.
    if (!b.lot || b.quantity.count() <= 0 || b.place.kind == PlaceKind::Home ||
        b.place.kind == PlaceKind::Quarantine)
        return;
    const Lot *lot = agency.index().lot(*b.lot);
    if (!lot || lot->state != LotState::Recalled)
        return;
    AttentionItem item;
    item.kind = AttentionKind::LotRecalled;
    item.harm = Harm::Today;
    item.item = b.item;
    item.title = Text::tr("Recalled lot %1 %2").arg(fromStd(lot->number), placeText(agency, b.place));
    item.detail = Text::tr("%1 of %2. Do not use; set aside with the label and move to quarantine.")
                      .arg(numberText(b.quantity.count()), itemName(agency.index(), b.item));
    if (b.place.kind == PlaceKind::Car)
        sayInCar(item, agency, b, *lot);
    const Delivery *delivery =
        b.place.kind == PlaceKind::Transit ? agency.index().delivery(DeliveryId(b.place.ref)) : nullptr;
    if (delivery && supply::leftWithCarrier(*delivery))
        sayUnderWay(
            item, agency, *delivery, fromStd(lot->number),
            Text::tr("%1 of %2").arg(numberText(b.quantity.count()), itemName(agency.index(), b.item)));
    items.push_back(std::move(item));
}

void addExpiring(Items &items, const Agency &agency, const supply::ExpiringLot &e) {
    const Date today = agency.today();
    AttentionItem item;
    item.kind = AttentionKind::LotExpiring;
    item.harm = e.expiresOn <= today + kExpirySoon ? Harm::Soon : Harm::Tidy;
    item.patient = patientAt(agency, e.place);
    item.item = e.item;
    item.dueOn = e.expiresOn;
    item.title = (e.expiresOn < today ? Text::tr("Lot %1 expired %2, %3") : Text::tr("Lot %1 expires %2, %3"))
                     .arg(lotNumber(agency, e.lot), dayText(e.expiresOn, today), placeText(agency, e.place));
    item.detail =
        e.expiresOn < today
            ? counted(e.quantity.count(),
                      Text::tr("1 of %2 is past its date. Do not use; set aside with the label."),
                      Text::tr("%1 of %2 are past their date. Do not use; set aside with the label."))
                  .replace(QStringLiteral("%2"), itemName(agency.index(), e.item))
            : Text::tr("%1 of %2, last day of use %3. Use them first.")
                  .arg(numberText(e.quantity.count()), itemName(agency.index(), e.item),
                       dayText(e.expiresOn, today));
    items.push_back(std::move(item));
}

void addReorder(Items &items, const Agency &agency, const supply::SupplierReorder &r) {
    const auto isShort = [](const supply::ReorderLine &line) {
        return std::ranges::find(line.flags, supply::ReorderFlag::ShortBeforeArrival) != line.flags.end();
    };
    const Supplier *supplier = agency.index().supplier(r.supplier);
    AttentionItem item;
    item.kind = AttentionKind::ReorderDue;
    item.harm =
        r.orderOn <= agency.today() || std::ranges::any_of(r.lines, isShort) ? Harm::Today : Harm::Soon;
    item.dueOn = r.orderOn;
    if (!supplier) {
        item.title = Text::tr("Items without a supplier are needed");
        QStringList names;
        for (const supply::ReorderLine &line : r.lines)
            names << itemName(agency.index(), line.item);
        item.detail = Text::tr("%1. Enter who sells them.").arg(names.join(QStringLiteral(", ")));
    } else {
        item.title = Text::tr("Order from %1").arg(fromStd(supplier->name));
        item.detail =
            counted(static_cast<std::int64_t>(r.lines.size()), Text::tr("1 line, %2, to be placed by %3."),
                    Text::tr("%1 lines, %2, to be placed by %3."))
                .replace(QStringLiteral("%2"), moneyText(r.total, agency.settings().currency))
                .replace(QStringLiteral("%3"), dayText(r.orderOn, agency.today()));
        if (!r.meetsMinimum)
            item.detail += u' ' + Text::tr("It does not reach the supplier's minimum of %1.")
                                      .arg(moneyText(r.leastOrder, agency.settings().currency));
        for (const supply::ReorderLine &line : r.lines)
            if (isShort(line))
                item.detail +=
                    u' ' + Text::tr("%1 may run short before it arrives (%2).")
                               .arg(itemName(agency.index(), line.item), chanceText(line.chanceShortBefore));
    }
    items.push_back(std::move(item));
}

} // namespace

void addHomes(Items &items, const StockPicture &stock) {
    const Agency &agency = *stock.agency;
    const double target = static_cast<double>(agency.settings()[SettingKey::RunOutTargetPermille]) / 1000.0;
    for (const HomeRow &row : homeRows(stock))
        addRunOut(items, agency, row, target);
    for (const supply::RefillProposal &p : stock.refills)
        addRefill(items, agency, p);
    addUnknownStock(items, agency, stock);
}

void addStoreroom(Items &items, const Agency &agency, const StockPicture *stock) {
    for (const Delivery &d : agency.snapshot().deliveries)
        addDelivery(items, agency, d);
    for (const SubstitutionRow &row : substitutionRows(agency, false))
        addSubstitution(items, agency, row);
    for (const PurchaseOrder &order : agency.snapshot().purchaseOrders)
        addPurchase(items, agency, order);
    for (const StockBalance &b : agency.snapshot().balances)
        addRecalled(items, agency, b);
    if (!stock)
        return;
    for (const supply::ExpiringLot &e : stock->expiring)
        addExpiring(items, agency, e);
    for (const supply::SupplierReorder &r : stock->reorders)
        addReorder(items, agency, r);
}

} // namespace kitround::desk::parts
