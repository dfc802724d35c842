#include "cli/near.hpp"

#include <algorithm>
#include <numeric>

namespace steelyard::cli {
namespace {

std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t changed = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, changed});
    }
  }
  return row.back();
}

constexpr std::size_t longest =
    40;  // of a word worth comparing: the work grows as the product of the lengths

}  // namespace

std::string suggestion(std::string_view word, const std::vector<std::string>& known) {
  if (word.size() > longest) return {};
  const std::string* best = nullptr;
  std::size_t least = std::min<std::size_t>(3, word.size() / 2 + 1);
  for (const std::string& candidate : known) {
    const std::size_t changes = distance(word, candidate);
    if (changes >= least) continue;
    least = changes;
    best = &candidate;
  }
  return best ? "; did you mean " + *best + "?" : "";
}

}  // namespace steelyard::cli
