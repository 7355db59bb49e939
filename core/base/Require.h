#pragma once
// A broken promise between our own parts: logs and stops, in every build. Not for bad input (Problem.h).
namespace kitround {
[[noreturn]] void requireFailed(const char *condition, const char *file, int line);
}
#define KITROUND_REQUIRE(condition)                                                                          \
    ((condition) ? void(0) : ::kitround::requireFailed(#condition, __FILE__, __LINE__))
