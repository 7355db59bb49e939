#pragma once
// One step from a paper to the printer or a PDF file, or from a table to a CSV file; recorded in the audit.
#include "core/desk/paper/Papers.h"

#include <cstdint>
#include <optional>

class QWidget;

namespace kitround::ui {

class Session;

enum class PaperWay : std::uint8_t { Print, Pdf };
// Where a paper takes long to work out, the question comes first; nothing where the person leaves it.
std::optional<PaperWay> askPaperWay(QWidget *window, const QString &title);
void givePaper(QWidget *window, Session &session, const desk::Paper &paper, PaperWay way);
// Asks "Print" or "Save as PDF"; tells of problems itself.
void offerPaper(QWidget *window, Session &session, const desk::Paper &paper);
// Straight to a PDF file (asks where, says when it is done); true when written.
bool savePaper(QWidget *window, Session &session, const desk::Paper &paper);

// Says what was saved and where, and offers to open it or the folder it is in.
void tellSaved(QWidget *window, const QString &file);

// Asks where, writes the table as CSV and says so; true when written. Recorded in the audit.
bool saveTable(QWidget *window, Session &session, const desk::Table &table);

} // namespace kitround::ui
