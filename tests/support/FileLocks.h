#pragma once
// What another process finds of the locks that this one has on a file.
#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <string>

namespace kitround::test {

// Whether another process would find the file locked by this one.
inline bool isLockedForOthers(const std::string &path) {
    const pid_t other = ::fork();
    if (other == 0) {
        const int file = ::open(path.c_str(), O_RDWR | O_CLOEXEC);
        struct flock wish = {};
        wish.l_type = F_WRLCK;
        wish.l_whence = SEEK_SET;
        const bool isAsked = file >= 0 && ::fcntl(file, F_GETLK, &wish) == 0;
        ::_exit(isAsked && wish.l_type != F_UNLCK ? 0 : 1);
    }
    int status = 1;
    return ::waitpid(other, &status, 0) == other && WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

} // namespace kitround::test
