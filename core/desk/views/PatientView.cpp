#include "core/desk/views/PatientView.h"

#include "core/calendar/DrainCalendar.h"
#include "core/desk/views/NurseLeaving.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/safety/Limits.h"

#include <algorithm>
#include <set>
#include <string_view>
#include <tuple>
#include <utility>

namespace kitround::desk {
namespace {

constexpr std::int64_t kDaysAhead = 14;
constexpr qsizetype kVisitsNamed = 8; // more than that are counted

// What is missing for care to run.
QString lackOf(const Agency &agency, const std::vector<const Catheter *> &inPlace) {
    if (inPlace.empty())
        return Text::tr("no catheter in place");
    for (const Catheter *catheter : inPlace)
        if (!agency.index().orderInForce(catheter->id, agency.today()))
            return Text::tr("no drain order (%1)").arg(catheterText(*catheter));
    return {};
}

QString noteOf(const Agency &agency, const Patient &patient, const std::vector<const Catheter *> &inPlace) {
    const Date today = agency.today();
    if (const Hold *hold = agency.index().holdOn(patient.id, today))
        return Text::tr("%1 since %2").arg(words(hold->kind), dayText(hold->from, today));
    if (!isOnService(patient.status))
        return {};
    QStringList notes;
    if (const Hold *hold = holdToTell(agency, patient.id))
        notes << holdText(*hold, today);
    if (patient.status == CareStatus::Referred && !patient.referredAt)
        notes << Text::tr("referral day not entered");
    if (const QString lack = lackOf(agency, inPlace); !lack.isEmpty())
        notes << lack;
    return notes.join(QStringLiteral("; "));
}

QStringList pausedVisits(const Agency &agency, const Hold &hold) {
    QStringList days;
    for (const Visit *visit : agency.index().visitsOf(hold.patient))
        if (isPausedBy(*visit, hold, agency.snapshot().now))
            days << QStringLiteral("%1 %2").arg(visit->startAt ? momentText({*visit->on, *visit->startAt})
                                                               : dayText(*visit->on),
                                                words(visit->kind));
    if (days.size() > kVisitsNamed) {
        const auto more = static_cast<std::int64_t>(days.size() - kVisitsNamed);
        days = days.mid(0, kVisitsNamed);
        days << counted(more, Text::tr("1 more"), Text::tr("%1 more"));
    }
    return days;
}

// Where it goes on waiting for a visit, and where somebody has to call.
QString deliveryInHold(const Agency &agency, const Delivery &delivery, const Hold &hold) {
    const QString day = dayText(delivery.promisedFor, agency.today());
    const Visit *visit = delivery.visit ? agency.index().visit(*delivery.visit) : nullptr;
    if (delivery.status == DeliveryStatus::Promised && visit &&
        isPausedBy(*visit, hold, agency.snapshot().now))
        return Text::tr("The delivery promised for %1 waits for another visit.").arg(day);
    return Text::tr("The delivery promised for %1 (%2) is not stopped: call the home about it.")
        .arg(day, words(delivery.way));
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
        if (const Nurse *nurse =
                patient.primaryNurse ? agency.index().nurse(*patient.primaryNurse) : nullptr) {
            row.primaryNurse = nurseWithState(*nurse);
            row.isNurseGone = !nurse->isActive && isOnService(patient.status);
        }
        std::vector<const Catheter *> inPlace;
        for (const Catheter *catheter : agency.index().cathetersOf(patient.id))
            if (!catheter->removedAt)
                inPlace.push_back(catheter);
        QStringList catheters;
        for (const Catheter *catheter : inPlace)
            catheters << catheterText(*catheter);
        row.catheters = catheters.join(QStringLiteral("; "));
        row.isOnHold = agency.index().holdOn(patient.id, agency.today()) != nullptr;
        row.isHoldToCome = !row.isOnHold && holdToTell(agency, patient.id) != nullptr;
        row.note = noteOf(agency, patient, inPlace);
        rows.push_back(std::move(row));
    }
    std::ranges::stable_sort(rows, {}, [](const PatientRow &r) { return std::pair(r.name, r.patient); });
    return rows;
}

const Hold *holdToTell(const Agency &agency, PatientId patient) {
    const Date today = agency.today();
    if (const Hold *hold = agency.index().holdOn(patient, today))
        return hold;
    for (const Hold *hold : agency.index().holdsOf(patient)) // by their first day
        if (hold->from > today && (!hold->to || *hold->to > hold->from))
            return hold;
    return nullptr;
}

QString holdText(const Hold &hold, Date today) {
    const QString from = dayText(hold.from, today);
    QString text = hold.from > today ? Text::tr("on hold from %1: %2").arg(from, words(hold.kind))
                                     : Text::tr("on hold: %1 since %2").arg(words(hold.kind), from);
    if (hold.to)
        text += Text::tr(", home again on %1").arg(dayText(*hold.to, today));
    else if (hold.expectedReturn)
        text += Text::tr(", expected back on %1").arg(dayText(*hold.expectedReturn, today));
    return text;
}

bool isPausedBy(const Visit &visit, const Hold &hold, LocalTime now) {
    const bool isOpen = visit.status == VisitStatus::Due || visit.status == VisitStatus::Drafted ||
                        visit.status == VisitStatus::Published;
    if (!isOpen || !visit.on || *visit.on < hold.from || (hold.to && *visit.on >= *hold.to))
        return false;
    // The morning's visit of the day of admission took place, or is still to be closed by hand.
    return LocalTime{*visit.on, visit.startAt.value_or(Minutes{})} >= now;
}

QStringList holdEffectLines(const Agency &agency, const Hold &hold) {
    QStringList lines;
    const QStringList visits = pausedVisits(agency, hold);
    lines << (visits.isEmpty()
                  ? Text::tr("No visit that is planned falls into these days.")
                  : Text::tr("Visits that are not made: %1. What the orders owe is planned again "
                             "for after the return.")
                        .arg(visits.join(QStringLiteral(", "))));
    for (const Delivery *delivery : agency.index().deliveriesOf(hold.patient)) {
        const bool isToCome = delivery->status == DeliveryStatus::Promised ||
                              delivery->status == DeliveryStatus::Picked ||
                              delivery->status == DeliveryStatus::InTransit;
        if (isToCome && delivery->promisedFor >= hold.from && (!hold.to || delivery->promisedFor < *hold.to))
            lines << deliveryInHold(agency, *delivery, hold);
    }
    return lines;
}

QString mostPerSessionText(const DrainOrder &order, const Catheter &catheter) {
    if (!order.mostPerSession)
        return Text::tr("No maximum on the order");
    const QString most =
        Text::tr("At most %1 mL in one session").arg(numberText(order.mostPerSession->count()));
    const Millilitres common = safety::commonMaximum(catheter.site);
    return *order.mostPerSession > common
               ? Text::tr("%1, %2; entered as prescribed").arg(most, commonLimitText(common, catheter.site))
               : most;
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
