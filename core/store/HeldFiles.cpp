#include "core/store/HeldFiles.h"

#include <QFileInfo>

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

// One name for one file, whatever links lead to it.
QString nameOf(const std::string &path) {
    const QFileInfo info(QString::fromStdString(path));
    const QString canonical = info.canonicalFilePath();
    return canonical.isEmpty() ? info.absoluteFilePath() : canonical;
}

} // namespace

HeldFile::HeldFile(const std::string &path) : name_(nameOf(path)) {
    const std::scoped_lock lock(held().mutex);
    ++held().times[name_];
}

HeldFile::~HeldFile() {
    const std::scoped_lock lock(held().mutex);
    if (--held().times[name_] == 0)
        held().times.erase(name_);
}

void unlessHeld(const std::string &path, const std::function<void()> &look) {
    const QString name = nameOf(path);
    const std::scoped_lock lock(held().mutex);
    if (!held().times.contains(name))
        look();
}

} // namespace kitround::store
