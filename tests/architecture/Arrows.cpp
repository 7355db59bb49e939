#include "Arrows.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <sstream>

namespace kitround::architecture {
namespace {

namespace fs = std::filesystem;

struct Folder {
    std::string_view name;
    std::vector<std::string_view> mayInclude; // besides itself
    std::vector<std::string_view> qt;         // modules it may see
};

const std::vector<Folder> &table() {
    static const std::vector<Folder> kTable = {
        {"core/base", {}, {}},
        {"core/records", {"core/base"}, {}},
        {"core/calendar", {"core/records", "core/base"}, {}},
        {"core/safety", {"core/calendar", "core/records", "core/base"}, {}},
        {"core/forecast", {"core/safety", "core/calendar", "core/records", "core/base"}, {}},
        {"core/supply", {"core/forecast", "core/safety", "core/calendar", "core/records", "core/base"}, {}},
        {"core/rounds", {"core/safety", "core/calendar", "core/records", "core/base"}, {}},
        {"core/caseload", {"core/rounds", "core/safety", "core/calendar", "core/records", "core/base"}, {}},
        {"core/exchange", {"core/calendar", "core/records", "core/base"}, {"QtCore"}},
        {"core/store", {"core/records", "core/base"}, {"QtCore", "QtSql"}},
        {"core/desk", {"core/"}, {"QtCore"}},
        {"sample-db",
         {"core/store", "core/supply", "core/exchange", "core/safety", "core/calendar", "core/records",
          "core/base"},
         {"QtCore"}},
        {"ui",
         {"core/desk", "core/records", "core/base", "sample-db"},
         {"QtCore", "QtGui", "QtWidgets", "QtConcurrent", "QtSvg", "QtPrintSupport"}},
        {"app",
         {"ui", "sample-db", "core/desk", "core/records", "core/base"},
         {"QtCore", "QtGui", "QtWidgets"}},
    };
    return kTable;
}

const Folder *folderNamed(std::string_view name) {
    const auto at = std::ranges::find(table(), name, &Folder::name);
    return at == table().end() ? nullptr : &*at;
}

bool isAllowed(const Folder &from, std::string_view header) {
    const auto isUnder = [&](std::string_view folder) {
        return header.starts_with(folder) &&
               (folder.ends_with('/') || header.substr(folder.size()).starts_with('/'));
    };
    return isUnder(from.name) || std::ranges::any_of(from.mayInclude, isUnder);
}

// What stands between the quotes or brackets of an #include line, or "".
std::string_view includedBy(std::string_view line) {
    const auto skipBlanks = [&] { line.remove_prefix(std::min(line.find_first_not_of(" \t"), line.size())); };
    skipBlanks();
    if (!line.starts_with('#'))
        return {};
    line.remove_prefix(1);
    skipBlanks();
    if (!line.starts_with("include"))
        return {};
    line.remove_prefix(7);
    skipBlanks();
    if (line.empty() || (line[0] != '"' && line[0] != '<'))
        return {};
    const std::size_t end = line.find(line[0] == '"' ? '"' : '>', 1);
    return end == std::string_view::npos ? std::string_view{} : line.substr(1, end - 1);
}

std::string wrongInclude(const Folder &from, std::string_view header) {
    const std::string arrow = std::string(from.name) + " -> " + std::string(header);
    if (!folderOf(header).empty() || header.starts_with("core/") || header.starts_with("tests/"))
        return isAllowed(from, header) ? "" : arrow;
    const auto module = qtModuleOf(header);
    if (!module || std::ranges::find(from.qt, *module) != from.qt.end())
        return "";
    return arrow + " (" + *module + ")";
}

bool namesSql(std::string_view line) {
    return line.substr(0, line.find("//")).find("QSql") != std::string_view::npos;
}

} // namespace

std::string folderOf(std::string_view path) {
    for (const Folder &folder : table())
        if (path.starts_with(folder.name) && path.substr(folder.name.size()).starts_with('/'))
            return std::string(folder.name);
    return "";
}

std::optional<std::string> qtModuleOf(std::string_view header) {
    static constexpr std::array kModules = {"QtCore",       "QtGui", "QtWidgets",    "QtSql",
                                            "QtConcurrent", "QtSvg", "QtTest",       "QtPrintSupport",
                                            "QtNetwork",    "QtXml", "QtSvgWidgets", "QtDBus"};
    const fs::path root = KITROUND_QT_HEADERS;
    if (const std::size_t slash = header.find('/');
        slash != std::string_view::npos && header.starts_with("Qt"))
        return std::string(header.substr(0, slash));
    for (const char *module : kModules)
        if (fs::exists(root / module / header))
            return module;
    // A Qt header of a module that is not installed here is still Qt's.
    const bool looksLikeQt = header.size() > 1 && header[0] == 'Q' && header[1] >= 'A' && header[1] <= 'Z';
    return looksLikeQt ? std::optional<std::string>("unknown Qt module") : std::nullopt;
}

std::vector<Fault> faultsOf(const std::string &path, std::string_view text) {
    const Folder *from = folderNamed(folderOf(path));
    if (!from)
        return {};
    std::vector<Fault> faults;
    std::istringstream lines{std::string(text)};
    int number = 0;
    for (std::string line; std::getline(lines, line);) {
        ++number;
        if (const std::string_view header = includedBy(line); !header.empty()) {
            if (std::string what = wrongInclude(*from, header); !what.empty())
                faults.push_back({path, number, std::move(what)});
        } else if (from->name != "core/store" && namesSql(line)) {
            faults.push_back({path, number, std::string(from->name) + " names an SQL class"});
        }
    }
    return faults;
}

std::vector<std::string> sourcesUnder(const std::string &root) {
    std::vector<std::string> paths;
    for (const char *top : {"app", "core", "ui", "sample-db"})
        for (const auto &entry : fs::recursive_directory_iterator(fs::path(root) / top)) {
            const std::string kind = entry.path().extension().string();
            if (entry.is_regular_file() && (kind == ".h" || kind == ".cpp"))
                paths.push_back(fs::relative(entry.path(), root).generic_string());
        }
    std::ranges::sort(paths);
    return paths;
}

} // namespace kitround::architecture
