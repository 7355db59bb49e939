#include "ui/calendar/CalendarPage.h"

#include <QUndoStack>

namespace kitround::ui {

CalendarPage::CalendarPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("calendarPage"), tr("Caseload calendar"), parent) {
    stack_ = new QUndoStack(this);
    showEmpty(tr("Not written yet."));
}

QUndoStack *CalendarPage::undoStack() {
    return stack_;
}
bool CalendarPage::hasUnsavedDraft() const {
    return !stack_->isClean();
}

} // namespace kitround::ui
