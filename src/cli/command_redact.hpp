// steelyard redact: erases who and where, and keeps what was weighed.
#pragma once

#include <optional>

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "store/store.hpp"

namespace steelyard::cli {

class CommandRedact : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  std::string session_, client_, why_, by_;
  bool yes_ = false;
  StoreOption store_;
  JsonOption json_;
};

}  // namespace steelyard::cli
