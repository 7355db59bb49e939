#pragma once
// Random streams that give the same numbers on every machine (the standard distributions do not promise
// that). Generator: xoshiro256** 1.0, Blackman and Vigna, "Scrambled linear pseudorandom number generators",
// ACM TOMS 47(4), 2021; seeded through splitmix64 (Steele, Lea and Flood, OOPSLA 2014).
#include "core/base/Require.h"

#include <array>
#include <bit>
#include <cstdint>
#include <utility>

namespace kitround {

class Random {
public:
    explicit Random(std::uint64_t seed) {
        for (std::uint64_t &word : state_) {
            seed += 0x9e3779b97f4a7c15ULL;
            std::uint64_t z = seed;
            z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
            z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
            word = z ^ (z >> 31);
        }
    }
    std::uint64_t next() {
        const std::uint64_t result = std::rotl(state_[1] * 5, 7) * 9;
        const std::uint64_t t = state_[1] << 17;
        state_[2] ^= state_[0];
        state_[3] ^= state_[1];
        state_[1] ^= state_[2];
        state_[0] ^= state_[3];
        state_[2] ^= t;
        state_[3] = std::rotl(state_[3], 45);
        return result;
    }
    // Uniform in [0, 1).
    double uniform() { return static_cast<double>(next() >> 11) * 0x1.0p-53; }
    // Uniform in [0, n). Precondition: n > 0.
    std::uint64_t below(std::uint64_t n) {
        KITROUND_REQUIRE(n > 0);
        const std::uint64_t limit = UINT64_MAX - UINT64_MAX % n; // refuse the uneven tail
        std::uint64_t x = next();
        while (x >= limit)
            x = next();
        return x % n;
    }
    // Uniform in [least, most].
    std::int64_t between(std::int64_t least, std::int64_t most) {
        return least + static_cast<std::int64_t>(below(static_cast<std::uint64_t>(most - least) + 1));
    }
    bool chance(double probability) { return uniform() < probability; }
    template <class Sequence>
    void shuffle(Sequence &s) {
        for (std::size_t i = s.size(); i > 1; --i)
            std::swap(s[i - 1], s[below(i)]);
    }
    // An independent stream for a part of the work.
    Random fork() { return Random(next()); }

private:
    std::array<std::uint64_t, 4> state_{};
};

} // namespace kitround
