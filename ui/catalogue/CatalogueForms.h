#pragma once
// What is stocked, who sells it and on what terms, and who pays. True when stored. Records come by value: the
// agency may be reloaded under an open form.
#include "core/records/People.h"
#include "core/records/Purchasing.h"
#include "core/records/Stock.h"

class QWidget;

namespace kitround::ui {

class Session;

bool editItem(QWidget *window, Session &session, Item item);
bool editSupplier(QWidget *window, Session &session, Supplier supplier);
bool editOffer(QWidget *window, Session &session, SupplierItem offer);
bool editLot(QWidget *window, Session &session, Lot lot);
bool editPayer(QWidget *window, Session &session, Payer payer);

} // namespace kitround::ui
