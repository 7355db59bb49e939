#include "tests/bench/Measure.h"

#include <chrono>
#include <iomanip>
#include <sstream>

#include <sys/resource.h>

namespace kitround::bench {
std::int64_t peakMemoryKib() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return usage.ru_maxrss; // KiB on Linux
}

double processorSeconds() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    const auto seconds = [](const timeval &t) {
        return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
    };
    return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

void Stages::run(const std::string &name, const std::function<std::string()> &work) {
    const std::int64_t before = peakMemoryKib();
    const auto start = std::chrono::steady_clock::now();
    Stage stage;
    stage.name = name;
    stage.what = work();
    stage.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    stage.peakKib = peakMemoryKib();
    stage.raisedKib = stage.peakKib - before;
    stages_.push_back(std::move(stage));
}

std::string Stages::asText() const {
    std::ostringstream out;
    out << std::fixed << std::setprecision(2);
    const auto line = [&](const auto &name, const auto &seconds, const auto &peak, const auto &raised,
                          const std::string &what) {
        out << std::left << std::setw(14) << name << std::right << std::setw(10) << seconds << std::setw(10)
            << peak << std::setw(12) << raised << "  " << what << '\n';
    };
    line("stage", "seconds", "peak MiB", "raised MiB", "result");
    for (const Stage &s : stages_)
        line(s.name, s.seconds, s.peakKib / 1024, s.raisedKib / 1024, s.what);
    return out.str();
}

std::string Stages::asJson(const std::string &verb, int patients, std::uint64_t seed) const {
    std::string out = "{\"verb\": \"" + verb + "\", \"patients\": " + std::to_string(patients) +
                      ", \"seed\": " + std::to_string(seed) + ", \"stages\": [";
    for (std::size_t i = 0; i < stages_.size(); ++i) {
        const Stage &s = stages_[i];
        out += std::string(i > 0 ? ",\n" : "\n") + "  {\"stage\": \"" + s.name +
               "\", \"seconds\": " + std::to_string(s.seconds) +
               ", \"peak_kib\": " + std::to_string(s.peakKib) +
               ", \"raised_kib\": " + std::to_string(s.raisedKib) + ", \"result\": \"" + s.what + "\"}";
    }
    return out + "\n]}\n";
}

} // namespace kitround::bench
