// Of the hand-over: many lines of a kind that are in the same hands told as one with their number, as Today
// does it.
#include "core/desk/views/AttentionParts.h"
#include "core/desk/views/FoldByKey.h"
#include "core/desk/views/HandOverView.h"

#include <algorithm>
#include <map>

namespace kitround::desk {
namespace {

// Accepted, waiting and open lines are never told together, nor what two people took or one took twice.
std::string handsOf(const HandOverRow &row) {
    std::string hands = row.handOver ? std::to_string(row.handOver->value()) : std::string("open");
    hands += row.isWaiting() ? ":waits:" : ":";
    return hands + row.takenBy.toStdString() + ':' + (row.takenAt ? toIso(*row.takenAt) : std::string());
}

HandOverRow emptyRow(const HandOverRow &first) {
    HandOverRow row = first;
    row.item.patient.reset();
    row.item.subject = "many:" + first.foldKey; // of the window alone: what is written down is each line
    row.who.clear();
    return row;
}

void tellRow(HandOverRow &row, bool isRest) {
    const HandOverRow &first = row.folded.front();
    const QString many = parts::manyText(first.many, row.folded.size(), isRest);
    row.item.what = (first.who.isEmpty() ? many : parts::withFirst(many, first.who)).toStdString();
    row.isLate = std::ranges::any_of(row.folded, &HandOverRow::isLate);
}

} // namespace

void parts::addFoldKinds(HandOverBoard &board, const Items &items, const Agency &agency) {
    std::map<std::string, const AttentionItem *> matters;
    for (const AttentionItem &item : items)
        matters.try_emplace(handOverSubject(item, agency), &item);
    for (auto *rows : {&board.waiting, &board.open, &board.accepted})
        for (HandOverRow &row : *rows)
            if (const auto found = matters.find(row.item.subject); found != matters.end()) {
                const FoldKind kind = foldKindOf(*found->second);
                row.foldKey = kind.key;
                row.many = kind.title;
                row.hurtsByItself = kind.hurtsByItself;
            }
}

std::vector<HandOverRow> foldedRows(std::vector<HandOverRow> rows, const std::set<std::string> &shown) {
    const auto keyOf = [&shown](const HandOverRow &row) {
        const bool isAlone = row.foldKey.empty() || shown.contains(row.foldKey);
        return isAlone ? std::string() : row.foldKey + '/' + handsOf(row);
    };
    return parts::foldByKey(
        std::move(rows), keyOf,
        [](const HandOverRow &row, std::size_t all) { return parts::linesKept(row.hurtsByItself, all); },
        emptyRow, tellRow);
}

} // namespace kitround::desk
