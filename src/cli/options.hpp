// Option groups that several commands share, so that an option means the same everywhere.
//
// The store: --store FILE, else the environment's STEELYARD_STORE, else steelyard.db in this folder. Nothing
// is opened here. Errors: none here; an empty --store is a Usage where it is asked for.
#pragma once

#include <boost/program_options.hpp>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

#include "reports/words/wording.hpp"

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

/// --words au|uk|us|za: the words and units of tables and workbooks. JSON has canonical names, kg and mm
/// always.
class WordsOption {
 public:
  void describe(boost::program_options::options_description& options);
  /// What is wrong with the word given, with the remedy; empty where nothing is.
  [[nodiscard]] std::string fault() const;
  /// The region named; nothing where none was.
  [[nodiscard]] std::optional<reports::Region> region() const;

 private:
  std::optional<std::string> given_;
};

/// Who reads: as the option says, else as `stored` does (a client's setting: au, uk, us, za or plain), else
/// plain words in the sheet's own units. A stored word that is not known counts as none.
reports::Reader reader_for(const WordsOption& option, const std::optional<std::string>& stored = {});

/// --monte-carlo N and --seed S. A trial's number and a seed have to read back exactly from JSON everywhere,
/// so a seed is at most 2^53.
class MonteCarloOption {
 public:
  void describe(boost::program_options::options_description& options);
  /// What is wrong with the figures given, with the remedy; empty where nothing is.
  [[nodiscard]] std::string fault() const;
  [[nodiscard]] bool wanted() const { return trials_.has_value(); }
  [[nodiscard]] long trials() const;
  [[nodiscard]] std::uint64_t seed() const;

 private:
  std::optional<std::string> trials_, seed_;
};

}  // namespace steelyard::cli
