#pragma once
#include "core/base/Problem.h"

#include <utility>

namespace kitround::store {

inline Problem problem(ProblemCode code, std::string field, std::vector<std::string> args = {}) {
    Problem made;
    made.code = code;
    made.field = std::move(field);
    made.args = std::move(args);
    return made;
}

} // namespace kitround::store
