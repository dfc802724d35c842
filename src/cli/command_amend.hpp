// steelyard amend: opens a new revision beside a sealed one.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"

namespace steelyard::cli {

class CommandAmend : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  StoreOption store_;
  JsonOption json_;
  std::string session_, why_, by_, with_;
};

}  // namespace steelyard::cli
