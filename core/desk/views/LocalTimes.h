#pragma once
// Instants as the agency's wall clock shows them, and back. An unknown zone is found when the file is opened.
#include "core/desk/Desk.h"

namespace kitround::desk {

LocalTime localTimeOf(const Agency &agency, Instant at);
Instant instantOf(const Agency &agency, LocalTime at);
// Names a settings form may offer.
std::vector<std::string> zoneNames();

} // namespace kitround::desk
