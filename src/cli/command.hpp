// What a command is: it describes itself, checks its words and touches no file (setup), then does one thing
// (run).
//
// Errors: Usage for wrong words (exit code 2); everything that run() refuses is a Refusal, a store::Refused
// or an OutputFailed (exit code 1). Exit codes are a promise: 0 done; 1 the input or the store was refused or
// a session could not be solved; 2 wrong usage; 3, with `reconcile --strict` alone, done but a limit is not
// passed or a reading is suspect.
#pragma once

#include <boost/program_options.hpp>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "cli/output.hpp"

namespace steelyard::cli {

enum class Exit : int { done = 0, refused = 1, usage = 2, strict = 3 };

class Usage : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

class Refusal : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// What a command says of itself in the list and in its help.
struct About {
  std::string_view name;
  std::string_view words;    // what follows the name: "SESSION READING-ID --why TEXT"
  std::string_view summary;  // one line
  std::string_view details;  // paragraphs, each a line
};

class Command {
 public:
  Command() = default;
  Command(const Command&) = delete;
  Command& operator=(const Command&) = delete;
  virtual ~Command() = default;

  [[nodiscard]] virtual About about() const = 0;

  /// Reads the words after the command's name. False where only help was asked for; Usage for wrong words.
  bool setup(const std::vector<std::string>& words);
  virtual Exit run(Streams& streams) = 0;

  [[nodiscard]] std::string help();

 protected:
  /// The options of this command; called once, before anything is read or described.
  virtual void describe(boost::program_options::options_description& options) = 0;
  /// The words that are no options, in order; Usage where they are too few, too many or not understood.
  virtual void take(const std::vector<std::string>& words) = 0;

  /// Usage unless there are `least` to `most` words.
  void expect(const std::vector<std::string>& words, std::size_t least, std::size_t most) const;
  [[nodiscard]] Usage wrong(const std::string& what) const;

 private:
  void prepare();
  boost::program_options::options_description options_{"Options"};
  bool prepared_ = false;
};

}  // namespace steelyard::cli
