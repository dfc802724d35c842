// steelyard merge: brings in what other stores hold; all or nothing a store.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"

namespace steelyard::cli {

class CommandMerge : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  StoreOption store_;
  JsonOption json_;
  std::vector<std::string> others_;
};

}  // namespace steelyard::cli
