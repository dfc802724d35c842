#include "assess/deciding.hpp"

#include <algorithm>

namespace steelyard::assess {

int severity(Outcome outcome) {
  switch (outcome) {
    case Outcome::fail:
      return 0;
    case Outcome::conditional_fail:
      return 1;
    case Outcome::conditional_pass:
      return 2;
    case Outcome::not_assessed:
      return 3;
    case Outcome::pass:
      break;
  }
  return 4;
}

double used(const Row& row) {
  if (!row.value || !row.rating) return 0;
  const double top = row.minimum ? *row.rating : *row.value, bottom = row.minimum ? *row.value : *row.rating;
  return bottom > 0 ? top / bottom : (top > 0 ? 1e9 : 0);
}

std::vector<const Row*> deciding(const Assessment& assessment) {
  std::vector<const Row*> rows;
  for (const Row& row : assessment.rows)
    if (row.travels && !row.advice && (row.governs || row.outcome == Outcome::not_assessed)) rows.push_back(&row);
  std::stable_sort(rows.begin(), rows.end(), [](const Row* a, const Row* b) {
    if (severity(a->outcome) != severity(b->outcome)) return severity(a->outcome) < severity(b->outcome);
    return used(*a) > used(*b);
  });
  return rows;
}

const Row* nearest(const std::vector<const Row*>& rows) {
  const Row* worst = nullptr;
  for (const Row* row : rows) {
    if (!row->value || !row->margin) continue;
    if (!worst || severity(row->outcome) < severity(worst->outcome) ||
        (severity(row->outcome) == severity(worst->outcome) && used(*row) > used(*worst)))
      worst = row;
  }
  return worst;
}

}  // namespace steelyard::assess
