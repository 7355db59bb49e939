#pragma once
// Faults of what is typed into the receiving form.
#include "core/base/Problem.h"

#include <QString>

namespace kitround::ui {

inline Problem fault(ProblemCode code, const char *field, const QString &text) {
    Problem problem;
    problem.code = text.isEmpty() ? ProblemCode::Missing : code;
    problem.field = field;
    if (!text.isEmpty())
        problem.args = {text.toStdString()};
    return problem;
}

} // namespace kitround::ui
