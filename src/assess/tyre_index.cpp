#include <array>

#include "assess/assessment.hpp"

namespace steelyard::assess {
namespace {

// Load-capacity index 60 to 150, kg for one tyre at its rated pressure and speed (ISO 4000-1; UN R30, R54).
constexpr int first_index = 60;
constexpr std::array<int, 91> kilograms{
    250,  257,  265,  272,  280,  290,  300,  307,  315,  325,  335,  345,  355,  365,  375,  387,
    400,  412,  425,  437,  450,  462,  475,  487,  500,  515,  530,  545,  560,  580,  600,  615,
    630,  650,  670,  690,  710,  730,  750,  775,  800,  825,  850,  875,  900,  925,  950,  975,
    1000, 1030, 1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360, 1400, 1450, 1500, 1550,
    1600, 1650, 1700, 1750, 1800, 1850, 1900, 1950, 2000, 2060, 2120, 2180, 2240, 2300, 2360, 2430,
    2500, 2575, 2650, 2725, 2800, 2900, 3000, 3075, 3150, 3250, 3350};

}  // namespace

std::optional<int> load_index_kilograms(int index) {
  const int place = index - first_index;
  if (place < 0 || place >= static_cast<int>(kilograms.size())) return std::nullopt;
  return kilograms[static_cast<std::size_t>(place)];
}

}  // namespace steelyard::assess
