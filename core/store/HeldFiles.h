#pragma once
// The files this process has open through SQLite. A process loses every lock it has on a file as soon as it
// closes any descriptor of it (POSIX.1-2017, fcntl(); sqlite.org/howtocorrupt.html, section 2.2). Another
// program that closes its last connection then takes itself for the only one and removes the write-ahead log,
// and what is saved here afterwards is lost. So a file that is held is not opened by hand.
#include <QString>

#include <functional>
#include <string>

namespace kitround::store {

// The file counts as held while this lives; any thread.
class HeldFile {
public:
    explicit HeldFile(const std::string &path);
    ~HeldFile();
    HeldFile(const HeldFile &) = delete;
    HeldFile &operator=(const HeldFile &) = delete;

private:
    QString name_;
};

// Calls `look`, which may open and close the file by hand, unless the file is held; none becomes held before
// it returns. The log and the index that SQLite keeps beside a held file are held with it.
void unlessHeld(const std::string &path, const std::function<void()> &look);
bool isHeld(const std::string &path);

} // namespace kitround::store
