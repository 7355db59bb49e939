#pragma once
// The parts the start page is collected from, one a trade. Inside desk/views only.
#include "core/desk/views/Attention.h"

#include <algorithm>
#include <vector>

namespace kitround::desk {

struct HandOverBoard;

} // namespace kitround::desk

namespace kitround::desk::parts {

using Items = std::vector<AttentionItem>;

void addCalls(Items &items, const Agency &agency);        // call items, standing cautions, open phone calls
void addClocks(Items &items, const Agency &agency);       // first visits, recertifications, holds, signatures
void addUnknownFacts(Items &items, const Agency &agency); // coordinates, dates, allergies nobody has entered
void addOddPlaces(Items &items, const Agency &agency);    // far from the storeroom, or from its time zone
void addFirstSteps(Items &items, const Agency &agency);   // of a new agency, until it has a patient
void addHomes(Items &items, const StockPicture &stock);   // run-outs, unknown stock, refill calls
void addStoreroom(Items &items, const Agency &agency, const StockPicture *stock); // orders, lots, deliveries
void addTeam(Items &items, const Agency &agency, const WeekPicture *week,
             const WeekPicture *thisWeek);                  // skills, plans, open visits, leave
void addHandOvers(Items &items, const Agency &agency);      // what nobody has accepted yet
void addOrderQuestions(Items &items, const Agency &agency); // orders the prescriber has to confirm
void addWatch(Items &items, const Agency &agency);          // steps of the watch list whose day has come
void addIncidents(Items &items, const Agency &agency);      // external reports that are due
void addShortRests(Items &items, const Agency &agency);     // before work of the coming week
void addVisitsOver(Items &items, const Agency &agency);  // not recorded; missed, and the prescriber not told
void addClosedDoors(Items &items, const Agency &agency); // nobody home at a visit, nobody reached since
void addNursesWhoLeft(Items &items, const Agency &agency); // and still are main nurses, or have visits

// How a line is told with others of its kind, on Today and on the hand-over alike.
struct FoldKind {
    std::string key; // empty: always by itself
    QString title;   // of many, with a place for the number
    bool hurtsByItself = false;
};
FoldKind foldKindOf(const AttentionItem &item);             // whoever has it by name
std::size_t linesKept(bool hurtsByItself, std::size_t all); // so many of one key stay a line each
QString manyText(const QString &title, std::size_t many,
                 bool isRest);                                // isRest: others of the kind stand above
QString withFirst(const QString &many, const QString &first); // "12 deliveries due. First: P. Alder"
void addFoldKinds(HandOverBoard &board, const Items &items, const Agency &agency);

// Last of all: who accepted a line from the shift before, and is not handing it on.
void addTakers(Items &items, const Agency &agency);

// Records are read by id, so that one is found without looking at all of them; those put together otherwise
// are searched through. nullptr where there is none.
template <class Record>
const Record *recordOf(const std::vector<Record> &all, decltype(Record::id) id) {
    auto at = std::ranges::lower_bound(all, id, {}, &Record::id);
    if (at == all.end() || at->id != id)
        at = std::ranges::find(all, id, &Record::id);
    return at == all.end() ? nullptr : &*at;
}

// The user an owner's name stands for, where it is a user's: what is written may be anybody's.
std::optional<UserId> userNamed(const Agency &agency, const std::string &owner);
// That user, where the person still works with the file: what somebody had who left is nobody's by name.
std::optional<UserId> ifActive(const Agency &agency, std::optional<UserId> user);
// "P. Alder": how a person is named on the start page.
QString shortName(const Agency &agency, PatientId patient);

} // namespace kitround::desk::parts
