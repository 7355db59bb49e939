#include "core/store/Backup.h"

#include "core/store/Problems.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>

namespace kitround::store {
namespace {

Result<void> sync(const QString &path) {
    const int file = ::open(QFile::encodeName(path).constData(), O_RDONLY | O_CLOEXEC);
    if (file < 0)
        return problem(ProblemCode::StoreFailed, "target", {"sync", std::to_string(errno)});
    const int failed = ::fsync(file) != 0 ? errno : 0;
    ::close(file);
    if (failed == ENOSPC || failed == EDQUOT)
        return problem(ProblemCode::DiskFull, "target");
    if (failed != 0)
        return problem(ProblemCode::StoreFailed, "target", {"sync", std::to_string(failed)});
    return {};
}

Result<void> verify(Connection &source, const QString &copy) {
    auto opened = Connection::open(copy.toStdString(), Connection::Access::Frozen);
    if (!opened)
        return opened.error();
    const auto sound = (*opened)->single(QStringLiteral("PRAGMA quick_check(1)"));
    if (!sound)
        return sound.error();
    if (sound->toString() != QLatin1String("ok"))
        return problem(ProblemCode::FileCorrupt, "target", {sound->toString().toStdString()});
    for (const char *pragma : {"PRAGMA application_id", "PRAGMA user_version"}) {
        const auto ours = source.single(QLatin1String(pragma));
        const auto theirs = (*opened)->single(QLatin1String(pragma));
        if (!ours || !theirs || *ours != *theirs)
            return problem(ProblemCode::FileCorrupt, "target", {pragma});
    }
    return {};
}

Result<void> copyInto(Connection &connection, const QString &part, const std::stop_token &stop) {
    QFile file(part); // made here so that it is never readable by others
    if (!file.open(QIODevice::WriteOnly | QIODevice::NewOnly, kPrivateFile))
        return problem(ProblemCode::FileReadOnly, "target", {part.toStdString()});
    file.close();
    connection.forgetStatements();
    if (auto done = connection.run(QStringLiteral("VACUUM INTO ?"), {part}); !done)
        return done;
    if (stop.stop_requested())
        return problem(ProblemCode::Cancelled, "target");
    if (auto synced = sync(part); !synced)
        return synced;
    return verify(connection, part);
}

Result<void> putInPlace(const QString &part, const QString &target) {
    if (std::rename(QFile::encodeName(part).constData(), QFile::encodeName(target).constData()) != 0)
        return problem(ProblemCode::FileReadOnly, "target", {target.toStdString()});
    return sync(QFileInfo(target).absolutePath());
}

} // namespace

Result<void> copyTo(Connection &connection, const std::string &target, const std::stop_token &stop) {
    if (stop.stop_requested())
        return problem(ProblemCode::Cancelled, "target");
    const QString to = QString::fromStdString(target);
    const QFileInfo info(to);
    if (!QFileInfo(info.absolutePath()).isDir())
        return problem(ProblemCode::FileMissing, "target", {info.absolutePath().toStdString()});
    if (info.isDir())
        return problem(ProblemCode::FileExists, "target", {target});
    if (QFileInfo(to + QStringLiteral("-wal")).size() > 0)
        return problem(ProblemCode::FileLocked, "target", {target});
    const QString part = to + QStringLiteral(".part");
    QFile::remove(part);
    auto done = copyInto(connection, part, stop);
    if (done)
        done = putInPlace(part, to);
    if (!done)
        QFile::remove(part);
    return done;
}

} // namespace kitround::store
