#include "core/supply/PromisedDay.h"

#include <algorithm>

namespace kitround::supply {
namespace {

constexpr std::int64_t kLookBeyond = 14;  // for the next day possible
constexpr std::int64_t kLookAtMost = 400; // a day mistyped by years is none

bool isAsOffered(const RefillProposal &offer, const Delivery &wanted) {
    return !offer.hasNoWay && wanted.promisedFor == offer.deliverOn && wanted.way == offer.way;
}

std::optional<TrialBreak> noWayFor(const SnapshotIndex &agency, const Patient &patient,
                                   const Delivery &wanted, Date callFrom) {
    const Snapshot &now = agency.snapshot();
    const Date on = wanted.promisedFor;
    const Visit *visit = wanted.visit ? agency.visit(*wanted.visit) : nullptr;
    // A visit of today brings what is in the car; the days to choose from begin tomorrow.
    const bool isCarriedThen = wanted.way == DeliveryWay::WithVisit && (!visit || visit->on == on);
    const Date until = std::min(on, now.asOf.plusDays(kLookAtMost)).plusDays(kLookBeyond);
    const CourierCalendar courier(now.settings, now.now, until - now.asOf);
    std::vector<DeliveryDay> days = deliveryDays(agency, patient, courier, until);
    std::erase_if(days, [&](const DeliveryDay &day) {
        return day.way != wanted.way || (wanted.visit && day.visit != wanted.visit);
    });
    if (isCarriedThen && !agency.holdOn(patient.id, on))
        return askedTooEarly(days, on, callFrom);
    std::optional<TrialBreak> none = noDeliveryOn(agency, patient, courier, days, on);
    if (none && none->rule == TrialRule::TooSoon && wanted.way == DeliveryWay::WithVisit)
        none->rule = TrialRule::NoDelivery;
    return none ? none : askedTooEarly(days, on, callFrom);
}

// What comes along though its own supply ends later than that of the line which presses.
void addOtherLines(const RefillProposal &offer, const Delivery &wanted, std::vector<TrialBreak> &found) {
    for (std::size_t i = 0; i < offer.lines.size(); ++i) {
        const RefillLine &line = offer.lines[i];
        const bool isSent = std::ranges::any_of(wanted.lines, [&](const DeliveryLine &sent) {
            return sent.catheter == line.catheter && sent.item == line.item && sent.quantity.count() > 0;
        });
        if (isSent && line.deliverFrom > offer.deliverFrom && line.deliverFrom > wanted.promisedFor)
            found.push_back({TrialRule::PayerTooEarly, line.deliverFrom, std::nullopt, i});
    }
}

} // namespace

std::optional<TrialBreak> noDeliveryOn(const SnapshotIndex &agency, const Patient &patient,
                                       const CourierCalendar &courier, std::span<const DeliveryDay> days,
                                       Date on) {
    const auto next = std::ranges::find_if(days, [&](const DeliveryDay &day) { return day.on >= on; });
    if (next != days.end() && next->on == on)
        return std::nullopt;
    TrialBreak none;
    if (next != days.end())
        none.date = next->on;
    if (agency.holdOn(patient.id, on))
        none.rule = TrialRule::OnHold;
    else if (isHoliday(agency.snapshot().settings, on))
        none.rule = TrialRule::Holiday;
    else if (patient.allowsCourier && courier.runsOn(on))
        none.rule = TrialRule::TooSoon;
    return none;
}

std::optional<TrialBreak> askedTooEarly(std::span<const DeliveryDay> days, Date on, Date callFrom) {
    bool isTooEarly = false;
    for (const DeliveryDay &day : days) {
        if (day.on == on && day.callBy >= callFrom)
            return std::nullopt;
        isTooEarly |= day.on == on;
    }
    return isTooEarly ? std::optional(TrialBreak{TrialRule::ContactTooEarly, callFrom, std::nullopt})
                      : std::nullopt;
}

std::vector<TrialBreak> dayBreaks(const SnapshotIndex &agency, const RefillProposal &offer,
                                  const Delivery &wanted) {
    const Patient *patient = agency.patient(wanted.patient);
    const Date on = wanted.promisedFor;
    if (!patient || on < agency.snapshot().asOf || isAsOffered(offer, wanted))
        return {};
    std::vector<TrialBreak> found;
    if (const auto none = noWayFor(agency, *patient, wanted, offer.callFrom))
        found.push_back(*none);
    if (on > offer.deliverBy && (on > offer.deliverOn || offer.hasNoWay))
        found.push_back({TrialRule::TooLate, offer.deliverBy, std::nullopt});
    if (on < offer.deliverFrom)
        found.push_back({TrialRule::PayerTooEarly, offer.deliverFrom, std::nullopt});
    addOtherLines(offer, wanted, found);
    return found;
}

} // namespace kitround::supply
