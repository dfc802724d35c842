// The program: finds the command, lets it check its words, runs it, and turns what went wrong into a message
// and an exit code (command.hpp). The only place where exceptions end.
#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <exception>
#include <string>
#include <utility>
#include <vector>

#include "cli/command.hpp"
#include "cli/commands.hpp"
#include "cli/near.hpp"
#include "cli/solve.hpp"

namespace steelyard::cli {
namespace {

/// A process may be started with its standard streams closed. The next file opened, which is the store, would
/// then take their numbers and messages would be written into it. Standard output is held open for reading,
/// so that writing a result still fails and is told.
void hold_standard_streams() {
  for (const auto& [descriptor, mode] :
       {std::pair{STDIN_FILENO, O_RDONLY}, {STDOUT_FILENO, O_RDONLY}, {STDERR_FILENO, O_WRONLY}})
    if (fcntl(descriptor, F_GETFD) == -1 && errno == EBADF && open("/dev/null", mode) != descriptor)
      std::abort();
}

Exit dispatch(const std::vector<std::string>& words, Streams& streams) {
  if (words.empty()) throw Usage("name a command\n" + overview());
  if (words.front() == "--help") {
    streams.out.write(overview());
    return Exit::done;
  }
  if (words.front() == "--version") {
    streams.out.line("steelyard " + version());
    return Exit::done;
  }
  const auto command = find_command(words.front());
  if (!command)
    throw Usage("there is no command " + words.front() + suggestion(words.front(), command_names()) +
                "\n`steelyard help` lists them");
  if (!command->setup({words.begin() + 1, words.end()})) {
    streams.out.write(command->help());
    return Exit::done;
  }
  return command->run(streams);
}

Exit run(const std::vector<std::string>& words, Streams& streams) {
  try {
    const Exit exit = dispatch(words, streams);
    streams.out.flush();
    return exit;
  } catch (const Usage& error) {
    streams.err.say(error.what());
    return Exit::usage;
  } catch (const OutputFailed& error) {
    streams.err.say(error.what());
    return Exit::refused;
  } catch (const std::exception& error) {
    // What was written before the refusal is still a result: it goes out, and the refusal decides the exit
    // code.
    try {
      streams.out.flush();
    } catch (const OutputFailed& output) {
      streams.err.say(output.what());
    }
    streams.err.say(error.what());
    return Exit::refused;
  }
}

}  // namespace
}  // namespace steelyard::cli

int main(int argc, char** argv) {
  steelyard::cli::hold_standard_streams();
  // A closed pipe is then an error of write(), with a message and an exit code, instead of a silent death.
  std::signal(SIGPIPE, SIG_IGN);
  steelyard::cli::Streams streams;
  return static_cast<int>(steelyard::cli::run({argv + (argc > 0 ? 1 : 0), argv + argc}, streams));
}
