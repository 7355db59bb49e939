#pragma once
// One step from a paper to the printer or a PDF file; recorded in the audit either way.
#include "core/desk/paper/Papers.h"

class QWidget;

namespace kitround::ui {

class Session;

// Asks "Print" or "Save as PDF"; tells of problems itself.
void offerPaper(QWidget *window, Session &session, const desk::Paper &paper);
// Straight to a PDF file (asks where); true when written.
bool savePaper(QWidget *window, Session &session, const desk::Paper &paper);

} // namespace kitround::ui
