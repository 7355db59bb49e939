#pragma once
// Every form of a window as a picture: presses what opens one (its text ends with "…", or it is a page's main
// action) on every page and tab, draws the form, its tabs and its first list, and closes it unsaved.
#include <QDir>

namespace kitround::ui {

class MainWindow;

// To `folder`, each named "form-PAGE-BUTTON…" with `suffix` behind. Questions are to be silent, and
// the file a copy: not every button only asks.
void drawForms(MainWindow &window, const QDir &folder, const QString &suffix);

} // namespace kitround::ui
