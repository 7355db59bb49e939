#include "core/base/Random.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

namespace kitround {
namespace {

// The two published algorithms, written once more from their papers and held against published outputs below,
// so that our Random, which starts the second from the first, is held against both.
std::uint64_t splitMix(std::uint64_t &state) { // Steele, Lea and Flood, OOPSLA 2014
    std::uint64_t z = (state += 0x9e3779b97f4a7c15ULL);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
    return z ^ (z >> 31);
}
struct Xoshiro { // xoshiro256** 1.0, Blackman and Vigna, ACM TOMS 47(4), 2021
    std::array<std::uint64_t, 4> s;
    static std::uint64_t rotate(std::uint64_t x, int k) { return (x << k) | (x >> (64 - k)); }
    std::uint64_t next() {
        const std::uint64_t result = rotate(s[1] * 5, 7) * 9, t = s[1] << 17;
        s[2] ^= s[0];
        s[3] ^= s[1];
        s[1] ^= s[2];
        s[0] ^= s[3];
        s[2] ^= t;
        s[3] = rotate(s[3], 45);
        return result;
    }
};

TEST(RandomTest, TheAlgorithmsGiveTheirPublishedNumbers) {
    // From memory, as printed with the reference code's ports: splitmix64 from 1234567, xoshiro256** from
    // 1,2,3,4.
    std::uint64_t seed = 1234567;
    for (const std::uint64_t expected :
         {6457827717110365317ULL, 3203168211198807973ULL, 9817491932198370423ULL, 4593380528125082431ULL,
          16408922859458223821ULL})
        EXPECT_EQ(splitMix(seed), expected);
    Xoshiro generator{{1, 2, 3, 4}};
    for (const std::uint64_t expected :
         {11520ULL, 0ULL, 1509978240ULL, 1215971899390074240ULL, 1216172134540287360ULL,
          607988272756665600ULL, 16172922978634559625ULL, 8476171486693032832ULL, 10595114339597558777ULL,
          2904607092377533576ULL})
        EXPECT_EQ(generator.next(), expected);
}

TEST(RandomTest, IsXoshiroStartedBySplitMix) {
    for (std::uint64_t seed : {0ULL, 1ULL, 42ULL, 0xffffffffffffffffULL}) {
        Random ours(seed);
        std::uint64_t s = seed;
        Xoshiro theirs{};
        for (std::uint64_t &word : theirs.s)
            word = splitMix(s);
        for (int i = 0; i < 1000; ++i)
            ASSERT_EQ(ours.next(), theirs.next()) << seed << " at " << i;
    }
}

TEST(RandomTest, StaysInItsBounds) {
    Random random(7);
    std::array<int, 6> seen{};
    for (int i = 0; i < 60000; ++i) {
        const std::int64_t die = random.between(-2, 3);
        ASSERT_GE(die, -2);
        ASSERT_LE(die, 3);
        ++seen[static_cast<std::size_t>(die + 2)];
        const double u = random.uniform();
        ASSERT_GE(u, 0.0);
        ASSERT_LT(u, 1.0);
    }
    // Each face 10000 times, standard deviation about 91; five of them leave no room for a biased draw.
    for (const int count : seen)
        EXPECT_NEAR(count, 10000, 460);
}

TEST(RandomTest, ShuffleKeepsWhatItShuffles) {
    Random random(11);
    std::vector<int> cards(52);
    std::iota(cards.begin(), cards.end(), 0);
    const std::vector<int> before = cards;
    random.shuffle(cards);
    EXPECT_NE(cards, before);
    std::ranges::sort(cards);
    EXPECT_EQ(cards, before);
}

TEST(RandomTest, AForkGoesItsOwnWayTheSameEveryTime) {
    Random a(5), b(5);
    Random forkA = a.fork(), forkB = b.fork();
    for (int i = 0; i < 100; ++i) {
        const std::uint64_t x = forkA.next();
        EXPECT_EQ(x, forkB.next());
        EXPECT_NE(x, a.next());
    }
}

} // namespace
} // namespace kitround
