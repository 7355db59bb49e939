#include "ui/load/LoadPage.h"

namespace kitround::ui {

LoadPage::LoadPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("loadPage"), tr("Load review"), parent) {
    showEmpty(tr("Not written yet."));
}

} // namespace kitround::ui
