// steelyard verify: whether the record stands as it was sealed, and whether its figures come out again.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"

namespace steelyard::cli {

class CommandVerify : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  StoreOption store_;
  JsonOption json_;
  std::string head_;
  bool quick_ = false;
};

}  // namespace steelyard::cli
