// settings: what whoever uses this store chose once.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/settings.hpp"

namespace steelyard::cli {

class CommandSettings final : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  Exit choose(Streams& streams);
  Exit show(Streams& streams);
  [[nodiscard]] Usage wrong_value(const std::string& why) const;
  std::string name_, value_, from_, client_, by_;
  StoreOption store_;
  JsonOption json_;
};

}  // namespace steelyard::cli
