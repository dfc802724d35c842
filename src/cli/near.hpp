// The known word nearest to a mistyped one, for "did you mean …". No units, no errors.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace steelyard::cli {

/// "; did you mean import?" where one of `known` is within two changes (Levenshtein) of `word` and nearer
/// than half its length; else nothing.
std::string suggestion(std::string_view word, const std::vector<std::string>& known);

}  // namespace steelyard::cli
