#pragma once
// The supply clerk's page: homes by risk, the storeroom, refill calls, deliveries, and what is kept beside
// the ledger: substitutions, cars, closed homes.
#include "core/desk/views/Attention.h"
#include "core/desk/views/SupplyBoards.h"
#include "core/records/Ids.h"
#include "ui/shared/Page.h"
#include "ui/shared/RowsPanel.h"

class QTabWidget;

namespace kitround::ui {

class CarPanel;
class DeliveryPanel;
class ExpiryPanel;
class HomesPanel;
class RefillPanel;
class ReturnPanel;
class StartUpPanel;
class StoreroomPanel;
class SubstitutionPanel;

class StockPage : public Page {
    Q_OBJECT
public:
    explicit StockPage(Session &session, QWidget *parent = nullptr);
    void selectHome(PatientId patient);
    void callHome(PatientId patient);  // its refill call, or why there is none
    void countHome(PatientId patient); // the form of a count there
    // Its first delivery; of several new catheters that one, where one is named.
    void startHome(PatientId patient, CatheterId catheter = {});
    void selectItem(ItemId item);
    void showMany(desk::AttentionKind kind); // the list that holds all of that kind
    void takeFocus() override;

private:
    void makeActions();
    void agencyChanged();
    void computed();
    void mainAction();
    void nameMainAction();
    void showHowGood();

    QTabWidget *tabs_;
    HomesPanel *homes_;
    StoreroomPanel *storeroom_;
    RefillPanel *refills_;
    DeliveryPanel *deliveries_;
    SubstitutionPanel *substitutions_;
    CarPanel *cars_;
    ReturnPanel *returns_;
    RowsPanel<desk::UseRow> *use_;
    ExpiryPanel *expiry_;
    StartUpPanel *starts_;
    QPushButton *main_;
};

} // namespace kitround::ui
