#include "ui/people/NursesPage.h"

namespace kitround::ui {

NursesPage::NursesPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("nursesPage"), tr("Nurses"), parent) {
    showEmpty(tr("Not written yet."));
}

void NursesPage::selectNurse(NurseId) {}

} // namespace kitround::ui
