#pragma once
// Draws a paper (core/desk/paper) on pages: Letter, upright or landscape, every page with the foot and its
// number.
#include "core/base/Result.h"
#include "core/desk/paper/Papers.h"

#include <QString>

#include <vector>

class QPagedPaintDevice;

namespace kitround::ui {

// Writes beside the target and renames over it, so a full disk leaves no half paper.
// Problems: FileNotReadable, DiskFull (field: the file).
Result<void> writePdf(const desk::Paper &paper, const QString &file);
// Whether a new page begins before that row of a table, with so much room left on this one: where it has
// none, and where the last row alone would have none, which is not left by itself on a page.
bool beginsPage(const std::vector<double> &heights, std::size_t row, double room);
// Paints on a device whose page layout is set; gives the number of pages.
int paint(const desk::Paper &paper, QPagedPaintDevice &device);

} // namespace kitround::ui
