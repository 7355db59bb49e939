#include "core/base/LargePages.h"

#include <cstdlib>
#include <new>

#if defined(__linux__)
#include <sys/mman.h>
#endif

namespace kitround {
namespace {

constexpr std::size_t kPage = std::size_t{2} << 20;

class PageSource : public std::pmr::memory_resource {
    static std::size_t wholePages(std::size_t bytes) { return (bytes + kPage - 1) / kPage * kPage; }
    void *do_allocate(std::size_t bytes, std::size_t) override {
        void *const at = std::aligned_alloc(kPage, wholePages(bytes));
        if (!at)
            throw std::bad_alloc();
#if defined(__linux__)
        madvise(at, wholePages(bytes), MADV_HUGEPAGE); // a wish: refused, the pages are small ones
#endif
        return at;
    }
    void do_deallocate(void *at, std::size_t, std::size_t) override {
        std::free(at);
    }
    bool do_is_equal(const std::pmr::memory_resource &other) const noexcept override {
        return this == &other;
    }
};

} // namespace

std::shared_ptr<std::pmr::memory_resource> largePages() {
    static PageSource source;
    // One page less what the block notes of itself.
    return std::make_shared<std::pmr::monotonic_buffer_resource>(2 * kPage - 64, &source);
}

} // namespace kitround
