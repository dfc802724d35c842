// steelyard compare: two sessions of one rig, before and after a change.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"

namespace steelyard::cli {

class CommandCompare : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  StoreOption store_;
  JsonOption json_;
  std::string before_, after_, to_;
};

}  // namespace steelyard::cli
