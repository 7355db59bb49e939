#pragma once
// Many lines of one key told as one that holds them, in the place of the first it stands for. No line is
// lost. Inside desk/views only.
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace kitround::desk::parts {

// `keyOf` gives what is told together, empty for a line of its own; `keptOf`, of a line and how many there
// are of its key, how many of these stay a line each; `start` an empty line for others like the one given;
// `tell` gets that line when it is full, and whether others of its key stand above it.
template <class Line, class KeyOf, class KeptOf, class Start, class Tell>
std::vector<Line> foldByKey(std::vector<Line> all, KeyOf keyOf, KeptOf keptOf, Start start, Tell tell) {
    struct Group {
        std::size_t all = 0, kept = 0, told = 0;
        std::optional<std::size_t> at; // of the line that stands for the others
    };
    std::map<std::string, Group> groups;
    for (const Line &line : all)
        if (const std::string key = keyOf(line); !key.empty()) {
            Group &group = groups[key];
            group.kept = keptOf(line, ++group.all);
        }
    std::vector<Line> lines;
    for (Line &line : all) {
        const auto found = groups.find(keyOf(line));
        if (found == groups.end() || found->second.told < found->second.kept) {
            if (found != groups.end())
                ++found->second.told;
            lines.push_back(std::move(line));
            continue;
        }
        Group &group = found->second;
        if (!group.at) {
            group.at = lines.size();
            lines.push_back(start(line));
        }
        lines[*group.at].folded.push_back(std::move(line));
    }
    for (const auto &[key, group] : groups)
        if (group.at)
            tell(lines[*group.at], group.kept > 0);
    return lines;
}

} // namespace kitround::desk::parts
