#pragma once
// Local wall-clock time and UTC in a zone with daylight saving. A missing local time (spring) takes the
// offset before the gap; a repeated one (autumn) means the first (RFC 5545, 3.3.5). Rules of the United
// States since 2007 (15 U.S.C. 260a), used for every year; other zones are refused by name, not guessed.
#include "core/base/Date.h"
#include "core/base/Result.h"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace kitround::calendar {

class Zone {
public:
    // IANA name ("America/New_York"). Problem UnknownChoice lists the names known.
    static Result<Zone> named(std::string_view name);
    static std::vector<std::string> names();

    Instant toUtc(LocalTime local) const;
    LocalTime toLocal(Instant utc) const; // whole minutes
    int standardHours() const;            // east of Greenwich, without daylight saving
    // Length of the local day: 23, 24 or 25 hours.
    Minutes lengthOfDay(Date date) const;

private:
    struct Rule;
    explicit Zone(const Rule &rule) : rule_(&rule) {}
    static std::span<const Rule> rules();
    const Rule *rule_; // in a constant table
};

} // namespace kitround::calendar
