#pragma once
// Does what the arguments ask for. Reads only, but for the verbs whose work is a file: sample, backup,
// papers, and import.
#include "app/headless/Arguments.h"

namespace kitround::headless {

// Needs a Q(Gui)Application: Gui for papers.
ExitCode run(const Arguments &arguments);

} // namespace kitround::headless
