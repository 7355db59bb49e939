#pragma once
// What a search may move, and where to; the rest stays where it stands.
#include <vector>

namespace kitround::rounds {

struct Scope {
    std::vector<char> jobs;   // by job; one without a place: it may find one
    std::vector<char> duties; // by duty
};

} // namespace kitround::rounds
