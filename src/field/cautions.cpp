#include "field/cautions.hpp"

#include "reports/words/cautions.hpp"

namespace steelyard::field {

std::vector<std::string> cautions_before_weighing(const reports::Wording& wording) {
  std::vector<std::string> all{
      "Weigh away from traffic, on hard level ground.",
      "Chock every wheel that is not being weighed, clear of the one that is. Set the brakes as the method says, and let "
      "the suspension settle.",
      "Nobody stands between tow vehicle and trailer while either moves, and nobody goes under a vehicle that is raised "
      "or not supported.",
      "A heavy lift takes two people.",
      "The stand under the coupling must be rated for the load on it.",
      "The bars of weight distribution hold energy. Release them as their maker says, with your face clear of them.",
      "Before you unhitch: where the coupling load is negative or near nothing, the trailer can tip. Support it behind "
      "first.",
      "The makers’ instructions, local law and the rules of the site come before anything that this page says.",
      reports::caution::no_trade_weighing,
      reports::caution::over_a_rating};
  for (std::string& caution : all) caution = wording(caution);
  return all;
}

}  // namespace steelyard::field
