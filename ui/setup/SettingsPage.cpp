#include "ui/setup/SettingsPage.h"

namespace kitround::ui {

SettingsPage::SettingsPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("settingsPage"), tr("Settings"), parent) {
    showEmpty(tr("Not written yet."));
}

} // namespace kitround::ui
