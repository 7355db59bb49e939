#pragma once
#include "ui/shared/Page.h"

namespace kitround::ui {

class LoadPage : public Page {
    Q_OBJECT
public:
    explicit LoadPage(Session &session, QWidget *parent = nullptr);
};

} // namespace kitround::ui
