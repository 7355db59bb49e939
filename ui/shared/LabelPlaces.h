#pragma once
// Labels in a drawing that do not cover one another. Pure.
#include <QRectF>

#include <optional>
#include <vector>

namespace kitround::ui {

// One label after the other, each at the first of its places (the best first) that lies within `area` and
// clear of what is `taken` and of the labels before it; nothing where none does. Who comes first keeps its
// place: an order that does not change keeps the drawing still.
std::vector<std::optional<QRectF>> placeLabels(const std::vector<std::vector<QRectF>> &wishes,
                                               std::vector<QRectF> taken, const QRectF &area);
// Around a point, clear of what is drawn there by `gap`: right above first, then right below, left, above and
// below, then the same again a line farther off.
std::vector<QRectF> placesAround(QPointF point, QSizeF size, double gap);

} // namespace kitround::ui
