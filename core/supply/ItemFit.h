#pragma once
// Whether an item may go to a person at all: what they are allergic to, and the fit of the drainage line. A
// bar is never argued away by a shortage.
#include "core/records/Snapshot.h"

#include <optional>

namespace kitround::supply {

enum class BarKind : std::uint8_t { Allergy, Connector };
struct Bar {
    BarKind kind = BarKind::Allergy;
    std::optional<Material> material; // Allergy
    friend bool operator==(const Bar &, const Bar &) = default;
};
// Nothing where the item fits. Looks into kits as far as their contents are items on record. An unknown
// connector on either side bars nothing.
std::optional<Bar> barOf(const SnapshotIndex &agency, const Item &item, const Patient &patient,
                         const Catheter &catheter);

// The item is made for one class of line and the catheter's is not known: no bar, but to be asked.
bool isFitUnknown(const Item &item, const Catheter &catheter);

} // namespace kitround::supply
