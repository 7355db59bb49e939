#pragma once
// The hand-over between shifts: what there is to hand over, what waits to be accepted, who took what. A line
// is the same as long as its subject is; the matter itself (the call, the home) is open or closed elsewhere.
#include "core/desk/views/Attention.h"

#include <set>
#include <string>
#include <vector>

namespace kitround::desk {

// All there is to hand over now: open calls, stock at risk, clocks, incidents, holds, changes since
// yesterday. What can wait ("when there is time") is left out.
std::vector<HandOverItem> handOverItems(const std::vector<AttentionItem> &items, const Agency &agency);
std::string handOverSubject(const AttentionItem &item, const Agency &agency);

struct HandOverRow {
    HandOverItem item;
    QString who;                        // the patient in short, empty where it is about none
    std::optional<HandOverId> handOver; // none: not handed over
    UserId handedById;                  // not set: not handed over
    QString handedBy, takenBy;          // takenBy, of an open line: who accepted its subject since yesterday
    std::optional<LocalTime> handedAt, takenAt;
    bool isLate = false; // waits for longer than a shift
    // What it is told with, and how, where that is more than a handful: of what still stands under Today.
    std::string foldKey = {};
    QString many = {}; // of such a line, with a place for the number
    bool hurtsByItself = false;
    std::vector<HandOverRow> folded = {}; // the lines this one stands for, in the order they had
    bool isWaiting() const { return handOver && !item.acceptedAt; }
    // The record refuses one's own (records/ValidateTeam).
    bool waitsFor(UserId user) const { return isWaiting() && handedById != user; }
};
struct HandOverBoard {
    std::vector<HandOverRow> waiting;  // the longest first
    std::vector<HandOverRow> open;     // to be handed over next, with who has it now
    std::vector<HandOverRow> accepted; // since yesterday, the newest first
};
// Many of a kind that are in the same hands told as one, with their number and the first; kinds that are
// `shown`, by their key, stay a line each. Files, papers and what is written down have every line.
std::vector<HandOverRow> foldedRows(std::vector<HandOverRow> rows, const std::set<std::string> &shown = {});
HandOverBoard handOverBoard(const std::vector<AttentionItem> &items, const Agency &agency);
QString stateText(const HandOverRow &row); // in the window, on paper and in the table alike
// "Kim, Mon 2 Mar 07:20"; of one that waits its state, "waits, since Mon 2 Mar 07:00, from Robin"; or empty.
QString takenText(const HandOverRow &row);
QString words(HandOverTopic topic);
// One line a hand-over since yesterday or still open: from whom, when, who took how many lines, what waits.
QStringList handOverLines(const Agency &agency);
Table handOverTable(const HandOverBoard &board, const Agency &agency); // patients by code and initials

} // namespace kitround::desk
