#pragma once
// From a path to a checked connection. The order of the questions matters: nothing is written to a file
// before it is known to be ours.
#include "core/store/AgencyFile.h"
#include "core/store/Migrations.h"

namespace kitround::store {

struct OpeningOptions {
    std::span<const Migration> migrations = builtInMigrations();
    Connection::Fault fault; // for tests
};

struct Opened {
    std::unique_ptr<Connection> connection;
    int version = 0;
    std::string keptAs{}; // the copy of the older version, where this opening brought the file up to date
};

// A new private file with the schema and nothing in it. On failure nothing is left behind.
Result<Opened> createFile(const std::string &path, const OpeningOptions &options = {});
Result<Opened> openFile(const std::string &path, OpenMode mode, const OpeningOptions &options = {});
// The file and what SQLite may have left beside it.
void removeFile(const std::string &path);
// The name of the copy made before a migration from that version; a number is added where it is taken.
std::string backupNameBefore(const std::string &path, int version);

} // namespace kitround::store
