#pragma once
// Where "now" comes from. Handed in, so that a test or the sample agency can set its own day.
#include "core/base/Date.h"

#include <chrono>

namespace kitround {

class Clock {
public:
    virtual ~Clock() = default;
    virtual Instant now() const = 0;
};

class SystemClock final : public Clock {
public:
    Instant now() const override {
        const auto t = std::chrono::system_clock::now().time_since_epoch();
        return Instant::fromUnixSeconds(std::chrono::duration_cast<std::chrono::seconds>(t).count());
    }
};

class FixedClock final : public Clock {
public:
    explicit FixedClock(Instant at) : at_(at) {}
    Instant now() const override { return at_; }
    void set(Instant at) { at_ = at; }

private:
    Instant at_;
};

} // namespace kitround
