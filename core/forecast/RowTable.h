#pragma once
// Many small distributions in one piece of memory, each kept from its first to its last chance that is not
// negligible. Memory is kept from use to use, so that thousands of homes allocate once.
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace kitround::forecast {

// Below this a chance cannot move any figure shown: all that a forecast drops sums to less than 1e-12.
inline constexpr double kNegligibleChance = 1e-17;

class RowTable {
public:
    struct Row { // p[i] is the chance of least + i
        std::size_t least = 0;
        std::span<const double> p;
        std::size_t end() const { return least + p.size(); }
    };
    void clear();
    std::size_t size() const { return spans_.size(); }
    Row operator[](std::size_t row) const {
        const Place &place = spans_[row];
        return {place.least, std::span(values_).subspan(place.at, place.size)};
    }
    // Appends a distribution over least, least + 1, ...; gives its row number.
    std::size_t add(std::size_t least, std::span<const double> p);

private:
    struct Place {
        std::size_t at = 0;
        std::size_t least = 0;
        std::size_t size = 0;
    };
    std::vector<double> values_;
    std::vector<Place> spans_;
};

// Sum over n of counts(n) parts[n]: units where the number of sessions is uncertain. Writes all of `to`, from
// 0.
void mixRows(const RowTable::Row &counts, const RowTable &parts, std::vector<double> &to);
double chanceAbove(const RowTable::Row &row, std::int64_t value);

} // namespace kitround::forecast
