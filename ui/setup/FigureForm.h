#pragma once
// One figure of the settings, in its own unit. True when stored.
#include "core/records/Settings.h"

#include <QString>

#include <cstdint>
#include <string>

class QWidget;

namespace kitround::ui {

class Session;

bool editFigure(QWidget *window, Session &session, SettingKey key);
// "45", "2.00", "08:00", "Mon Tue Wed": a value as people read it, in the unit below.
QString figureText(SettingKey key, std::int64_t value);

// "points", "% a day", "USD"; empty where the value says what it is.
QString figureUnit(const SettingInfo &info, const std::string &currency);

} // namespace kitround::ui
