#include "cli/command.hpp"

#include <algorithm>
#include <sstream>

#include "cli/near.hpp"
#include "reports/words/terminal_text.hpp"
#include "units/number.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

/// Long options only, whole names only: a negative load is a word, and a prefix that works today could become
/// ambiguous with the next option.
constexpr int style = po::command_line_style::allow_long | po::command_line_style::long_allow_next |
                      po::command_line_style::long_allow_adjacent;

constexpr const char* words_key = "the words";  // no name of an option

std::vector<std::string> option_names(const po::options_description& options) {
  std::vector<std::string> names;
  for (const auto& option : options.options()) names.push_back("--" + option->long_name());
  return names;
}

}  // namespace

void Command::prepare() {
  if (prepared_) return;
  describe(options_);
  options_.add_options()("help", "this text");
  prepared_ = true;
}

bool Command::setup(const std::vector<std::string>& words) {
  prepare();
  po::options_description all;
  all.add(options_).add_options()(words_key, po::value<std::vector<std::string>>());
  po::positional_options_description positional;
  positional.add(words_key, -1);
  po::variables_map values;
  try {
    po::store(po::command_line_parser(words).options(all).positional(positional).style(style).run(), values);
    if (values.count("help") > 0) return false;
    po::notify(values);
  } catch (const po::unknown_option& error) {
    throw wrong("unknown option " + error.get_option_name() +
                suggestion(error.get_option_name(), option_names(options_)));
  } catch (const po::error& error) {
    throw wrong(error.what());
  }
  std::vector<std::string> plain;
  if (values.count(words_key) > 0) plain = values[words_key].as<std::vector<std::string>>();
  const bool ended = std::find(words.begin(), words.end(), "--") != words.end();
  for (const std::string& word : plain)
    if (!ended && word.size() > 1 && word.front() == '-' && !units::parse_number(word))
      throw wrong("unknown option " + word + suggestion("-" + word, option_names(options_)));
  take(plain);
  return true;
}

std::string Command::help() {
  prepare();
  const About self = about();
  std::string synopsis = "usage: steelyard " + std::string(self.name);
  std::string out = reports::paragraph(synopsis + ' ', self.words) + '\n';
  std::string_view details = self.details;
  while (!details.empty()) {
    const std::size_t end = std::min(details.find('\n'), details.size());
    out += reports::paragraph("", details.substr(0, end));
    details.remove_prefix(std::min(end + 1, details.size()));
  }
  std::ostringstream listed;
  listed << options_;
  return out + '\n' + listed.str();
}

void Command::expect(const std::vector<std::string>& words, std::size_t least, std::size_t most) const {
  if (words.size() < least)
    throw wrong(words.empty() ? "something is missing" : "something is missing after " + words.back());
  if (words.size() > most) throw wrong("one word too many: " + words[most]);
}

Usage Command::wrong(const std::string& what) const {
  const About self = about();
  const std::string name(self.name);
  return Usage(name + ": " + what + "\nusage: steelyard " + name + ' ' + std::string(self.words) +
               "\n`steelyard " + name + " --help` says more");
}

}  // namespace steelyard::cli
