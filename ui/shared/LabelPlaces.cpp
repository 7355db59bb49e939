#include "ui/shared/LabelPlaces.h"

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr int kLines = 3; // so many labels find room on one side of a point

} // namespace

std::vector<std::optional<QRectF>> placeLabels(const std::vector<std::vector<QRectF>> &wishes,
                                               std::vector<QRectF> taken, const QRectF &area) {
    std::vector<std::optional<QRectF>> placed;
    placed.reserve(wishes.size());
    for (const std::vector<QRectF> &places : wishes) {
        const auto isFree = [&](const QRectF &box) {
            return area.contains(box) &&
                   std::ranges::none_of(taken, [&](const QRectF &other) { return box.intersects(other); });
        };
        const auto found = std::ranges::find_if(places, isFree);
        if (found == places.end()) {
            placed.push_back(std::nullopt);
            continue;
        }
        placed.push_back(*found);
        taken.push_back(*found);
    }
    return placed;
}

std::vector<QRectF> placesAround(QPointF point, QSizeF size, double gap) {
    const double w = size.width(), h = size.height();
    std::vector<QRectF> places;
    for (int line = 0; line < kLines; ++line)
        for (const double left : {gap, -gap - w, -w / 2})
            for (const double top : {-gap - h - line * h, gap + line * h})
                places.emplace_back(point + QPointF(left, top), size);
    return places;
}

} // namespace kitround::ui
