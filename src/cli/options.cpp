#include "cli/options.hpp"

#include <cstdlib>

namespace po = boost::program_options;

namespace steelyard::cli {

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

}  // namespace steelyard::cli
