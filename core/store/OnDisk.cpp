#include "core/store/OnDisk.h"

#include <QFile>
#include <QFileInfo>

#include <sys/stat.h>

namespace kitround::store {

namespace {

// SQLite follows links: the log lies beside the file itself, whatever name led to it.
std::string withoutLinks(const std::string &path) {
    const QString canonical = QFileInfo(QString::fromStdString(path)).canonicalFilePath();
    return canonical.isEmpty() ? path : canonical.toStdString();
}

} // namespace

OnDisk::OnDisk(const std::string &path)
    : path_(withoutLinks(path)), file_(markOf(path_)), log_(markOf(path_ + "-wal")) {}

std::optional<OnDisk::Mark> OnDisk::markOf(const std::string &path) {
    struct stat found = {};
    if (::stat(QFile::encodeName(QString::fromStdString(path)).constData(), &found) != 0)
        return std::nullopt;
    return Mark{found.st_dev, found.st_ino};
}

bool OnDisk::isInPlace() const {
    return (!file_ || markOf(path_) == file_) && (!log_ || markOf(path_ + "-wal") == log_);
}

std::string rescueName(const std::string &path) {
    const QFileInfo file(QString::fromStdString(path));
    const QString stem = QStringLiteral("%1/%2-rescued").arg(file.absolutePath(), file.completeBaseName());
    QString name = stem + QStringLiteral(".kitround");
    for (int i = 2; QFileInfo::exists(name); ++i)
        name = QStringLiteral("%1-%2.kitround").arg(stem).arg(i);
    return name.toStdString();
}

} // namespace kitround::store
