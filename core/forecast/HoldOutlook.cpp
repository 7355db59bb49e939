#include "core/forecast/HoldOutlook.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

// An open hold without a guess of its end: mean days until home again (assumed; hospital days over the rest
// of life have a median of 10, Thomas et al, AMPLE, JAMA 2017). Past its guessed end: soon (assumed).
constexpr std::int64_t kHoldDaysWithoutGuess = 10;
constexpr std::int64_t kHoldDaysPastGuess = 3;

} // namespace

std::vector<const Hold *> HoldOutlook::pointers(const std::vector<Hold> &holds) {
    std::vector<const Hold *> p;
    for (const Hold &h : holds)
        p.push_back(&h);
    return p;
}

HoldOutlook holdOutlookOf(const SnapshotIndex &agency, PatientId patient) {
    const Date asOf = agency.snapshot().asOf;
    HoldOutlook holds;
    for (const Hold *hold : agency.holdsOf(patient)) {
        if (hold->stillDraining)
            continue;
        Hold known = *hold;
        if (!hold->to) {
            const Date from = std::max(hold->from, asOf);
            std::int64_t mean = kHoldDaysWithoutGuess;
            if (hold->expectedReturn)
                mean = *hold->expectedReturn > from ? (*hold->expectedReturn - from).count()
                                                    : kHoldDaysPastGuess;
            holds.openFrom = from;
            holds.returnChance = 1.0 / static_cast<double>(mean);
            known.to = from; // its past is known, what comes is carried by the recursion
            Hold plain = *hold;
            plain.to = from.plusDays(mean);
            holds.forPlain.push_back(plain);
        } else {
            holds.forPlain.push_back(known);
        }
        holds.known.push_back(known);
    }
    return holds;
}

} // namespace kitround::forecast
