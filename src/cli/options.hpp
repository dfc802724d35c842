// Option groups that several commands share, so that an option means the same everywhere.
//
// The store: --store FILE, else the environment's STEELYARD_STORE, else steelyard.db in this folder. Nothing
// is opened here. Errors: none here; an empty --store is a Usage where it is asked for.
#pragma once

#include <boost/program_options.hpp>
#include <filesystem>
#include <string>

namespace steelyard::cli {

class StoreOption {
 public:
  void describe(boost::program_options::options_description& options);
  [[nodiscard]] std::filesystem::path path() const;

 private:
  std::string given_;
};

class JsonOption {
 public:
  void describe(boost::program_options::options_description& options, const char* what);
  [[nodiscard]] bool wanted() const { return wanted_; }

 private:
  bool wanted_ = false;
};

}  // namespace steelyard::cli
