#include "cli/options.hpp"

#include <charconv>
#include <cstdlib>
#include <optional>

#include "reconcile/monte_carlo.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

constexpr std::uint64_t largest_seed = std::uint64_t{1} << 53;

/// A whole number from `least` to `most`, digits alone.
template <class Whole>
std::optional<Whole> whole_number(const std::string& text, Whole least, Whole most) {
  Whole out{};
  const char* const end = text.data() + text.size();
  const auto [rest, error] = std::from_chars(text.data(), end, out);
  if (error != std::errc() || rest != end || out < least || out > most) return std::nullopt;
  return out;
}

}  // namespace

void StoreOption::describe(po::options_description& options) {
  options.add_options()(
      "store", po::value(&given_)->value_name("FILE"),
      "the store; else the environment's STEELYARD_STORE, else steelyard.db in this folder");
}

std::filesystem::path StoreOption::path() const {
  if (!given_.empty()) return given_;
  const char* from_environment = std::getenv("STEELYARD_STORE");
  if (from_environment && *from_environment) return from_environment;
  return "steelyard.db";
}

void JsonOption::describe(po::options_description& options, const char* what) {
  options.add_options()("json", po::bool_switch(&wanted_), what);
}

void WordsOption::describe(po::options_description& options) {
  options.add_options()(
      "words", po::value<std::string>()->value_name("au|uk|us|za")->notifier([this](const std::string& text) {
        given_ = text;
      }),
      "words and units of a region; else plain words, the sheet's units");
}

std::string WordsOption::fault() const {
  if (!given_ || reports::parse_region(*given_)) return {};
  return "--words must be au, uk, us, za or plain, is " + *given_;
}

std::optional<reports::Region> WordsOption::region() const {
  return given_ ? reports::parse_region(*given_) : std::nullopt;
}

reports::Reader reader_for(const WordsOption& option, const std::optional<std::string>& stored) {
  if (const auto region = option.region()) return reports::reader_of(*region);
  const auto usual = stored ? reports::parse_region(*stored) : std::nullopt;
  return usual ? reports::reader_of(*usual) : reports::Reader{};
}

void MonteCarloOption::describe(po::options_description& options) {
  const auto keep = [](std::optional<std::string>& to) {
    return [&to](const std::string& text) { to = text; };
  };
  options.add_options()("monte-carlo", po::value<std::string>()->value_name("N")->notifier(keep(trials_)),
                        "holds uncertainties against N trials, 1000 to 10000000; for one session or sheet");
  options.add_options()("seed", po::value<std::string>()->value_name("S")->notifier(keep(seed_)),
                        "seed of the trials, a whole number; else 1");
}

std::string MonteCarloOption::fault() const {
  if (!wanted()) return !seed_ ? "" : "--seed goes with --monte-carlo N";
  if (!whole_number(*trials_, reconcile::least_trials, reconcile::most_trials))
    return "--monte-carlo takes a whole number of trials from 1000 to 10000000, not \"" + *trials_ +
           "\"; 10000 is plenty for most";
  if (seed_ && !whole_number(*seed_, std::uint64_t{0}, largest_seed))
    return "--seed takes a whole number from 0 to 9007199254740992, not \"" + *seed_ + '"';
  return {};
}

long MonteCarloOption::trials() const {
  return whole_number(*trials_, reconcile::least_trials, reconcile::most_trials).value();
}

std::uint64_t MonteCarloOption::seed() const {
  if (!seed_) return reconcile::usual_seed;
  return whole_number(*seed_, std::uint64_t{0}, largest_seed).value();
}

}  // namespace steelyard::cli
