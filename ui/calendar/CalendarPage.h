#pragma once
#include "ui/shared/Page.h"

namespace kitround::ui {

class CalendarPage : public Page {
    Q_OBJECT
public:
    explicit CalendarPage(Session &session, QWidget *parent = nullptr);
    QUndoStack *undoStack() override;
    bool hasUnsavedDraft() const override;

private:
    QUndoStack *stack_;
};

} // namespace kitround::ui
