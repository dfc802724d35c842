// steelyard_proof: simulates weighings, reconciles them, and writes the page that says whether the claims
// hold.
//
// Exit code 0 where every claim holds, 1 where one does not or a session could not be solved, 2 for wrong
// usage. The page depends on seed and counts alone, not on the number of threads.
#include <boost/program_options.hpp>
#include <cstdio>
#include <fstream>
#include <iostream>

#include "proof/page.hpp"

namespace {

using namespace steelyard;
using namespace steelyard::proof;
namespace options = boost::program_options;

struct Words {
  std::size_t sessions = 20000, blunders = 200;
  std::uint64_t seed = 1;
  unsigned threads = 2;
  std::string to;
};

std::optional<Words> read_words(int argc, char** argv) {
  Words out;
  options::options_description known("steelyard_proof");
  known.add_options()("sessions", options::value(&out.sessions)->default_value(out.sessions),
                      "sessions to draw")("seed", options::value(&out.seed)->default_value(out.seed),
                                          "of everything drawn")(
      "blunders", options::value(&out.blunders)->default_value(out.blunders),
      "of each kind, once and twice read")(
      "threads", options::value(&out.threads)->default_value(out.threads), "1 to 64")(
      "to", options::value(&out.to)->required(), "the page to write");
  try {
    options::variables_map given;
    options::store(options::parse_command_line(argc, argv, known), given);
    options::notify(given);
    if (out.threads < 1 || out.threads > 64) throw options::error("threads: 1 to 64");
    if (out.sessions < 100) throw options::error("sessions: at least 100, or no claim can be judged");
  } catch (const options::error& fault) {
    std::cerr << fault.what() << '\n' << known;
    return std::nullopt;
  }
  return out;
}

Results simulate(const Words& words) {
  const Workers workers{words.threads};
  const auto sessions = [&](std::size_t count, bool twice, bool through_rig, std::uint64_t apart) {
    return Sessions{words.seed + apart, count, {twice, through_rig}};
  };
  const std::size_t some = std::max<std::size_t>(100, words.sessions / 5);
  Results out;
  out.seed = words.seed;
  out.sessions = words.sessions;
  out.blunders = words.blunders;
  out.declared = cover(sessions(words.sessions, false, false, 0), workers);
  out.through_rig = cover(sessions(some, false, true, 0), workers);
  out.once = power(sessions(some, false, false, 1), times_once, workers);
  out.twice = power(sessions(some, true, false, 1), times_twice, workers);
  if (words.blunders > 0) {
    out.blunders_once = blunder_table(sessions(words.blunders, false, false, 2), workers);
    out.blunders_twice = blunder_table(sessions(words.blunders, true, false, 2), workers);
  }
  return out;
}

}  // namespace

int main(int argc, char** argv) {
  const auto words = read_words(argc, argv);
  if (!words) return 2;
  try {
    const Results results = simulate(*words);
    std::ofstream to(words->to, std::ios::binary);
    to << page(results);
    if (!to.flush()) throw std::runtime_error("cannot write " + words->to);
    int failed = 0;
    for (const Claim& claim : claims(results)) {
      if (claim.holds) continue;
      std::cerr << "falls short: " << claim.what << ": wanted " << claim.wanted << ", found " << claim.found
                << '\n';
      ++failed;
    }
    return failed == 0 ? 0 : 1;
  } catch (const std::exception& fault) {
    std::cerr << fault.what() << '\n';
    return 1;
  }
}
