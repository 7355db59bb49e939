#pragma once
// Draws from the usual distributions for the simulated worlds.
#include "core/base/Random.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace kitround::bench {

class Draws {
public:
    explicit Draws(std::uint64_t seed) : random_(seed) {}
    double uniform() { return random_.uniform(); }
    double between(double least, double most) { return least + (most - least) * random_.uniform(); }
    bool chance(double p) { return random_.uniform() < p; }
    int whole(int least, int most) { return static_cast<int>(random_.between(least, most)); }
    std::uint64_t fork() { return random_.next(); }
    double normal() { // polar method, Marsaglia and Bray 1964
        for (;;) {
            const double u = 2 * random_.uniform() - 1, v = 2 * random_.uniform() - 1, s = u * u + v * v;
            if (s > 0 && s < 1)
                return u * std::sqrt(-2 * std::log(s) / s);
        }
    }
    // Days until something of this chance a day happens, at least 1.
    int geometric(double perDay) {
        return 1 + static_cast<int>(std::log(1 - random_.uniform()) / std::log(1 - perDay));
    }

private:
    Random random_;
};

} // namespace kitround::bench
