#include "tests/bench/routes/TextFile.h"

#include <fstream>
#include <sstream>

namespace kitround::bench {

Result<TextFile> TextFile::open(const std::string &path) {
    std::ifstream in(path);
    if (!in) {
        Problem problem;
        problem.code = ProblemCode::Missing;
        problem.field = path;
        return problem;
    }
    TextFile file;
    file.path_ = path;
    int number = 0;
    for (std::string raw; std::getline(in, raw);) {
        Line line;
        line.number = ++number;
        const auto first = raw.find_first_not_of(" \t\r");
        if (first == std::string::npos)
            continue;
        line.text = raw.substr(first, raw.find_last_not_of(" \t\r") - first + 1);
        std::istringstream words(line.text);
        double value = 0;
        while (words >> value)
            line.numbers.push_back(value);
        line.isNumbers = words.eof() && !line.numbers.empty();
        file.lines_.push_back(std::move(line));
    }
    return file;
}

Problem TextFile::bad(const Line &line, const std::string &wanted) const {
    Problem problem;
    problem.code = ProblemCode::OutOfRange;
    problem.field = path_ + ":" + std::to_string(line.number);
    problem.args = {wanted};
    return problem;
}

} // namespace kitround::bench
