#pragma once
// What holds for keys and wheel in every window of the program.
class QApplication;

namespace kitround::ui {

// Enter presses the button that has the focus, whatever the window's main button is; the wheel scrolls and
// never changes the value of a drop-down, spin box or slider it passes over. Once, however often it is asked.
void keepInputRules(QApplication &app);

} // namespace kitround::ui
