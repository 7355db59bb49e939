#include "ui/stock/StockPage.h"

namespace kitround::ui {

StockPage::StockPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("stockPage"), tr("Stock forecast"), parent) {
    showEmpty(tr("Not written yet."));
}

void StockPage::selectHome(PatientId) {}
void StockPage::selectItem(ItemId) {}

} // namespace kitround::ui
