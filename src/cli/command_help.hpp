// steelyard help: the list of commands, or the help of one.
#pragma once

#include "cli/command.hpp"

namespace steelyard::cli {

class CommandHelp : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  std::string command_;
};

}  // namespace steelyard::cli
