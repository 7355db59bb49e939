#include "Arrows.h"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

namespace kitround::architecture {
namespace {

std::string textOf(const std::string &path) {
    std::ifstream in(std::string(KITROUND_SOURCE_DIR) + "/" + path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

TEST(Arrows, EveryIncludeFollowsTheTable) {
    const auto paths = sourcesUnder(KITROUND_SOURCE_DIR);
    ASSERT_GT(paths.size(), 80U);
    for (const std::string &path : paths)
        for (const Fault &fault : faultsOf(path, textOf(path)))
            ADD_FAILURE() << fault.file << ":" << fault.line << ": " << fault.what;
}

TEST(Arrows, EverySourceStandsInAFolderOfTheTable) {
    for (const std::string &path : sourcesUnder(KITROUND_SOURCE_DIR))
        EXPECT_NE(folderOf(path), "") << path;
}

struct Planted {
    const char *path;
    const char *line;
    bool isFault;
};
constexpr Planted kPlanted[] = {
    // against the arrows
    {"core/base/Date.h", "#include \"core/records/Ids.h\"", true},
    {"core/records/People.h", "#include \"core/calendar/Weeks.h\"", true},
    {"core/calendar/Weeks.cpp", "#include \"core/safety/Limits.h\"", true},
    {"core/safety/Cautions.cpp", "#include \"core/forecast/Pmf.h\"", true},
    {"core/forecast/Pmf.cpp", "#include \"core/supply/Lots.h\"", true},
    {"core/supply/Lots.cpp", "#include \"core/rounds/travel/Travel.h\"", true},
    {"core/rounds/search/Solver.cpp", "#include \"core/store/AgencyFile.h\"", true},
    {"core/rounds/search/Solver.cpp", "#include \"core/caseload/Load.h\"", true},
    {"core/caseload/Load.cpp", "#include \"core/forecast/Pmf.h\"", true},
    {"core/exchange/Csv.cpp", "#include \"core/store/AgencyFile.h\"", true},
    {"core/store/AgencyFile.cpp", "#include \"core/calendar/Zone.h\"", true},
    {"core/desk/Desk.cpp", "#include \"ui/shared/Ask.h\"", true},
    {"sample-db/SampleAgency.cpp", "#include \"core/desk/Desk.h\"", true},
    {"ui/stock/StockPage.cpp", "#include \"core/store/AgencyFile.h\"", true},
    {"ui/stock/StockPage.cpp", "#include \"core/supply/Refills.h\"", true},
    {"app/headless_main.cpp", "#include \"core/store/AgencyFile.h\"", true},
    {"core/desk/Desk.cpp", "#include \"tests/bench/ManyPatients.h\"", true},
    {"core/basement/New.cpp", "", false}, // outside the table: EverySourceStandsInAFolderOfTheTable finds it
    // Qt where there is none, or the wrong part of it
    {"core/records/People.h", "#include <QString>", true},
    {"core/rounds/search/Solver.cpp", "#include <QtConcurrent/QtConcurrentRun>", true},
    {"core/calendar/Zone.cpp", "#  include <qtimezone.h>", true},
    {"core/desk/Desk.cpp", "#include <QWidget>", true},
    {"core/desk/Desk.cpp", "#include <QtWidgets/QLabel>", true},
    {"core/desk/Desk.cpp", "#include <QSqlDatabase>", true},
    {"core/desk/Desk.cpp", "class QSqlQuery;", true},
    {"ui/stock/StockPage.cpp", "#include <QSqlQueryModel>", true},
    {"ui/stock/StockPage.cpp", "    QSqlQuery query;", true},
    {"core/exchange/Csv.cpp", "#include <QPainter>", true},
    // as it should be
    {"core/store/AgencyFile.cpp", "#include <QSqlDatabase>", false},
    {"core/store/AgencyFile.cpp", "    QSqlQuery query;", false},
    {"core/supply/Refills.cpp", "#include \"core/forecast/Pmf.h\"", false},
    {"core/desk/views/StockView.cpp", "#include \"core/supply/Refills.h\"", false},
    {"core/desk/views/StockView.cpp", "#include <QString>", false},
    {"core/rounds/search/Solver.cpp", "#include <vector>", false},
    {"core/rounds/search/Solver.cpp", "// #include <QString>", false},
    {"core/desk/Desk.cpp", "// QSql stays in the store", false},
    {"ui/stock/StockPage.cpp", "#include <QTableView>", false},
    {"app/desktop_main.cpp", "#include \"ui/MainWindow.h\"", false},
};

TEST(Arrows, APlantedIncludeIsFoundWhereItIsWrongAndOnlyThere) {
    for (const Planted &p : kPlanted) {
        const auto faults = faultsOf(p.path, std::string("#pragma once\n") + p.line + "\n");
        EXPECT_EQ(!faults.empty(), p.isFault) << p.path << " with " << p.line;
        if (!faults.empty()) {
            EXPECT_EQ(faults.front().line, 2);
        }
    }
    EXPECT_EQ(folderOf("core/basement/New.cpp"), "");
}

} // namespace
} // namespace kitround::architecture
