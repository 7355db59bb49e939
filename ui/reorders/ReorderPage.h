#pragma once
#include "ui/shared/Page.h"

namespace kitround::ui {

class ReorderPage : public Page {
    Q_OBJECT
public:
    explicit ReorderPage(Session &session, QWidget *parent = nullptr);
};

} // namespace kitround::ui
