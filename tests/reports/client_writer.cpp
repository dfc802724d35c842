// Writes one of the hand-made cases as a report, and beside it (FILE.tsv) the figures that must be in it,
// for the checks that read it with other programs.
//   client_writer CASE A4|Letter kg|lb|sheet FILE.xlsx|FILE.html|FILE.txt
// CASE may also be a session sheet (a name that ends in .json), which is then reconciled and assessed.
#include <fstream>
#include <iostream>
#include <sstream>
#include <stdexcept>

#include "client_fixture.hpp"
#include "reconcile/reconcile.hpp"
#include "reports/client/client.hpp"
#include "reports/document/html.hpp"
#include "reports/document/text.hpp"
#include "sheet/sheet.hpp"
#include "units/number.hpp"

namespace {

using namespace steelyard;

std::string number(double value) {
  return units::shortest(value);
}

void write_expected(const test::Case& one, const std::string& file) {
  std::ofstream out(file);
  for (const auto& quantity : one.findings.quantities)
    if (quantity.determinable)
      out << "quantity\t" << number(quantity.value) << '\t' << number(quantity.u) << '\t'
          << static_cast<int>(quantity.measure) << '\n';
  for (const auto& row : one.assessment.rows)
    if (row.value)
      out << (row.advice ? "advice" : "rating") << '\t' << number(*row.rating) << '\t' << number(*row.value)
          << '\t' << number(*row.u) << '\t' << number(*row.margin) << '\t' << number(*row.p_breach) << '\t'
          << static_cast<int>(row.measure) << '\n';
  for (const auto& state : one.session.states)
    for (const auto& reading : state.readings) out << "reading\t" << number(reading.load.figure) << '\n';
  for (const auto& observation : one.findings.observations)
    out << "observation\t" << number(observation.value) << '\t' << number(observation.fitted) << '\n';
}

test::Case case_of(const std::string& name) {
  if (!name.ends_with(".json")) return test::named_case(name);
  std::ifstream in(name);
  std::stringstream text;
  text << in.rdbuf();
  const sheet::Read read = sheet::read(text.str());
  if (!read.session) throw std::runtime_error(name + ": " + sheet::to_text(read.faults.at(0)));
  test::Case one{*read.session, reconcile::reconcile(*read.session), {}, {}, {}};
  one.assessment = assess::assess(one.session, one.findings);
  return one;
}

}  // namespace

int main(int count, char** words) {
  if (count != 5) return 2;
  try {
    const test::Case one = case_of(words[1]);
    reports::ClientOptions options{.engine = "0.1.0", .issued = "2026-10-04", .units = {}};
    options.paper = std::string(words[2]) == "Letter" ? reports::Paper::Letter : reports::Paper::A4;
    options.record = one.record;
    options.provider = one.provider;
    const std::string units = words[3];
    if (units == "kg") options.units = reports::ShownUnits{};
    if (units == "lb") options.units = reports::ShownUnits{units::LoadUnit::pound, units::LengthUnit::inch};
    const std::string to = words[4];
    const auto report = reports::client_report(one.session, one.findings, one.assessment, options);
    if (to.ends_with(".html"))
      std::ofstream(to) << reports::html_page(report);
    else if (to.ends_with(".txt"))
      std::ofstream(to) << reports::text_page(report);
    else
      reports::write_client_workbook(one.session, one.findings, one.assessment, options, to);
    write_expected(one, to + ".tsv");
  } catch (const std::exception& error) {
    std::cerr << error.what() << '\n';
    return 1;
  }
  return 0;
}
