#pragma once
// Faults of what is typed into the receiving form, and how they are shown.
#include "core/base/Problem.h"
#include "ui/shared/Look.h"

#include <QLabel>

namespace kitround::ui {

inline Problem fault(ProblemCode code, const char *field, const QString &text) {
    Problem problem;
    problem.code = text.isEmpty() ? ProblemCode::Missing : code;
    problem.field = field;
    if (!text.isEmpty())
        problem.args = {text.toStdString()};
    return problem;
}

inline void setFaultInk(QLabel *label) {
    QPalette p = label->palette();
    p.setColor(QPalette::WindowText, Look::colour(Role::Act));
    label->setPalette(p);
}

} // namespace kitround::ui
