#pragma once
// Draws a paper (core/desk/paper) on pages: Letter, upright or landscape, every page with the foot and its
// number.
#include "core/base/Result.h"
#include "core/desk/paper/Papers.h"

#include <QString>

class QPagedPaintDevice;

namespace kitround::ui {

// Writes beside the target and renames over it, so a full disk leaves no half paper.
// Problems: FileNotReadable, DiskFull (field: the file).
Result<void> writePdf(const desk::Paper &paper, const QString &file);
// Paints on a device whose page layout is set; gives the number of pages.
int paint(const desk::Paper &paper, QPagedPaintDevice &device);

} // namespace kitround::ui
