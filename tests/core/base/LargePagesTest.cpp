#include "core/base/LargePages.h"

#include <gtest/gtest.h>

#include <cstdint>
#include <numeric>

namespace kitround {
namespace {

using Numbers = BlockVector<std::int64_t>;

Numbers counted(const std::shared_ptr<std::pmr::memory_resource> &from, std::size_t n) {
    Numbers numbers(n, SharedBlock<std::int64_t>(from));
    std::iota(numbers.begin(), numbers.end(), 0);
    return numbers;
}

TEST(LargePagesTest, ArraysOfOneBlockLieSideBySideAndOutliveTheirMaker) {
    std::vector<Numbers> all;
    {
        const auto block = largePages();
        for (int i = 0; i < 1000; ++i)
            all.push_back(counted(block, 100));
    }
    EXPECT_EQ(all[1].data() - all[0].data(), 100);
    all.erase(all.begin(), all.begin() + 500); // the block stays for the rest
    for (const Numbers &numbers : all)
        EXPECT_EQ(std::accumulate(numbers.begin(), numbers.end(), std::int64_t{0}), 99 * 100 / 2);
}

TEST(LargePagesTest, OneLargerThanABlockHasItsPlaceToo) {
    const Numbers numbers = counted(largePages(), 2'000'000);
    EXPECT_EQ(numbers.back(), 1'999'999);
}

TEST(LargePagesTest, ACopyLiesOnTheHeapAndAMovedOneKeepsItsMemory) {
    const auto block = largePages();
    Numbers first = counted(block, 10);
    const Numbers copy = first;
    EXPECT_EQ(copy.get_allocator().from(), nullptr);
    EXPECT_EQ(copy, first);
    const std::int64_t *const at = first.data();
    const Numbers moved = std::move(first);
    EXPECT_EQ(moved.data(), at);
    EXPECT_EQ(moved.get_allocator().from(), block);
    Numbers assigned;
    assigned = counted(block, 3);
    EXPECT_EQ(assigned.get_allocator().from(), block);
    assigned.push_back(7); // grows in the block
    EXPECT_EQ(assigned.back(), 7);
}

} // namespace
} // namespace kitround
