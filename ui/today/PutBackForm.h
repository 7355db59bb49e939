#pragma once
// What was written down wrongly is put back: the form that asks why, one for all that can be.
#include "core/base/Problem.h"

#include <QString>

#include <functional>
#include <optional>
#include <string>

class QWidget;

namespace kitround::ui {

// `what`: what no longer counts, and what follows from it. It stays open until there is a reason and `write`
// met no problem, or it is left. Whether it was put back.
bool askPutBack(QWidget *window, const QString &what,
                const std::function<std::optional<Problem>(const std::string &why)> &write);

} // namespace kitround::ui
