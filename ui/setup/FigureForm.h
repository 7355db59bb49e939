#pragma once
// One figure of the settings, in its own unit. True when stored.
#include "core/records/Settings.h"

class QWidget;

namespace kitround::ui {

class Session;

bool editFigure(QWidget *window, Session &session, SettingKey key);

} // namespace kitround::ui
