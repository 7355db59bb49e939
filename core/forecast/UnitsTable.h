#pragma once
// Units that n sessions use, n = 0, 1, 2, ...: each level of the item (ItemUse::levels) by itself, then
// mixed, since a home keeps to its level.
#include "core/forecast/RowTable.h"
#include "core/forecast/UseModel.h"

#include <vector>

namespace kitround::forecast {

// The levels lie side by side, so that one step serves all of them, and four rows at a time are made and
// kept together, so that a mixture fetches and puts back its sum once for the four. Memory is kept from use
// to use.
class UnitsTable {
public:
    static constexpr std::size_t kMostLevels = 4;

    void begin(const ItemUse &use); // precondition: at most kMostLevels levels
    // Of n sessions; made as they are asked for. Valid until more are. May begin and end with zeros.
    RowTable::Row row(std::size_t n);
    // Appends to `to` the sum over n of counts(n) x row n: units where the number of sessions is uncertain.
    std::size_t addMix(const RowTable::Row &counts, RowTable &to);

private:
    // Four rows, each from `least` in whole lanes; they follow each other in rows_.
    struct Four {
        std::size_t at = 0;
        std::size_t least = 0;
        std::size_t lanes = 0;
        std::size_t behind() const { return at + 16 * lanes; }
    };
    friend void mixFours(double *to, const double *times, const Four *fours, std::size_t count,
                         const double *rows, std::size_t least);
    void know(std::size_t fours);
    void trim();
    void addFour();

    std::vector<double> taps_; // by units of a session, then level
    // Of the first session that no four holds yet: by units from least_, then level; each chance times its
    // level's weight. From first_ on in levels_.
    std::vector<double> levels_, next_; // these and rows_ only grow
    std::size_t first_ = 0, size_ = 0, least_ = 0;
    std::vector<Four> fours_;
    std::vector<double> rows_, times_;
};

} // namespace kitround::forecast
