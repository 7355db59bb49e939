#include "ui/today/TodayPage.h"

namespace kitround::ui {

TodayPage::TodayPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("todayPage"), tr("Today"), parent) {
    showEmpty(tr("Not written yet."));
}

} // namespace kitround::ui
