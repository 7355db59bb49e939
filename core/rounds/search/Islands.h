#pragma once
// Several searches side by side that now and then compare notes. All meet at the same shares of the work;
// there those behind go on from the best plan of all. Who meets whom with what depends on the work done only,
// so that the same seed and iterations give the same plan however the threads run.
#include <array>
#include <barrier>
#include <cstddef>

namespace kitround::rounds {

class Islands {
public:
    explicit Islands(std::size_t count) : barrier_(static_cast<std::ptrdiff_t>(count)) {}

    // Late, when the searches have settled: before that they had better differ.
    static constexpr std::array<double, 5> kMeetAt{0.5, 0.6, 0.7, 0.8, 0.9};

    void wait() { barrier_.arrive_and_wait(); } // until all are there
    void leave() { barrier_.arrive_and_drop(); }

private:
    std::barrier<> barrier_;
};

} // namespace kitround::rounds
