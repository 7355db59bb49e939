#pragma once
// What a refill call has to ask and to tell: the rules a day breaks, what nobody counted, and who was called
// today already.
#include "core/records/Snapshot.h"
#include "core/supply/PromisedDay.h"

#include <QString>
#include <QStringList>

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace kitround::desk {

struct StockPicture;

// Why a promise is not as offered: asked for and stored with the call.
struct OfferReasons {
    std::string more = {}; // why more
    std::string day = {};  // why that day all the same
    // The rules it breaks as whoever called saw them: what only a forecast tells is not known to the desk.
    std::vector<supply::TrialBreak> shown = {};
};

// "Against the rules: ...; ...."; empty where none is broken.
// A rule that a line of the offer breaks is told with its item.
QString rulesText(const SnapshotIndex &agency, const supply::RefillProposal &offer,
                  std::span<const supply::TrialBreak> breaks);
// All that the parcel breaks, as the home's picture tells it: its day's rules, and those of every line that
// comes. `picture`: none, or of another day, leaves what only forecasts can tell.
std::vector<supply::TrialBreak> parcelBreaks(const SnapshotIndex &agency, const StockPicture *picture,
                                             const supply::RefillProposal &offer, const Delivery &wanted);
// The first, and those of the others that are not told by them.
std::vector<supply::TrialBreak> allBreaks(std::vector<supply::TrialBreak> first,
                                          std::span<const supply::TrialBreak> others);
// Those that want a reason. The day and the way that were offered want one for a rule of the day alone: less
// or more sent on it than was offered is asked about by its quantity. Any other day, for all the parcel
// breaks.
std::vector<supply::TrialBreak> breaksToExplain(const SnapshotIndex &agency, const StockPicture *picture,
                                                const supply::RefillProposal &offer, const Delivery &wanted);
// How the reason for such a day is written down.
std::string dayAgainstRules(const SnapshotIndex &agency, const supply::RefillProposal &offer,
                            std::span<const supply::TrialBreak> breaks, const std::string &why);

// Whoever answered is asked what was set aside of a recalled lot.
bool mustTellRecalled(RefillAnswer answer);
// Recalled lots that may stand in the patient's homes, were not set aside yet, and of which nobody there was
// told that day: whoever would not look then is not asked again before the next.
struct RecalledToAsk {
    CatheterId catheter;
    LotId lot;
    friend bool operator==(const RecalledToAsk &, const RecalledToAsk &) = default;
};
std::vector<RecalledToAsk> recalledToAsk(const SnapshotIndex &agency, PatientId patient, Date day);
// NotAllowed at "set_aside", {"recalled_not_asked", lot number}.
Problem recalledNotAsked(const SnapshotIndex &agency, LotId lot);
// One a lot that is still to be asked about on the day of the call; none where nobody answered.
Problems recalledNotAsked(const SnapshotIndex &agency, const RefillContact &call);
// Were those that the home set aside counted as well? Asked where the two together come to more than the
// record has there. Conflict at "counted", {"more_with_set_aside", counted, set aside, on record}. `told`:
// answers of the same call that are not on record yet.
std::optional<Problem> moreWithSetAside(const SnapshotIndex &agency, const HomeCount &count, Eaches onRecord,
                                        std::span<const RecallOutcome> told = {});
bool asksAboutSetAside(const Problem &problem);
// Items of these lines that nobody counted in the call, nor earlier today.
QStringList notCounted(const SnapshotIndex &agency, std::span<const DeliveryLine> lines,
                       std::span<const HomeCount> counts);

// The newest call of today; nothing where the home was not called.
const RefillContact *calledToday(const SnapshotIndex &agency, PatientId patient);
// That call said it needs nothing: the home is not called again today.
bool saidNoToday(const SnapshotIndex &agency, PatientId patient);
// That call said yes, and what was promised on it stands: whatever more is needed is asked another day. Of a
// home that is still proposed a refill: it took less.
bool saidYesToday(const SnapshotIndex &agency, PatientId patient);
// "said no today", "took less today": in place of when to call; empty where the home is still to be called.
QString answeredTodayText(const SnapshotIndex &agency, PatientId patient);
// "10:15: no, nothing now"; empty where it was not called today.
QString calledTodayText(const SnapshotIndex &agency, PatientId patient);

} // namespace kitround::desk
