#pragma once
#include "ui/shared/Page.h"

namespace kitround::ui {

class CataloguePage : public Page {
    Q_OBJECT
public:
    explicit CataloguePage(Session &session, QWidget *parent = nullptr);
};

} // namespace kitround::ui
