#pragma once
// Who may include whom. The table of allowed arrows stands in Arrows.cpp; this reads the #include lines.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace kitround::architecture {

struct Fault {
    std::string file; // from the root of the sources
    int line = 0;
    std::string what;
};

// Which module of Qt a header such as "QSqlQuery" or "QtGui/QPainter" belongs to ("QtSql"), looked up among
// the installed headers; nothing where it is not Qt's.
std::optional<std::string> qtModuleOf(std::string_view header);

// Faults of one source text that stands at `path` from the root. Texts outside the folders of the table have
// none.
std::vector<Fault> faultsOf(const std::string &path, std::string_view text);

// All sources under app, core, ui and sample-db, as paths from the root, sorted.
std::vector<std::string> sourcesUnder(const std::string &root);

// The folder of the table a path stands in ("core/store", "ui"), or "" for none.
std::string folderOf(std::string_view path);

} // namespace kitround::architecture
