#pragma once
// One figure of the settings, in its own unit. True when stored.
#include "core/records/Settings.h"

#include <QString>

class QWidget;

namespace kitround::ui {

class Session;

bool editFigure(QWidget *window, Session &session, SettingKey key);
// "45", "08:00", "Mon Tue Wed": a value as its unit is read.
QString figureText(SettingKey key, std::int64_t value);

} // namespace kitround::ui
