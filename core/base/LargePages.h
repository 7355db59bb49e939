#pragma once
// Memory for many small arrays that live about as long as each other. They are cut one after the other from
// blocks that the system backs with large pages where it can: of thousands of small results the first touch
// of each fresh page costs more than what is written there.
#include <memory>
#include <memory_resource>
#include <vector>

namespace kitround {

// A growing block; freed as a whole, with the last array in it. Not for two threads at once.
std::shared_ptr<std::pmr::memory_resource> largePages();

// For standard containers. Without a resource: the heap. A copy of a container lies on the heap, so that it
// keeps no foreign block alive; a moved one takes its memory along.
template <class T>
class SharedBlock {
public:
    using value_type = T;
    using propagate_on_container_move_assignment = std::true_type;
    using propagate_on_container_swap = std::true_type;

    SharedBlock() = default;
    explicit SharedBlock(std::shared_ptr<std::pmr::memory_resource> from) : from_(std::move(from)) {}
    template <class U>
    explicit SharedBlock(const SharedBlock<U> &other) : from_(other.from()) {}

    T *allocate(std::size_t n) {
        return from_ ? static_cast<T *>(from_->allocate(n * sizeof(T), alignof(T)))
                     : std::allocator<T>().allocate(n);
    }
    void deallocate(T *at, std::size_t n) {
        if (!from_) // a block keeps what was cut from it until its end
            std::allocator<T>().deallocate(at, n);
    }
    SharedBlock select_on_container_copy_construction() const { return {}; }
    const std::shared_ptr<std::pmr::memory_resource> &from() const { return from_; }
    friend bool operator==(const SharedBlock &a, const SharedBlock &b) { return a.from_ == b.from_; }

private:
    std::shared_ptr<std::pmr::memory_resource> from_;
};

template <class T>
using BlockVector = std::vector<T, SharedBlock<T>>;

} // namespace kitround
