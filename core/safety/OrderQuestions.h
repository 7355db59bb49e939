#pragma once
// Orders that may be out of date, or were read or written wrongly. An order stands until the prescriber
// changes it; but one that is older than a change of the catheter, or than a stay from which the patient came
// home, is not simply gone on with, and neither is a maximum for one session above the common one (Limits.h):
// the prescriber is asked (good practice of care transitions, from memory; local policy comes first). Nothing
// here changes an order.
#include "core/records/Snapshot.h"

#include <string_view>
#include <vector>

namespace kitround::safety {

enum class OrderDoubt : std::uint8_t {
    CatheterChanged, // put in after somebody drained under the order
    OtherRemoved,    // another catheter of the patient came out since
    CameHome,        // back from a hospital or a facility
    AboveCommon      // its maximum for one session is more than is common for the cavity
};
struct OrderQuestion {
    PatientId patient;
    CatheterId catheter;
    DrainOrderId order;
    Date orderFrom;
    OrderDoubt why = OrderDoubt::CatheterChanged;
    Date on; // of the change, the removal, the return; AboveCommon: the order's first day, which may be ahead
};

// A return or a removal is asked about for so long; what was lived with for longer is no news (assumed).
inline constexpr Days kAskAboutReturn = Days::of(30);

// What the order does not say and only the prescriber can: the names of the fields, in the order of a form.
// Never filled in from a guess, and never in the way of saving what was ordered.
std::vector<std::string_view> unsaidBy(const DrainOrder &order);

// Of the orders in force today, and of AboveCommon those to come too; at most one an order, by patient, then
// catheter: the first doubt of the list above that no answer settles. An answer settles what happened on its
// day or before; one taken during the stay settles the return; the maximum is settled by any answer that was
// read back. A new version of the order, begun after the change or during the stay, leaves nothing to ask but
// its own maximum.
std::vector<OrderQuestion> orderQuestions(const SnapshotIndex &agency);
// The same for one patient as if a hold ended on the day: what to ask when the patient comes home, but for
// the maximum, which does not wait for that.
std::vector<OrderQuestion> questionsOnReturn(const SnapshotIndex &agency, const Hold &hold, Date home);

} // namespace kitround::safety
