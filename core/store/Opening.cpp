#include "core/store/Opening.h"

#include "core/store/Backup.h"
#include "core/store/HeldFiles.h"
#include "core/store/Problems.h"

#include <QFile>
#include <QFileInfo>
#include <QtEndian>

namespace kitround::store {
namespace {

using Access = Connection::Access;

QString fromPath(const std::string &path) {
    return QString::fromStdString(path);
}

// A file marked read-only is respected even where this user could overrule the mark.
bool hasAny(const QFileInfo &info, QFileDevice::Permissions wanted) {
    return (info.permissions() & wanted).toInt() != 0;
}
constexpr QFileDevice::Permissions kAnyRead =
    QFileDevice::ReadOwner | QFileDevice::ReadGroup | QFileDevice::ReadOther;
constexpr QFileDevice::Permissions kAnyWrite =
    QFileDevice::WriteOwner | QFileDevice::WriteGroup | QFileDevice::WriteOther;

Result<void> checkAccess(const std::string &path, OpenMode mode) {
    const QFileInfo info(fromPath(path));
    if (!info.exists())
        return problem(ProblemCode::FileMissing, "file", {path});
    if (!info.isFile() || !info.isReadable() || !hasAny(info, kAnyRead))
        return problem(ProblemCode::FileNotReadable, "file", {path});
    const bool canWrite =
        info.isWritable() && hasAny(info, kAnyWrite) && QFileInfo(info.absolutePath()).isWritable();
    if (mode == OpenMode::ReadWrite && !canWrite)
        return problem(ProblemCode::FileReadOnly, "file", {path});
    return {};
}

bool hasWriteAheadLog(const std::string &path) {
    return QFileInfo(fromPath(path + "-wal")).size() > 0;
}

// The first 100 bytes of every SQLite file: "Database File Format", sqlite.org/fileformat2.html, section 1.3.
Result<void> checkHead(const std::string &path) {
    QFile file(fromPath(path));
    if (!file.open(QIODevice::ReadOnly))
        return problem(ProblemCode::FileNotReadable, "file", {path});
    const QByteArray head = file.read(100);
    if (!head.startsWith(QByteArray("SQLite format 3\0", 16)))
        return problem(ProblemCode::FileForeign, "file", {"not a database"});
    if (head.size() < 100)
        return problem(ProblemCode::FileCorrupt, "file", {"the head is cut off"});
    qint64 pageSize = qFromBigEndian<quint16>(head.constData() + 16);
    if (pageSize == 1)
        pageSize = 65536;
    const qint64 pages = qFromBigEndian<quint32>(head.constData() + 28);
    const bool pagesAreValid =
        qFromBigEndian<quint32>(head.constData() + 24) == qFromBigEndian<quint32>(head.constData() + 92);
    if (pagesAreValid && !hasWriteAheadLog(path) && file.size() < pages * pageSize)
        return problem(ProblemCode::FileCorrupt, "file", {"the end is cut off"});
    return {};
}

// Ours, whole enough to read its schema, and not newer than this program. Gives its version.
Result<int> checkIdentity(Connection &connection, std::span<const Migration> migrations) {
    const auto application = connection.single(QStringLiteral("PRAGMA application_id"));
    if (!application)
        return application.error();
    if (application->toLongLong() != kApplicationId)
        return problem(ProblemCode::FileForeign, "file", {"another program's database"});
    const auto version = versionOf(connection);
    if (!version)
        return version.error();
    if (*version > newestVersion(migrations))
        return problem(ProblemCode::FileTooNew, "file",
                       {std::to_string(*version), std::to_string(newestVersion(migrations))});
    if (const auto tables = connection.single(QStringLiteral("SELECT count(*) FROM sqlite_master")); !tables)
        return tables.error();
    return version;
}

Result<Opened> openChecked(const std::string &path, Access access, const OpeningOptions &options) {
    auto connection = Connection::open(path, access, options.fault);
    if (!connection)
        return connection.error();
    const auto version = checkIdentity(**connection, options.migrations);
    if (!version)
        return version.error();
    return Opened{std::move(*connection), *version};
}

// Without the right to make the files beside it, a database in WAL mode opens only as frozen.
Result<Opened> openToRead(const std::string &path, const OpeningOptions &options) {
    auto opened = openChecked(path, Access::ReadOnly, options);
    if (opened)
        return opened;
    const ProblemCode code = opened.error().code;
    if ((code == ProblemCode::FileNotReadable || code == ProblemCode::FileReadOnly) &&
        !hasWriteAheadLog(path))
        return openChecked(path, Access::Frozen, options);
    return opened;
}

Result<void> bringUpToDate(const std::string &path, Opened &opened, std::span<const Migration> migrations) {
    if (opened.version >= newestVersion(migrations))
        return {};
    const std::string keptAs = backupNameBefore(path, newestVersion(migrations));
    if (auto copied = copyTo(*opened.connection, keptAs); !copied)
        return copied;
    if (auto done = migrate(*opened.connection, opened.version, migrations); !done)
        return done;
    opened.version = newestVersion(migrations);
    opened.keptAs = keptAs;
    return {};
}

Result<Opened> fillNew(const std::string &path, const OpeningOptions &options) {
    auto connection = Connection::open(path, Access::ReadWrite, options.fault);
    if (!connection)
        return connection.error();
    Opened opened{std::move(*connection), newestVersion(options.migrations)};
    if (auto set = opened.connection->run(QStringLiteral("PRAGMA application_id = %1").arg(kApplicationId));
        !set)
        return set.error();
    if (auto done = migrate(*opened.connection, 0, options.migrations); !done)
        return done.error();
    return opened;
}

} // namespace

std::string backupNameBefore(const std::string &path, int version) {
    const std::string base = path + ".before-v" + std::to_string(version);
    std::string name = base + ".bak";
    for (int i = 2; QFileInfo::exists(fromPath(name)); ++i)
        name = base + "-" + std::to_string(i) + ".bak";
    return name;
}

void removeFile(const std::string &path) {
    for (const char *tail : {"", "-wal", "-shm", "-journal"})
        QFile::remove(fromPath(path + tail));
}

Result<Opened> createFile(const std::string &path, const OpeningOptions &options) {
    const QFileInfo info(fromPath(path));
    if (info.exists())
        return problem(ProblemCode::FileExists, "file", {path});
    if (!QFileInfo(info.absolutePath()).isDir())
        return problem(ProblemCode::FileMissing, "file", {info.absolutePath().toStdString()});
    QFile file(fromPath(path));
    if (!file.open(QIODevice::WriteOnly | QIODevice::NewOnly, kPrivateFile))
        return info.exists() ? problem(ProblemCode::FileExists, "file", {path})
                             : problem(ProblemCode::FileReadOnly, "file", {path});
    file.close();
    auto opened = fillNew(path, options);
    if (!opened)
        removeFile(path); // the connection is closed by now
    return opened;
}

Result<Opened> openFile(const std::string &path, OpenMode mode, const OpeningOptions &options) {
    if (auto allowed = checkAccess(path, mode); !allowed)
        return allowed.error();
    Result<void> head;
    unlessHeld(path, [&] { head = checkHead(path); }); // a held file's was looked at when it was first opened
    if (!head)
        return head.error();
    auto opened = openToRead(path, options); // looks before anything may write, even the journal mode
    if (!opened)
        return opened;
    if (mode == OpenMode::ReadOnly) {
        if (opened->version < newestVersion(options.migrations))
            return problem(ProblemCode::FileReadOnly, "file",
                           {"older", std::to_string(opened->version),
                            std::to_string(newestVersion(options.migrations))});
        return opened;
    }
    opened = openChecked(path, Access::ReadWrite, options);
    if (!opened)
        return opened;
    if (auto done = bringUpToDate(path, *opened, options.migrations); !done)
        return done.error();
    return opened;
}

} // namespace kitround::store
