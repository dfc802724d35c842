#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "proof/results.hpp"

namespace steelyard::proof {
namespace {

constexpr double interval_share = 0.95, false_alarm_share = 0.05, test_share = 0.025;
constexpr double least_found = 0.80, least_in_set = 0.95, least_first = 0.80, least_explained = 0.90;

Claim coverage_claim(const Coverage& coverage) {
  Claim out{"truth in the 95 % interval, every quantity", "95 % within three standard errors", "", true};
  const Row* worst = &coverage.rows.front();
  for (const Row& row : coverage.rows) {
    out.holds = out.holds && near(row.all, interval_share);
    if (std::abs(row.all.deviation(interval_share)) > std::abs(worst->all.deviation(interval_share)))
      worst = &row;
  }
  out.found = "furthest is " + code(worst->name) + ", " + share_text(worst->all, 2) + ", " +
              deviation_text(worst->all, interval_share);
  return out;
}

Claim evenness_claim(const Evenness& found) {
  return {"p-values are even", "chi-square over ten bins and Kolmogorov's D below their 1 % values",
          "chi-square " + number_text(found.chi_square, 1) + " (" +
              number_text(found.chi_square_critical, 1) + "), D " + number_text(found.kolmogorov, 4) + " (" +
              number_text(found.kolmogorov_critical, 4) + ")",
          found.even()};
}

void add_blunder_claims(const Results& results, std::vector<Claim>& out) {
  for (const BlunderRow& row : results.blunders_twice) {
    if (row.large.tied.of == 0) continue;
    out.push_back(
        {"large " + code(to_text(row.kind)) + ", each position twice: what was done is first or tied",
         "at least 90 %", share_text(row.large.tied, 0), at_least(row.large.tied, least_explained)});
  }
  int unsolved = 0, made = 0;
  for (const BlunderTable* table : {&results.blunders_once, &results.blunders_twice})
    for (const BlunderRow& row : *table) {
      unsolved += row.unsolved;
      made += row.all.found.of;
    }
  out.push_back({"a session with a blunder is solved", "always",
                 std::to_string(unsolved) + " of " + std::to_string(made) + " not solved", unsolved == 0});
  const Explained all = together(results.blunders_twice, true);
  out.push_back({"large blunders of all kinds, each position twice: what was done is first or tied",
                 "at least 90 %", share_text(all.tied, 1), at_least(all.tied, least_explained)});
}

}  // namespace

Explained together(const BlunderTable& table, bool large) {
  Explained out;
  const auto add = [](Count& to, const Count& from) {
    to.of += from.of;
    to.hits += from.hits;
  };
  for (const BlunderRow& row : table) {
    const Explained& from = large ? row.large : row.all;
    add(out.found, from.found);
    add(out.first, from.first);
    add(out.tied, from.tied);
  }
  return out;
}

std::string code(std::string_view name) {
  return std::string(1, '`').append(name).append(1, '`');
}

std::string number_text(double value, int decimals) {
  std::array<char, 64> text{};
  std::snprintf(text.data(), text.size(), "%.*f", decimals, value);
  return text.data();
}

std::string share_text(const Count& count, int decimals) {
  if (count.of == 0) return "none";
  return number_text(100 * count.share(), decimals) + " % of " + std::to_string(count.of);
}

std::string deviation_text(const Count& count, double expected) {
  const double deviation = count.deviation(expected);
  return (deviation < 0 ? "−" : "+") + number_text(std::abs(deviation), 1) + " se";
}

std::vector<Claim> claims(const Results& results) {
  const Coverage& declared = results.declared;
  const Power &once = results.once, &twice = results.twice;
  std::vector<Claim> out;
  out.push_back(coverage_claim(declared));
  out.push_back(evenness_claim(evenness(declared.p_values)));
  out.push_back({"good sessions called inconsistent", "at most 5 %", share_text(declared.alarms, 2),
                 at_most(declared.alarms, false_alarm_share)});
  out.push_back({"of these by chi-square", "at most 2.5 %", share_text(declared.by_chi_square, 2),
                 at_most(declared.by_chi_square, test_share)});
  out.push_back({"of these by the largest residual", "at most 2.5 %", share_text(declared.by_residual, 2),
                 at_most(declared.by_residual, test_share)});
  out.push_back({"an error of the smallest detectable size is found", "at least 80 %",
                 share_text(once.found, 1), at_least(once.found, least_found)});
  out.push_back({"the suspect set then holds the culprit", "at least 95 %", share_text(once.in_set, 1),
                 at_least(once.in_set, least_in_set)});
  out.push_back({"each position twice, 1.5 times that size: the culprit ranks first", "at least 80 %",
                 share_text(twice.first, 1), at_least(twice.first, least_first)});
  out.push_back({"reading twice makes the smallest detectable error smaller", "smaller",
                 number_text(once.median_smallest, 0) + " kg once, " + number_text(twice.median_smallest, 0) +
                     " kg twice",
                 twice.median_smallest < once.median_smallest});
  if (results.blunders > 0) add_blunder_claims(results, out);
  return out;
}

}  // namespace steelyard::proof
