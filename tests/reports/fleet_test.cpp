// The audit's report: long tables are cut into sheets, rows come once and in order, and names stay texts.
#include <boost/test/unit_test.hpp>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

#include "audit/fleet.hpp"
#include "reports/document/html.hpp"
#include "reports/document/text.hpp"
#include "reports/fleet/fleet.hpp"

using namespace steelyard;
using namespace steelyard::reports;

namespace {

audit::Entry entry(audit::Names& names, int number, bool over) {
  audit::Entry out;
  out.id = names.keep("session " + std::to_string(number));
  out.day = "2026-10-03";
  out.client = "=1+1 <b>";
  out.tow = "utility";
  out.outcome = over ? assess::RigOutcome::fail : assess::RigOutcome::pass;
  audit::Rated rated;
  rated.of = "tow_gross";
  rated.kind = rig::LimitKind::tow_gross;
  rated.outcome = over ? assess::Outcome::fail : assess::Outcome::pass;
  rated.rating = 3000;
  rated.value = over ? 3100 : 2900;
  rated.u = 2;
  rated.used = *rated.value / *rated.rating;
  out.ratings.push_back(rated);
  out.nearest = 0;
  return out;
}

struct WithFleet {
  audit::Names names;
  std::vector<audit::Entry> entries;
  assess::OverloadBands bands{{{"slight", 1, 0}, {"gross", 1.2, 0}}, "fleet policy", "", ""};
  FleetOptions options;

  WithFleet() {
    for (int number = 0; number < 7; ++number) entries.push_back(entry(names, number, number % 3 == 0));
    options.engine = "0.1.0";
    options.issued = "2026-11-01";
    options.number = "A-1";
  }
};

const LongTable& long_table(const SheetContent& sheet) {
  for (const Block& block : sheet.blocks)
    if (const auto* table = std::get_if<LongTable>(&block)) return *table;
  throw std::runtime_error("no long table on sheet " + sheet.name);
}

std::string text_of(const Cell& cell) {
  const auto* text = std::get_if<std::string>(&cell.value);
  return text ? *text : std::string();
}

}  // namespace

BOOST_AUTO_TEST_SUITE(fleet)

BOOST_FIXTURE_TEST_CASE(a_long_table_goes_on_on_further_sheets, WithFleet) {
  const FleetSubject subject{entries, bands, {}, {}};
  options.most_rows = 3;
  const Report made = fleet_report(subject, options);
  std::vector<std::string> sheets, sessions;
  for (const SheetContent& sheet : made.sheets)
    if (sheet.name.starts_with("Register")) {
      sheets.push_back(sheet.name);
      const LongTable& table = long_table(sheet);
      for (std::size_t i = 0; i < table.rows; ++i) sessions.push_back(text_of(table.row(i).cells.back()));
    }
  BOOST_TEST(sheets == (std::vector<std::string>{"Register", "Register 2", "Register 3"}), boost::test_tools::per_element());
  BOOST_REQUIRE(sessions.size() == 7u);
  for (std::size_t i = 0; i < 7; ++i) BOOST_TEST(sessions[i] == "session " + std::to_string(i));
  BOOST_TEST(made.sheets.back().name == "Method");
  std::set<std::string> names_of_sheets;
  for (const SheetContent& sheet : made.sheets) BOOST_TEST(names_of_sheets.insert(sheet.name).second, sheet.name);
}

BOOST_FIXTURE_TEST_CASE(a_fleet_of_nobody_has_a_report_too, WithFleet) {
  entries.clear();
  const FleetSubject subject{entries, bands, {}, {}};
  const Report made = fleet_report(subject, options);
  BOOST_TEST(text_page(made).find("NO RATING COULD BE CHECKED") != std::string::npos);
}

BOOST_FIXTURE_TEST_CASE(its_page_takes_no_markup_from_a_name, WithFleet) {
  const FleetSubject subject{entries, bands, {}, {}};
  const std::string page = html_page(fleet_report(subject, options));
  BOOST_TEST(page.find("=1+1 <b>") == std::string::npos);
  BOOST_TEST(page.find("=1+1 &lt;b&gt;") != std::string::npos);
  BOOST_TEST(page.find("3 OF 7 WEIGHINGS ARE OUTSIDE A RATING") != std::string::npos);
}

BOOST_AUTO_TEST_SUITE_END()
