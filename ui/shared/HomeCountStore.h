#pragma once
// Storing a count of a home's item, wherever it was entered: the desk may ask whether what was set aside of
// recalled lots was counted as well, and keeps the reason why not.
#include "core/base/Problem.h"
#include "core/records/Stock.h"

#include <QString>

#include <optional>
#include <string>

class QWidget;

namespace kitround::ui {

class Session;

// The reason, asked for with what the desk said; empty where none was given. `preset`: what was said before.
std::string askWhyCounted(QWidget *window, const Problem &asked, const std::string &preset = {});
// Asks where the desk does; without a reason the count is not stored. `why`: what was said before, and now.
std::optional<Problem> storeHomeCount(QWidget *window, Session &session, const QString &what,
                                      const HomeCount &count, std::string &why);

} // namespace kitround::ui
