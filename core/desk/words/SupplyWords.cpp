// Words for what the supply clerk keeps beside the ledger.
#include "core/desk/words/SupplyWords.h"

#include "core/desk/Desk.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/safety/ExpiredStock.h"
#include "core/supply/Substitutes.h"

#include <set>

namespace kitround::desk {

QString firstDayText(const supply::RefillProposal &proposal, Date today) {
    const bool isPayersDay = !proposal.first || proposal.first->on <= proposal.deliverFrom;
    if (isPayersDay && proposal.deliverFrom == today)
        return dayText(today);
    if (isPayersDay)
        return Text::tr("%1 (the payer's first day)").arg(dayText(proposal.deliverFrom));
    return (proposal.first->way == DeliveryWay::Courier ? Text::tr("%1 (the first courier day)")
                                                        : Text::tr("%1 (the first visit that can bring it)"))
        .arg(dayText(proposal.first->on));
}

QString standInRatio(const SnapshotIndex &agency, ItemId ordered, ItemId standIn) {
    return Text::tr("%1 × %2 for 1 × %3")
        .arg(numberText(supply::standInPer(agency, ordered, standIn).count()), itemName(agency, standIn),
             itemName(agency, ordered));
}

QString offeredText(const supply::RefillLine &line, const SnapshotIndex &agency) {
    const QString text =
        Text::tr("%1 × %2").arg(numberText(line.quantity.count()), itemName(agency, line.item));
    if (!line.substituteFor)
        return text;
    return Text::tr("%1 (%2 for each %3)")
        .arg(text, numberText(supply::standInPer(agency, *line.substituteFor, line.item).count()),
             itemName(agency, *line.substituteFor));
}

QString servedByStandIn(const SnapshotIndex &agency, CatheterId home, ItemId ordered, Date on) {
    const Substitution *record = agency.substitutionInForce(home, ordered, on);
    return record ? Text::tr("%1 until %2")
                        .arg(standInRatio(agency, ordered, record->standIn), dayText(record->revertOn, on))
                  : QString();
}

QStringList offerDoubts(const SupplierItem &offer, const SnapshotIndex &agency) {
    QStringList doubts;
    if (offer.perCase.count() == 0)
        doubts << Text::tr("A case costs nothing: orders and the worth of the shelf would count it as free.");
    const Item *item = agency.item(offer.item);
    if (item && item->casePack.eachesPerCase != offer.pack.eachesPerCase)
        doubts << Text::tr("A case of this offer holds %1, a case of %2 on the shelf %3.")
                      .arg(QString::number(offer.pack.eachesPerCase.count()), itemName(agency, offer.item),
                           QString::number(item->casePack.eachesPerCase.count()));
    return doubts;
}

QString words(RecallAnswer answer) {
    switch (answer) {
    case RecallAnswer::NoAnswer:
        return Text::tr("no answer");
    case RecallAnswer::MessageLeft:
        return Text::tr("message left");
    case RecallAnswer::SetAside:
        return Text::tr("set aside");
    case RecallAnswer::NoneLeft:
        return Text::tr("none left");
    case RecallAnswer::Declined:
        return Text::tr("told, will not set aside");
    }
    return {};
}

QString words(CameBack where) {
    switch (where) {
    case CameBack::ToQuarantine:
        return Text::tr("It came back: to quarantine");
    case CameBack::NeverLeft:
        return Text::tr("It never left our hands: back on the shelf");
    case CameBack::Lost:
        return Text::tr("It is lost or destroyed");
    case CameBack::InCar:
        return Text::tr("It is still in the nurse's car, as car stock from now on");
    }
    return {};
}

QString arrivedShort(const Delivery &delivery) {
    Eaches packed, lacking;
    for (const DeliveryLine &line : delivery.lines) {
        packed += line.quantity;
        lacking += line.notArrived();
    }
    return lacking.isZero() ? QString()
                            : Text::tr("arrived short by %1 of %2")
                                  .arg(numberText(lacking.count()), numberText(packed.count()));
}

QString arrivedShort(const DeliveryLine &line) {
    QStringList parts;
    if (!line.damaged.isZero())
        parts << Text::tr("%1 damaged").arg(numberText(line.damaged.count()));
    if (!line.missing.isZero())
        parts << Text::tr("%1 missing").arg(numberText(line.missing.count()));
    return parts.join(QStringLiteral(", "));
}

QString words(RefillAnswer answer) {
    switch (answer) {
    case RefillAnswer::Confirmed:
        return Text::tr("yes, send it");
    case RefillAnswer::Declined:
        return Text::tr("no, nothing now");
    case RefillAnswer::NoAnswer:
        return Text::tr("nobody answered");
    }
    return {};
}

QString words(Approver approver) {
    switch (approver) {
    case Approver::Prescriber:
        return Text::tr("prescriber");
    case Approver::Nurse:
        return Text::tr("nurse");
    }
    return {};
}

QString words(Disposition disposition) {
    switch (disposition) {
    case Disposition::Destroyed:
        return Text::tr("destroyed");
    case Disposition::Donated:
        return Text::tr("donated, as the policy allows");
    case Disposition::KeptByHome:
        return Text::tr("left with the patient or family");
    case Disposition::SupplierCredit:
        return Text::tr("returned to the supplier for credit");
    }
    return {};
}

QString words(const safety::RecalledAtHome &recalled, const SnapshotIndex &agency) {
    const Lot *lot = agency.lot(recalled.lot);
    const QString number = lot ? fromStd(lot->number) : Text::tr("not known");
    return (recalled.isSetAside ? Text::tr("%1 of recalled lot %2, set aside")
                                : Text::tr("up to %1 of recalled lot %2"))
        .arg(numberText(recalled.atMost.count()), number);
}

QString recalledText(const SnapshotIndex &agency, CatheterId home, std::optional<ItemId> item) {
    QStringList all;
    for (const safety::RecalledAtHome &recalled : safety::recalledAtHome(agency, home))
        if (!item || recalled.item == *item)
            all << words(recalled, agency);
    return all.join(QStringLiteral("; "));
}

QString recalledText(const SnapshotIndex &agency, PatientId patient) {
    QStringList all;
    for (const Catheter *catheter : agency.cathetersOf(patient))
        if (const QString text = recalledText(agency, catheter->id); !text.isEmpty())
            all << text;
    return all.join(QStringLiteral("; "));
}

namespace {

QStringList expiredLots(const SnapshotIndex &agency, CatheterId home, ItemId item) {
    QStringList all;
    for (const safety::LotAtHome &at : safety::expiredLotsAtHome(agency, home, item)) {
        const Lot *lot = agency.lot(at.lot);
        all << Text::tr("%1 of lot %2, past its last day %3")
                   .arg(numberText(at.left.count()), lot ? fromStd(lot->number) : Text::tr("not known"),
                        dayText(at.expiresOn, agency.snapshot().asOf));
    }
    return all;
}

} // namespace

QString expiredText(const SnapshotIndex &agency, CatheterId home, ItemId item) {
    QStringList all = expiredLots(agency, home, item);
    if (const Substitution *s = agency.substitutionInForce(home, item, agency.snapshot().asOf))
        all += expiredLots(agency, home, s->standIn);
    return all.join(QStringLiteral("; "));
}

QString expiredText(const SnapshotIndex &agency, PatientId patient) {
    QStringList all;
    for (const Catheter *catheter : agency.cathetersOf(patient)) {
        std::set<ItemId> items;
        for (const StockBalance &balance : agency.balancesAt(Place::home(catheter->id)))
            if (items.insert(balance.item).second)
                for (const QString &lot : expiredLots(agency, catheter->id, balance.item))
                    all << Text::tr("%1: %2").arg(itemName(agency, balance.item), lot);
    }
    return all.join(QStringLiteral("; "));
}

QString countPastDateText() {
    return Text::tr("Count them with the others: they are no stock, and stay on the books until they are "
                    "written off under Stock forecast, Expiry.");
}

QString notCountedText(Eaches recalled, Eaches expired) {
    QStringList parts;
    if (!recalled.isZero())
        parts << Text::tr("up to %1 of them of a recalled lot").arg(numberText(recalled.count()));
    if (!expired.isZero())
        parts << Text::tr("%1 past their last day").arg(numberText(expired.count()));
    return parts.isEmpty() ? QString() : Text::tr("%1 and not counted").arg(parts.join(QStringLiteral(", ")));
}

QString referralsText(double eaches, const SnapshotIndex &agency) {
    if (eaches < 0.05)
        return {};
    const std::int64_t hundredths = agency.snapshot().settings[SettingKey::ReferralsPerWeekHundredths];
    const bool isAssumed = hundredths == infoOf(SettingKey::ReferralsPerWeekHundredths).preset;
    return (isAssumed
                ? Text::tr("Of these, %1 are for new referrals nobody knows yet (%2 a week, assumed: see "
                           "Settings, New referrals expected).")
                : Text::tr("Of these, %1 are for new referrals nobody knows yet (%2 a week, by Settings, "
                           "New referrals expected, or by the record)."))
        .arg(shortNumber(eaches), shortNumber(static_cast<double>(hundredths) / 100.0));
}

QString promisedText(Eaches units, Date on, Date today) {
    return Text::tr("%1 promised for %2").arg(numberText(units.count()), dayText(on, today));
}

QString words(const supply::OverOffer &over, const SnapshotIndex &agency) {
    QString text = Text::tr("%1 of %2: %3 offered")
                       .arg(numberText(over.wanted.count()), itemName(agency, over.item),
                            numberText(over.offered.count()));
    if (over.mostHeld)
        text +=
            Text::tr(", at most %1 for the days the home may hold").arg(numberText(over.mostHeld->count()));
    if (over.free)
        text += Text::tr(", %1 free in the storeroom by that day").arg(numberText(over.free->count()));
    return text + u'.';
}

std::string moreThanOffered(const std::string &why) {
    return Text::tr("More than was offered: %1").arg(fromStd(why)).toStdString();
}

std::string moreThanRecorded(const std::string &why) {
    return Text::tr("More than on record, with what was set aside: %1").arg(fromStd(why)).toStdString();
}

std::string beyondTheRecord(const std::string &why) {
    return Text::tr("Not as the record has it: %1").arg(fromStd(why)).toStdString();
}

std::string afterFirstDrain(Date firstDrain, const std::string &why) {
    return Text::tr("Not there before the first drain on %1: %2")
        .arg(dayText(firstDrain), fromStd(why))
        .toStdString();
}

} // namespace kitround::desk
