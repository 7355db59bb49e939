#pragma once
// When the storeroom cannot keep up with an item: the homes by the day they are at risk, and what to do for
// each. Proposals for a person; a substitution beyond what the order allows is the prescriber's.
#include "core/supply/Storeroom.h"

#include <span>
#include <vector>

namespace kitround::supply {

// Ration: what is free goes to this home next. Substitute: another size stands in, as the order allows.
// CountFirst: nobody knows what is there. Ask: nothing is left and nothing may stand in: nurse or prescriber.
enum class ShortageStep : std::uint8_t { Ration, Substitute, CountFirst, Ask };

struct ShortageHome {
    PatientId patient;
    CatheterId catheter;
    std::optional<Date> atRisk; // run-out in 1 of 10 cases; none: the stock is unknown
    Eaches onHand;              // with what is promised or under way
    Eaches wanted;              // to the next supply, in 9 of 10 cases
    ShortageStep step = ShortageStep::Ask;
    std::optional<ItemId> substitute;
    bool needsRecord = false; // of the substitute: nobody has recorded it yet
    Eaches quantity;          // of the item, or of the substitute
};
struct Shortage {
    ItemId item;
    Eaches free;
    Date arrival;    // the next supply: on order, or ordered now
    Eaches arriving; // of that order; none where it is not ordered yet
    bool isOrdered = false;
    double chanceShort = 0; // before that day
    std::vector<ShortageHome>
        homes; // soonest at risk first, then emergency priority and acuity; unknown last
};
// Items whose free stock does not meet the demand until the next supply at the item's service level, most
// likely short first. Homes on hold, and homes that last until then, are not on it. Free stock is shared out
// in the order of the homes, so that nobody is given twice while another runs dry; what stands in is shared
// out likewise over all items. Forecasts must have kept their cumulated distributions.
std::vector<Shortage> shortages(const SnapshotIndex &agency,
                                std::span<const forecast::ItemForecast> forecasts);

} // namespace kitround::supply
