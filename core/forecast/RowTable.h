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

    // Appends the sum over n of counts(n) x row n of `parts`: units where the number of sessions is
    // uncertain. `parts` is another table; it lays out its rows by fours for this, best when they were made
    // by fours.
    std::size_t addMix(const Row &counts, RowTable &parts);
    // Appends the sum over i of times[i] x rows[i], which lie elsewhere.
    std::size_t addSum(std::span<const Row> rows, std::span<const double> times);

private:
    struct Place {
        std::size_t at = 0;
        std::size_t least = 0;
        std::size_t size = 0;
    };
    // Four rows once more, each from the first to the last place of any of them in whole lanes: a mixture
    // fetches and puts back its sum once for the four.
    struct Four {
        std::size_t at = 0; // in inFours_; the rows follow each other
        std::size_t least = 0;
        std::size_t lanes = 0; // of each
        std::size_t rows = 0;  // less than four at the end of the table
    };
    friend void mixFours(double *to, const double *times, const Four *fours, std::size_t count,
                         const double *values, std::size_t least);
    void layOut(std::size_t four);
    double *roomFor(std::size_t size);                      // behind the last row
    Row written(std::size_t least, std::size_t size) const; // there
    std::size_t keep(Row row);                              // of what was written
    std::size_t place(std::size_t at, Row row);

    std::vector<double> values_; // each row is followed by kLane zeros; grows only
    std::size_t used_ = 0;       // of values_
    std::vector<Place> spans_;
    bool rises_ = true;       // no row begins or ends before the one before it
    std::vector<Four> fours_; // of the first rows, as far as they were mixed
    std::vector<double> inFours_, times_;
};

// The distribution of a sum that grows term by term.
class RunningSum {
public:
    void begin(); // no terms: surely zero
    void add(std::span<const double> term);
    RowTable::Row row() const { return {least_, std::span(p_).subspan(first_, size_)}; }

private:
    // Zeros kept before and behind, so that a few taps run over the ends without asking.
    static constexpr std::size_t kFew = 4, kBefore = kFew - 1, kBehind = 8;
    std::size_t least_ = 0, first_ = 0, size_ = 1; // in p_
    std::vector<double> p_, next_;
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
