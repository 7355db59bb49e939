#pragma once
#include "core/records/Ids.h"
#include "ui/shared/Page.h"

namespace kitround::ui {

class StockPage : public Page {
    Q_OBJECT
public:
    explicit StockPage(Session &session, QWidget *parent = nullptr);
    void selectHome(PatientId patient);
    void selectItem(ItemId item);
};

} // namespace kitround::ui
