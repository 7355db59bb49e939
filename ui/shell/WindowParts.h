#pragma once
// The keyboard's way between the parts of a window: lists, tables, tab bars and pictures that say they are
// one (Look::kIsPart), as they stand from top to bottom and from left to right.
class QWidget;

namespace kitround::ui {

// The keyboard goes to the next part (or the one before) of what is seen in `within`, round and round.
void focusNextPart(QWidget &within, bool isForward);

} // namespace kitround::ui
