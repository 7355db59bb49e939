#pragma once
// The schema's versions. A shipped migration is never edited: a change is the next number.
#include "core/store/Connection.h"

#include <span>

namespace kitround::store {

// "KITR" in the file's head: the file is ours.
inline constexpr std::int64_t kApplicationId = 0x4b495452;

struct Migration {
    int version; // 1, 2, 3, ... without a gap
    QString sql;
};
// What this program brings, from resources/migrations.
std::span<const Migration> builtInMigrations();
inline int newestVersion(std::span<const Migration> migrations) {
    return migrations.back().version;
}

Result<int> versionOf(Connection &connection);
// Every migration above `from`, each in a transaction of its own with its version number; foreign keys are
// checked before each commit. Stops at the first that fails: the file then stands at the version before it.
Result<void> migrate(Connection &connection, int from, std::span<const Migration> migrations);

} // namespace kitround::store
