#pragma once
// Many small distributions in one piece of memory, each kept from its first to its last chance that is not
// negligible. Memory is kept from use to use, so that thousands of homes allocate once.
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

// The hot loops are compiled for wide registers too, chosen when the program starts. Each number is made by
// the same operations in the same order, so the result does not depend on the machine.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
#define KITROUND_HOT_LOOP __attribute__((target_clones("avx2", "default")))
#else
#define KITROUND_HOT_LOOP
#endif

namespace kitround::forecast {

// Below this a chance is dropped from the ends of a row. What a forecast of 84 days drops stays below 1e-12
// in all: a row loses at most its two tails, which fall faster than by halves, at each of 84 sums.
inline constexpr double kNegligibleChance = 2e-15;

class RowTable {
public:
    struct Row { // p[i] is the chance of least + i
        std::size_t least = 0;
        std::span<const double> p;
        std::size_t end() const { return least + p.size(); }
        Row trimmed() const; // without negligible chances at either end
        // The same by fours, which are negligible together: up to three at either end stay. Quicker.
        Row trimmedByFours() const;
    };
    void clear();
    std::size_t size() const { return spans_.size(); }
    Row operator[](std::size_t row) const {
        const Place &place = spans_[row];
        return {place.least, std::span(values_).subspan(place.at, place.size)};
    }
    std::size_t add(Row row); // appends it trimmed; gives its row number

    // A new row made in place: zeros to add to, then what was written there, trimmed by fours, as the row
    // from `least` on.
    std::span<double> room(std::size_t size);
    std::size_t addFromRoom(std::size_t least);

private:
    struct Place {
        std::size_t at = 0;
        std::size_t least = 0;
        std::size_t size = 0;
    };
    double *roomFor(std::size_t size); // behind the last row
    std::size_t place(std::size_t at, Row row);

    std::vector<double> values_; // each row is followed by kLane zeros; grows only
    std::size_t used_ = 0;       // of values_
    std::vector<Place> spans_;
    std::size_t room_ = 0; // behind used_, asked for
};

// sum = left + staying x row, then left += leaving x row; both from 0, `left` grown as needed.
void addLeaving(std::vector<double> &left, std::vector<double> &sum, RowTable::Row row, double staying,
                double leaving);
void addScaled(std::vector<double> &to, RowTable::Row row, double times); // `to` from 0, grown as needed
// The sum of two independent counts. The row lies in `buffer`.
RowTable::Row sumOf(const RowTable::Row &a, const RowTable::Row &b, std::vector<double> &buffer);
// Sum of a[i] b[i], by fours.
double dot(std::span<const double> a, const double *b);
double chanceAbove(const RowTable::Row &row, std::int64_t value);

} // namespace kitround::forecast
