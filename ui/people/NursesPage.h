#pragma once
#include "core/records/Ids.h"
#include "ui/shared/Page.h"

namespace kitround::ui {

class NursesPage : public Page {
    Q_OBJECT
public:
    explicit NursesPage(Session &session, QWidget *parent = nullptr);
    void selectNurse(NurseId nurse);
};

} // namespace kitround::ui
