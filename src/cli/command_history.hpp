// steelyard history: the weighings of one rig, scale or client.
#pragma once

#include <optional>

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "store/store.hpp"

namespace steelyard::cli {

class CommandHistory : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  std::string uid_;
  StoreOption store_;
  JsonOption json_;
};

}  // namespace steelyard::cli
