#include "core/store/HeldFiles.h"

#include <QFile>
#include <QFileInfo>

#include <sys/stat.h>

#include <map>
#include <mutex>

namespace kitround::store {
namespace {

struct Held {
    std::mutex mutex;
    std::map<QString, int> times; // connections by file
};
Held &held() {
    static Held all;
    return all;
}

// One name for one file, whatever links lead to it: the locks are the file's, not its name's.
QString nameOf(const QString &path) {
    struct stat found = {};
    if (::stat(QFile::encodeName(path).constData(), &found) == 0)
        return QStringLiteral("%1:%2").arg(found.st_dev).arg(found.st_ino);
    return QFileInfo(path).absoluteFilePath();
}

// The files beside it carry locks of the same connection.
QString withoutTail(QString path) {
    for (const QLatin1String tail : {QLatin1String("-wal"), QLatin1String("-shm")})
        if (path.endsWith(tail)) {
            path.chop(tail.size());
            break;
        }
    return path;
}

} // namespace

HeldFile::HeldFile(const std::string &path) : name_(nameOf(QString::fromStdString(path))) {
    const std::scoped_lock lock(held().mutex);
    ++held().times[name_];
}

HeldFile::~HeldFile() {
    const std::scoped_lock lock(held().mutex);
    if (--held().times[name_] == 0)
        held().times.erase(name_);
}

void unlessHeld(const std::string &path, const std::function<void()> &look) {
    const QString given = QString::fromStdString(path);
    const QString name = nameOf(given), base = nameOf(withoutTail(given));
    const std::scoped_lock lock(held().mutex);
    if (!held().times.contains(name) && !held().times.contains(base))
        look();
}

bool isHeld(const std::string &path) {
    bool isFree = false;
    unlessHeld(path, [&] { isFree = true; });
    return !isFree;
}

} // namespace kitround::store
