#pragma once
// A dialog of lists opens as large as it was left; the first time as large as it is read best.
#include <QSize>

class QDialog;

namespace kitround::ui {

// Known by the dialog's object name, which is set before. Not larger than its screen where it can
// be read in that.
void keepSize(QDialog &dialog, QSize first);

} // namespace kitround::ui
