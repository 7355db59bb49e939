#pragma once
// The hand-over between shifts: what there is to hand over, what waits to be accepted, who took what. A line
// is the same as long as its subject is; the matter itself (the call, the home) is open or closed elsewhere.
#include "core/desk/views/Attention.h"

namespace kitround::desk {

// All there is to hand over now: open calls, stock at risk, clocks, holds, changes since yesterday. What can
// wait
// ("when there is time") is left out.
std::vector<HandOverItem> handOverItems(const std::vector<AttentionItem> &items, const Agency &agency);
std::string handOverSubject(const AttentionItem &item, const Agency &agency);

struct HandOverRow {
    HandOverItem item;
    QString who;                        // the patient in short, empty where it is about none
    std::optional<HandOverId> handOver; // none: not handed over
    QString handedBy, takenBy;          // takenBy: who accepted the subject last
    std::optional<LocalTime> handedAt, takenAt;
    bool isLate = false; // waits for longer than a shift
    bool isWaiting() const { return handOver && !item.acceptedAt; }
};
struct HandOverBoard {
    std::vector<HandOverRow> waiting;  // the longest first
    std::vector<HandOverRow> open;     // to be handed over next, with who has it now
    std::vector<HandOverRow> accepted; // since yesterday, the newest first
};
HandOverBoard handOverBoard(const std::vector<AttentionItem> &items, const Agency &agency);
// "Kim, Mon 2 Mar 07:20", "waits, from Robin", or empty.
QString takenText(const HandOverRow &row);
QString words(HandOverTopic topic);
// One line a hand-over since yesterday or still open: from whom, when, who took how many lines, what waits.
QStringList handOverLines(const Agency &agency);
Table handOverTable(const HandOverBoard &board, const Agency &agency); // patients by code and initials

} // namespace kitround::desk
