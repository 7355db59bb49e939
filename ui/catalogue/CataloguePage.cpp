#include "ui/catalogue/CataloguePage.h"

namespace kitround::ui {

CataloguePage::CataloguePage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("cataloguePage"), tr("Items and suppliers"), parent) {
    showEmpty(tr("Not written yet."));
}

} // namespace kitround::ui
