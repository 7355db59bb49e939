#pragma once
// Where one size stands in for another: what is open and when it goes back, and where it could be recorded.
#include "core/desk/Desk.h"

#include <QString>

#include <vector>

namespace kitround::desk {

struct SubstitutionRow {
    Substitution record;
    PatientId patient;
    QString who, place, item, standIn;
    QString ratio;            // "2 × Kit 500 for 1 × Kit 1000"
    QString approved, taught; // "prescriber Dr. Reed, Tue 1 Dec"
    QString standing;         // "in force", "from Tue 1 Dec", "to go back now", "went back on ..."
    bool isDue = false;       // open, and its day to go back has come
};
// Open ones by the day they go back, then those that went back, newest first.
std::vector<SubstitutionRow> substitutionRows(const Agency &agency, bool withClosed);

// A home whose order allows a substitute, the item ordered, and what may stand in for it there.
struct SubstitutionPlace {
    CatheterId catheter;
    ItemId item;
    QString text; // "Family, Given: chest, right: Kit 1000"
    std::vector<ItemId> standIns;
};
// By name; only homes in service, and stand-ins nothing bars.
std::vector<SubstitutionPlace> substitutionPlaces(const Agency &agency);
// Where another size is on record for what is ordered and the order allows none: "Not listed: 1 home whose
// order allows no other size (Family, Given). Only the prescriber can allow it."; empty where there is none.
QString notSubstitutable(const Agency &agency);
// "2 × Kit 500 for 1 × Kit 1000, 37 free"
QString standInText(const SnapshotIndex &agency, ItemId ordered, ItemId standIn);
// "Kit 500 in place of Kit 1000 until Tue 1 Dec (prescriber Dr. Reed)"
QString substitutionText(const Agency &agency, const Substitution &record);

} // namespace kitround::desk
