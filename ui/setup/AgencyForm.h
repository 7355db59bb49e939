#pragma once
// The agency's own facts: name, zone, week, visiting days, storeroom, holidays. True when stored.
class QWidget;

namespace kitround::ui {

class Session;

bool editAgency(QWidget *window, Session &session);
bool addUser(QWidget *window, Session &session);

} // namespace kitround::ui
