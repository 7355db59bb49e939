#pragma once
// One catheter's stock of one item, with its records: what a form about it stands on. The records are kept as
// they were, since a reload may come while the form is open.
#include "core/desk/Desk.h"

#include <QString>

namespace kitround::ui {

class Session;

struct LineAtHome {
    desk::AgencyPtr agency;
    const Catheter *catheter = nullptr;
    const Patient *patient = nullptr;
    const Item *item = nullptr;

    bool isOnRecord() const { return patient && item; }
    QString who() const; // "Family, Given, chest, right"
    QString itemName() const;
};
LineAtHome lineAtHome(const Session &session, CatheterId catheter, ItemId item);

} // namespace kitround::ui
