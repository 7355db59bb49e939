#pragma once
// The main papers as PDF files in a folder.
#include "core/base/Result.h"
#include "core/desk/Desk.h"
#include "core/desk/views/StockView.h"
#include "core/desk/views/WeekView.h"

#include <QString>

namespace kitround::headless {

// Makes the folder where it is missing. File names carry dates and kinds of paper, never people. Problems:
// those of writing files; NotAllowed where the build can't draw.
Result<void> writePapers(const desk::StockPicture &stock, const desk::WeekPicture &week,
                         const supply::MonthBooks &lastMonth, const QString &folder);

} // namespace kitround::headless
