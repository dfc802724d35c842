// Issuing figures and computing them anew.
#include <boost/test/unit_test.hpp>
#include <fstream>
#include <iterator>

#include "issued/issued.hpp"
#include "sheet/sheet.hpp"

using namespace steelyard;
using issued::Agreement;

namespace {

rig::Session sample(const std::string& name) {
  std::ifstream in(std::string(STEELYARD_SOURCE_DIR) + "/sample_data/" + name, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  const auto read = sheet::read(text);
  BOOST_REQUIRE(read.session);
  return *read.session;
}

const char* const samples[] = {"tcw-012-pump-trailer.json", "tcw-012-digits-swapped.json",
                               "tcw-021-weighed-hitched-only.json", "bfs-204-generator-trailer-pounds.json"};

/// A session that no figure follows from: nothing was weighed.
rig::Session unsolvable() {
  rig::Session session = sample("tcw-012-pump-trailer.json");
  for (rig::State& state : session.states) state.readings.clear();
  return session;
}

/// `text` with the number after `before` replaced.
std::string with_number(std::string text, const std::string& before, double factor) {
  const std::size_t at = text.find(before);
  BOOST_REQUIRE(at != std::string::npos);
  const std::size_t start = at + before.size();
  const std::size_t end = text.find_first_of(",}]", start);
  char digits[40];
  std::snprintf(digits, sizeof digits, "%.17g", std::stod(text.substr(start, end - start)) * factor);
  return text.replace(start, end - start, digits);
}

}  // namespace

BOOST_AUTO_TEST_SUITE(recomputing)

BOOST_AUTO_TEST_CASE(the_same_program_gives_the_same_bytes) {
  for (const char* name : samples) {
    const rig::Session session = sample(name);
    const issued::Issue first = issued::issue(session);
    BOOST_TEST(first.result.starts_with(R"({"format":"steelyard-result/1")"));
    BOOST_TEST(first.not_solved.empty());
    BOOST_TEST(first.result == issued::solve(session).json());
    const issued::Recomputed again = issued::recompute(session, first.engine, first.build, first.result);
    BOOST_TEST((again.agreement == Agreement::exactly), name);
    BOOST_TEST(again.notices.empty());
    BOOST_TEST(again.differing == 0U);
  }
}

BOOST_AUTO_TEST_CASE(engine_and_build_say_what_the_digits_depend_on) {
  const issued::Issue issue = issued::issue(sample(samples[0]));
  BOOST_TEST(!issue.engine.empty());
  for (const char* part : {"Eigen 3.", "Boost 1.", ", functions "})
    BOOST_TEST(issue.build.find(part) != std::string::npos, issue.build);
  BOOST_TEST(issue.build == issued::build_of_this_program());
}

BOOST_AUTO_TEST_CASE(another_figure_is_found_and_named) {
  const rig::Session session = sample(samples[0]);
  const issued::Issue issue = issued::issue(session);
  // The last digit but one of one figure: the same build notices, another need not.
  const std::string changed = with_number(issue.result, R"("chi_square":)", 1 + 4e-16);
  BOOST_REQUIRE(changed != issue.result);
  const auto same = issued::recompute(session, issue.engine, issue.build, changed);
  BOOST_TEST((same.agreement == Agreement::differs));
  BOOST_TEST(same.differing == 1U);
  BOOST_TEST(same.differences.front().starts_with("fit.chi_square: was "), same.differences.front());
  const auto other = issued::recompute(session, issue.engine, "another build", changed);
  BOOST_TEST((other.agreement == Agreement::to_tolerance));
  BOOST_TEST(other.notices.size() == 1U);
  const auto far = issued::recompute(session, issue.engine, "another build",
                                     with_number(issue.result, R"("chi_square":)", 1 + 1e-8));
  BOOST_TEST((far.agreement == Agreement::differs));
}

BOOST_AUTO_TEST_CASE(a_changed_reading_changes_the_figures) {
  rig::Session session = sample(samples[0]);
  const issued::Issue issue = issued::issue(session);
  session.states[0].readings[0].load.figure += 1;
  for (const std::string& build : {issue.build, std::string("another build")}) {
    const auto again = issued::recompute(session, issue.engine, build, issue.result);
    BOOST_TEST((again.agreement == Agreement::differs));
    BOOST_TEST(again.differing > again.differences.size());
  }
}

BOOST_AUTO_TEST_CASE(another_version_may_name_itself) {
  const rig::Session session = sample(samples[0]);
  const issued::Issue issue = issued::issue(session);
  std::string older = issue.result;
  const std::string member = R"("engine":")" + issue.engine + '"';
  BOOST_REQUIRE(older.find(member) != std::string::npos);
  older.replace(older.find(member), member.size(), R"("engine":"0.0.1")");
  const auto again = issued::recompute(session, "0.0.1", issue.build, older);
  BOOST_TEST((again.agreement == Agreement::to_tolerance));
  BOOST_TEST(again.notices.front().find("0.0.1") != std::string::npos);
  BOOST_TEST((issued::recompute(session, issue.engine, issue.build, older).agreement == Agreement::differs));
}

BOOST_AUTO_TEST_CASE(no_solution_is_an_answer) {
  const issued::Issue none = issued::issue(unsolvable());
  BOOST_TEST(none.result.empty());
  BOOST_TEST(!none.not_solved.empty());
  BOOST_TEST(!none.engine.empty());
  const issued::Issue issue = issued::issue(sample(samples[0]));
  const auto again = issued::recompute(unsolvable(), issue.engine, issue.build, issue.result);
  BOOST_TEST((again.agreement == Agreement::not_solvable));
  BOOST_TEST(again.differences.front() == none.not_solved);
}

BOOST_AUTO_TEST_SUITE_END()
