#include "core/desk/views/PatientView.h"

#include "core/calendar/DrainCalendar.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <set>
#include <string_view>
#include <tuple>
#include <utility>

namespace kitround::desk {
namespace {

constexpr std::int64_t kDaysAhead = 14;

QString noteOf(const Agency &agency, const Patient &patient, const std::vector<const Catheter *> &inPlace) {
    const Date today = agency.today();
    if (const Hold *hold = agency.index().holdOn(patient.id, today))
        return Text::tr("%1 since %2").arg(words(hold->kind), dayText(hold->from, today));
    if (!isOnService(patient.status))
        return {};
    if (inPlace.empty())
        return Text::tr("no catheter in place");
    for (const Catheter *catheter : inPlace)
        if (!agency.index().orderInForce(catheter->id, today))
            return Text::tr("no drain order (%1)").arg(catheterText(*catheter));
    return {};
}

} // namespace

std::vector<PatientRow> patientRows(const Agency &agency) {
    std::vector<PatientRow> rows;
    for (const Patient &patient : agency.snapshot().patients) {
        PatientRow row;
        row.patient = patient.id;
        row.code = fromStd(patient.code);
        row.name = personName(patient);
        row.status = words(patient.status);
        if (const Nurse *nurse = patient.primaryNurse ? agency.index().nurse(*patient.primaryNurse) : nullptr)
            row.primaryNurse = personName(*nurse);
        std::vector<const Catheter *> inPlace;
        for (const Catheter *catheter : agency.index().cathetersOf(patient.id))
            if (!catheter->removedAt)
                inPlace.push_back(catheter);
        QStringList catheters;
        for (const Catheter *catheter : inPlace)
            catheters << catheterText(*catheter);
        row.catheters = catheters.join(QStringLiteral("; "));
        row.isOnHold = agency.index().holdOn(patient.id, agency.today()) != nullptr;
        row.note = noteOf(agency, patient, inPlace);
        rows.push_back(std::move(row));
    }
    std::ranges::stable_sort(rows, {}, [](const PatientRow &r) { return std::pair(r.name, r.patient); });
    return rows;
}

const Patient *sameName(const Agency &agency, const Patient &record) {
    const auto plain = [](const Patient &p) {
        return std::pair(fromStd(p.familyName).simplified().toCaseFolded(),
                         fromStd(p.givenName).simplified().toCaseFolded());
    };
    const auto wanted = plain(record);
    const Patient *before = agency.index().patient(record.id);
    if (before && plain(*before) == wanted && before->bornOn == record.bornOn)
        return nullptr;
    for (const Patient &other : agency.snapshot().patients) {
        const bool isOther = other.bornOn && record.bornOn && *other.bornOn != *record.bornOn;
        if (other.id != record.id && !isOther && plain(other) == wanted)
            return &other;
    }
    return nullptr;
}

QString sameNameText(const Agency &agency, const Patient &other) {
    const QString born = other.bornOn ? Text::tr("born %1").arg(dayText(*other.bornOn, agency.today()))
                                      : Text::tr("born on a day not known");
    return Text::tr("%1, %2, is here already as %3 (%4). Is this another person?")
        .arg(personName(other), born, fromStd(other.code), words(other.status));
}

std::vector<CatheterCard> catheterCards(const Agency &agency, PatientId patient) {
    const SnapshotIndex &index = agency.index();
    const Date today = agency.today();
    std::vector<CatheterCard> cards;
    for (const Catheter *catheter : index.cathetersOf(patient)) {
        CatheterCard card;
        card.catheter = catheter;
        card.order = index.orderInForce(catheter->id, today);
        const auto orders = index.ordersOf(catheter->id);
        card.history.assign(orders.begin(), orders.end());
        for (const DrainEntry &entry : index.entriesOf(catheter->id))
            if (!entry.isVoid && entry.outcome != DrainOutcome::NotDone)
                card.lastDrain = entry.at.date;
        if (index.isInService(*catheter)) {
            const DateRange ahead{today, today.plusDays(kDaysAhead)};
            for (const calendar::PlannedDrain &drain :
                 calendar::plannedDrains(orders, index.holdsOf(patient), ahead))
                card.plannedDrains.push_back(drain.on);
        }
        // A drain already in today's log is not the next one.
        for (const Date on : card.plannedDrains)
            if (!card.nextDrain && (!card.lastDrain || on > *card.lastDrain))
                card.nextDrain = on;
        cards.push_back(std::move(card));
    }
    return cards;
}

std::vector<LogPoint> logPoints(const Agency &agency, CatheterId catheter) {
    std::vector<LogPoint> points;
    for (const DrainEntry &entry : agency.index().entriesOf(catheter))
        if (!entry.isVoid)
            points.push_back({entry.at, entry.volume, entry.outcome, entry.id});
    return points;
}

std::vector<const Lot *> lotsForHome(const Agency &agency, PatientId patient) {
    const SnapshotIndex &index = agency.index();
    std::set<ItemId> items;
    std::set<LotId> there;
    for (const Catheter *catheter : index.cathetersOf(patient)) {
        for (const DrainOrder *order : index.ordersOf(catheter->id)) {
            items.insert(order->kit);
            if (order->extraBottle)
                items.insert(*order->extraBottle);
        }
        for (const StockBalance &balance : index.balancesAt(Place::home(catheter->id))) {
            items.insert(balance.item);
            if (balance.lot)
                there.insert(*balance.lot);
        }
    }
    std::vector<const Lot *> lots;
    for (const Lot &lot : agency.snapshot().lots)
        if (items.contains(lot.item))
            lots.push_back(&lot);
    std::ranges::sort(lots, {}, [&](const Lot *lot) {
        return std::tuple(!there.contains(lot->id), std::string_view(lot->number), lot->id);
    });
    return lots;
}

} // namespace kitround::desk
