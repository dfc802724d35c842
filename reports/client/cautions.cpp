#include "reports/client/cautions.hpp"

#include "reports/words/cautions.hpp"

namespace steelyard::reports::client {

std::vector<std::string> cautions(const Source& source) {
  std::vector<std::string> all{
      "The figures hold for the rig as it stood on the scales: its fuel, water, people and load. Change any "
      "of these and "
      "they change.",
      caution::no_trade_weighing,
      "The ratings are those read from the sources named on the sheet Limits. They are not certified here. "
      "Local law, "
      "licence conditions, insurers and the makers’ own instructions come first.",
      caution::who_changes_a_rating,
      caution::over_a_rating};
  if (source.session.rig.trailer) {
    all.emplace_back(
        "How the load divides between left and right and between axles depends on level ground, on the "
        "height of the "
        "coupling and on the wind.");
    all.emplace_back(
        "A low or negative coupling load can let a trailer sway, whatever the ratings say; and can let it "
        "tip when it is "
        "unhitched.");
    all.emplace_back(
        "Weight distribution moves load between axles. It changes neither the trailer’s mass nor the "
        "combination’s, so it "
        "cures neither of those limits, nor the coupling’s.");
  } else {
    all.emplace_back(
        "How the load divides between left and right and between axles depends on level ground and on the "
        "wind.");
  }
  all.emplace_back("What a tyre’s load index allows, it allows only at the tyre’s rated pressure and speed.");
  for (std::string& caution : all) caution = source.wording(caution);
  return all;
}

}  // namespace steelyard::reports::client
