#pragma once
#include "core/base/Progress.h"
#include "core/base/Result.h"
#include "core/base/Date.h"
namespace kitround::sample { Result<void> buildSampleAgency(const std::string &path, std::optional<Date> today, const ProgressSink &progress); }
