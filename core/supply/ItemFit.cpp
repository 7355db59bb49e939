#include "core/supply/ItemFit.h"

#include <algorithm>

namespace kitround::supply {
namespace {

constexpr int kDeepestKit = 3; // a kit in a kit; deeper is a loop in the record

std::optional<Material> harmfulIn(const SnapshotIndex &agency, const Item &item, const Patient &patient,
                                  int depth) {
    for (const Material material : item.contains)
        if (std::ranges::find(patient.allergies, material) != patient.allergies.end())
            return material;
    if (depth == kDeepestKit)
        return std::nullopt;
    for (const KitContent &content : item.contents)
        if (const Item *inside = agency.item(content.item))
            if (const auto found = harmfulIn(agency, *inside, patient, depth + 1))
                return found;
    return std::nullopt;
}

} // namespace

std::optional<Bar> barOf(const SnapshotIndex &agency, const Item &item, const Patient &patient,
                         const Catheter &catheter) {
    if (const auto material = harmfulIn(agency, item, patient, 0))
        return Bar{BarKind::Allergy, material};
    if (!item.connector.empty() && !catheter.connector.empty() && item.connector != catheter.connector)
        return Bar{BarKind::Connector, std::nullopt};
    return std::nullopt;
}

bool isFitUnknown(const Item &item, const Catheter &catheter) {
    return !item.connector.empty() && catheter.connector.empty();
}

} // namespace kitround::supply
