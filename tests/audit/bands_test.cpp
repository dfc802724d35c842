// Overload bands: where they begin, and what is no set of bands.
#include <boost/test/unit_test.hpp>

#include "assess/overload_bands.hpp"

using namespace steelyard::assess;

namespace {

std::string name_of(const OverloadBands& bands, double value, double rating) {
  const OverloadBand* band = band_of(bands, value, rating);
  return band ? band->name : "";
}

}  // namespace

BOOST_AUTO_TEST_SUITE(overload_bands)

// Heavy Vehicle National Law (Queensland) ss 96-98, as the trade's notes give it (s 97): minor below 105 %, substantial from
// the higher of 105 % or 0.5 t over, severe from 120 %. Where each begins is worked out by hand.
BOOST_AUTO_TEST_CASE(the_higher_of_two_beginnings) {
  const OverloadBands bands{{{"minor", 1, 0}, {"substantial", 1.05, 500}, {"severe", 1.2, 0}}, "HVNL s 97", "", "Australia"};
  BOOST_TEST(check_bands(bands) == "");
  // Of 6,000 kg 105 % is 6,300 kg, but half a tonne over is 6,500 kg.
  BOOST_TEST(name_of(bands, 6000, 6000) == "");
  BOOST_TEST(name_of(bands, 6000.5, 6000) == "minor");
  BOOST_TEST(name_of(bands, 6300, 6000) == "minor");
  BOOST_TEST(name_of(bands, 6499.9, 6000) == "minor");
  BOOST_TEST(name_of(bands, 6500, 6000) == "substantial");
  BOOST_TEST(name_of(bands, 7200, 6000) == "severe");
  // Of 20,000 kg 105 % is 21,000 kg, above half a tonne over.
  BOOST_TEST(name_of(bands, 20500, 20000) == "minor");
  BOOST_TEST(name_of(bands, 21000, 20000) == "substantial");
  BOOST_TEST(name_of(bands, 24000, 20000) == "severe");
  BOOST_TEST(begins_at(bands.bands[1], 6000) == 6500);
}

BOOST_AUTO_TEST_CASE(what_is_no_set_of_bands) {
  const auto fault = [](std::vector<OverloadBand> bands, std::string source = "somebody") {
    return check_bands({std::move(bands), std::move(source), "", ""});
  };
  BOOST_TEST(fault({{"a", 1, 0}}, "").find("source") != std::string::npos);
  BOOST_TEST(fault({{"", 1, 0}}).find("no name") != std::string::npos);
  BOOST_TEST(fault({{"a", 0.9, 0}}).find("100 %") != std::string::npos);
  BOOST_TEST(fault({{"a", 1, -1}}).find("below") != std::string::npos);
  BOOST_TEST(fault({{"a", 1.2, 0}, {"b", 1.1, 0}}).find("lowest comes first") != std::string::npos);
  BOOST_TEST(fault({{"a", 1.1, 0}, {"b", 1.2, 0}}) == "");
}

BOOST_AUTO_TEST_CASE(without_bands_nothing_is_in_one) {
  BOOST_TEST(name_of({}, 2000, 1000) == "");
}

BOOST_AUTO_TEST_SUITE_END()
