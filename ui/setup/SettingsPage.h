#pragma once
#include "ui/shared/Page.h"

namespace kitround::ui {

class SettingsPage : public Page {
    Q_OBJECT
public:
    explicit SettingsPage(Session &session, QWidget *parent = nullptr);
};

} // namespace kitround::ui
