#pragma once
// From the sample's text to a scenario and the plan of its history.
#include "sample-db/History.h"

#include <functional>
#include <string_view>

namespace kitround::sample {

struct SampleParts {
    Scenario scenario;
    HistoryPlan history;
};
// Gives the text of "patients.csv" and the like.
using TextSource = std::function<std::string(std::string_view name)>;

// All faults of all files together, fields named "patients.csv:payer" with the line as row.
Result<SampleParts> readSampleText(const TextSource &source, Date today);
// What the text cannot say by itself: visits and supplies of the past months.
Scenario completed(SampleParts parts);

} // namespace kitround::sample
