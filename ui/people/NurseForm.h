#pragma once
// All facts of a nurse, with skills and the day each expires.
#include "core/records/Nurses.h"

#include <optional>

class QWidget;

namespace kitround::ui {

class Session;

// By value: the agency may be reloaded under the open form.
std::optional<NurseId> editNurse(QWidget *window, Session &session, Nurse nurse);

} // namespace kitround::ui
