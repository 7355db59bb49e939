#include "ui/reorders/ReorderPage.h"

namespace kitround::ui {

ReorderPage::ReorderPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("reorderPage"), tr("Reorders"), parent) {
    showEmpty(tr("Not written yet."));
}

} // namespace kitround::ui
