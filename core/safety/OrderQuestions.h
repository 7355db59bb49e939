#pragma once
// Orders that may be out of date. An order stands until the prescriber changes it; but one that is older than
// a change of the catheter, or than a stay from which the patient came home, is not simply gone on with: the
// prescriber is asked (good practice of care transitions, from memory; local policy comes first). Nothing
// here changes an order.
#include "core/records/Snapshot.h"

#include <string_view>
#include <vector>

namespace kitround::safety {

enum class OrderDoubt : std::uint8_t {
    CatheterChanged, // put in after somebody drained under the order
    OtherRemoved,    // another catheter of the patient came out since
    CameHome         // back from a hospital or a facility
};
struct OrderQuestion {
    PatientId patient;
    CatheterId catheter;
    DrainOrderId order;
    Date orderFrom;
    OrderDoubt why = OrderDoubt::CatheterChanged;
    Date on; // of the change, the removal, the return
};

// A return or a removal is asked about for so long; what was lived with for longer is no news (assumed).
inline constexpr Days kAskAboutReturn = Days::of(30);

// What the order does not say and only the prescriber can: the names of the fields, in the order of a form.
// Never filled in from a guess, and never in the way of saving what was ordered.
std::vector<std::string_view> unsaidBy(const DrainOrder &order);

// Of the orders in force today, at most one an order, by patient, then catheter: the first doubt of the list
// above that no answer settles. An answer settles what happened on its day or before; one taken during the
// stay settles the return. A new version of the order, begun after the change or during the stay, leaves
// nothing to ask.
std::vector<OrderQuestion> orderQuestions(const SnapshotIndex &agency);
// The same for one patient as if a hold ended on the day: what to ask when the patient comes home.
std::vector<OrderQuestion> questionsOnReturn(const SnapshotIndex &agency, const Hold &hold, Date home);

} // namespace kitround::safety
