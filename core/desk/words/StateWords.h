#pragma once
// The code words that Conflict and NotAllowed carry, said in full. Inside desk/words only.
#include "core/base/Problem.h"

#include <QString>

#include <string_view>
#include <vector>

namespace kitround::desk {

// What is wrong and what to do, for a code word in the first argument; empty where the word is not one of
// ours.
QString stateSentence(const Problem &problem);
std::vector<std::string_view> stateWords(); // all the words known
// A day or a moment of core as people read it, always with its year; anything else as it is.
QString spoken(const QString &argument);

} // namespace kitround::desk
