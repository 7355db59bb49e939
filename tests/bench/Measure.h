#pragma once
// Wall time and memory of one stage after another. Peak memory of a process only ever grows, so each stage
// shows the peak so far and by how much the stage raised it.
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace kitround::bench {

struct Stage {
    std::string name;
    double seconds = 0;
    std::int64_t peakKib = 0;   // of the process, at the end of the stage
    std::int64_t raisedKib = 0; // by this stage
    std::string what;           // what came out, for a glance: "5300 homes"
};

std::int64_t peakMemoryKib();
double processorSeconds(); // of all threads so far

class Stages {
public:
    // `work` gives a short text of what came out. Times it and keeps it.
    void run(const std::string &name, const std::function<std::string()> &work);
    std::string asText() const;
    std::string asJson(const std::string &verb, int patients, std::uint64_t seed) const;

private:
    std::vector<Stage> stages_;
};

} // namespace kitround::bench
