// Every command of the program, in the order in which help lists them. A command that is not in this list
// does not exist; adding one means a pair of files and a line in commands.cpp.
#pragma once

#include <memory>
#include <string_view>
#include <vector>

#include "cli/command.hpp"

namespace steelyard::cli {

using Make = std::unique_ptr<Command> (*)();

const std::vector<Make>& commands();

/// The command of that name, or null.
std::unique_ptr<Command> find_command(std::string_view name);

std::vector<std::string> command_names();

/// The program's own help: what it is for and every command with its line.
std::string overview();

}  // namespace steelyard::cli
