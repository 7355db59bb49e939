#pragma once
// The part of a refill call that asks for the counts: its fields, what is read from them and stored. What was
// stored is remembered, so that a second try stores nothing twice.
#include "core/desk/views/StockView.h"

#include <QString>

#include <map>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace kitround::ui {

class RecordForm;
class Session;

class CountFields {
public:
    // Borrows all; the lines are the form's own and stay.
    CountFields(RecordForm &form, Session &session, std::span<const supply::RefillLine> lines);
    void add(std::size_t line, const Item &item);
    static std::string field(std::size_t line);
    std::vector<HomeCount> read();
    // Before anything is written: the reason where what was set aside seems to be counted too. `told`: what
    // the call says of recalled lots and is not stored yet.
    std::optional<Problem> askWhy(const std::vector<HomeCount> &counts,
                                  const std::vector<RecallOutcome> &told);
    std::optional<Problem> write(const std::vector<HomeCount> &counts, const QString &what);
    bool isStored() const { return !stored_.empty(); }

private:
    using Line = std::pair<CatheterId, ItemId>;
    static Line lineOf(const HomeCount &count) { return {count.catheter, count.item}; }
    std::vector<HomeCount> notStored(std::vector<HomeCount> counts) const;
    Problem atField(Problem problem, const HomeCount &count) const;

    RecordForm &form_;
    Session &session_;
    const std::span<const supply::RefillLine> lines_;
    std::vector<std::size_t> asked_; // lines with a field
    std::map<Line, Eaches> stored_;
    std::map<Line, std::string> why_; // more than the record has, with what was set aside
};

} // namespace kitround::ui
