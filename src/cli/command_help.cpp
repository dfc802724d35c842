#include "cli/command_help.hpp"

#include "cli/commands.hpp"
#include "cli/near.hpp"

namespace steelyard::cli {

About CommandHelp::about() const {
  return {"help", "[COMMAND]", "this list, or the help of one command",
          "The list of commands, or the help of one."};
}

void CommandHelp::describe(boost::program_options::options_description&) {}

void CommandHelp::take(const std::vector<std::string>& words) {
  expect(words, 0, 1);
  if (words.empty()) return;
  command_ = words[0];
  if (!find_command(command_))
    throw wrong("there is no command " + command_ + suggestion(command_, command_names()));
}

Exit CommandHelp::run(Streams& streams) {
  streams.out.write(command_.empty() ? overview() : find_command(command_)->help());
  return Exit::done;
}

}  // namespace steelyard::cli
