#pragma once
// A text file of words and numbers, line by line.
#include "core/base/Result.h"

#include <string>
#include <vector>

namespace kitround::bench {

class TextFile {
public:
    struct Line {
        int number = 0;
        std::string text;            // without blanks around it
        std::vector<double> numbers; // as many as the line begins with
        bool isNumbers = false;      // nothing else on it
    };
    static Result<TextFile> open(const std::string &path);
    const std::vector<Line> &lines() const { return lines_; } // empty ones left out
    Problem bad(const Line &line, const std::string &wanted) const;

private:
    std::string path_;
    std::vector<Line> lines_;
};

} // namespace kitround::bench
