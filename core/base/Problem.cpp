#include "core/base/Problem.h"

#include "core/base/Require.h"

#include <cstdio>
#include <cstdlib>
#include <iterator>

namespace kitround {

void requireFailed(const char *condition, const char *file, int line) {
    std::fprintf(stderr, "kitround: internal check failed: %s (%s:%d)\n", condition, file, line);
    std::abort();
}

Problem joined(Problems problems) {
    KITROUND_REQUIRE(!problems.empty());
    Problem first = std::move(problems.front());
    first.also.insert(first.also.end(), std::make_move_iterator(problems.begin() + 1),
                      std::make_move_iterator(problems.end()));
    return first;
}

Problems flattened(const Problem &problem) {
    Problems all{problem};
    all.front().also.clear();
    for (const Problem &p : problem.also) {
        Problems inner = flattened(p);
        all.insert(all.end(), inner.begin(), inner.end());
    }
    return all;
}

std::string debugText(const Problem &problem) {
    std::string text = "problem " + std::to_string(int(problem.code)) + " at " + problem.field;
    if (problem.row > 0)
        text += " row " + std::to_string(problem.row);
    for (const std::string &a : problem.args)
        text += " [" + a + "]";
    for (const Problem &p : problem.also)
        text += "; " + debugText(p);
    return text;
}

} // namespace kitround
