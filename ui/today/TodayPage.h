#pragma once
#include "ui/shared/Page.h"

namespace kitround::ui {

class TodayPage : public Page {
    Q_OBJECT
public:
    explicit TodayPage(Session &session, QWidget *parent = nullptr);
};

} // namespace kitround::ui
