#pragma once
// The agency's own facts: name, zone, week, visiting days, storeroom, holidays. True when stored.
#include "core/records/Users.h"

class QWidget;

namespace kitround::ui {

class Session;

bool editAgency(QWidget *window, Session &session);
bool editUser(QWidget *window, Session &session, User user); // a new one where the id is unset

} // namespace kitround::ui
