#pragma once
// Items, suppliers, their offers, lots and payers: a table and a form each.
#include "core/records/Snapshot.h"
#include "ui/shared/Page.h"
#include "ui/shared/RowsModel.h"

class QLabel;
class QLineEdit;
class QTabWidget;

namespace kitround::ui {

class DenseTable;

class CataloguePage : public Page {
    Q_OBJECT
public:
    explicit CataloguePage(Session &session, QWidget *parent = nullptr);
    void selectItem(ItemId item);
    void newSupplier(); // on their tab, with the form open
    void takeFocus() override;

private:
    enum Tab { kItems, kSuppliers, kOffers, kLots, kPayers };
    // `nothing`: what to do while the table is empty.
    void addTable(const QString &objectName, const QString &title, const QString &nothing,
                  QAbstractItemModel *model);
    void makeActions();
    void show();
    void showTab();
    void add();
    void edit(int row);
    void removeOffer();

    RowsModel<Item> items_;
    RowsModel<Supplier> suppliers_;
    RowsModel<SupplierItem> offers_;
    RowsModel<Lot> lots_;
    RowsModel<Payer> payers_;
    QTabWidget *tabs_;
    std::vector<DenseTable *> tables_; // by tab
    std::vector<RowsProxy *> proxies_;
    std::vector<QLabel *> nothing_;
    QLineEdit *search_;
    QPushButton *new_, *edit_, *remove_;
    bool isFitted_ = false;
};

} // namespace kitround::ui
