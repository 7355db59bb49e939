#pragma once
// Which rules the day of a promise breaks, by the rules that make a proposal. Nothing is forbidden by it: a
// person may have a reason.
#include "core/supply/RefillTrial.h"

#include <optional>
#include <span>
#include <vector>

namespace kitround::supply {

// Nothing of these days is that one: why, and the next of them.
std::optional<TrialBreak> noDeliveryOn(const SnapshotIndex &agency, const Patient &patient,
                                       const CourierCalendar &courier, std::span<const DeliveryDay> days,
                                       Date on);

// Something comes that day, but whatever comes would have to be asked about before the first day of contact.
std::optional<TrialBreak> askedTooEarly(std::span<const DeliveryDay> days, Date on, Date callFrom);

// NoDelivery, OnHold, Holiday, TooSoon: nothing comes that day by the way the delivery goes. TooLate: after
// the day that keeps the run-out target, and later than was offered. ContactTooEarly. PayerTooEarly, of any
// line that comes. The day and way that were offered are not questioned, unless there was no way known. Days
// before today are refused elsewhere.
std::vector<TrialBreak> dayBreaks(const SnapshotIndex &agency, const RefillProposal &offer,
                                  const Delivery &wanted);

} // namespace kitround::supply
