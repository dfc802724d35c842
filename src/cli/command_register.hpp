// steelyard register: clients, vehicles, trailers and scales.
#pragma once

#include <optional>

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "store/store.hpp"

namespace steelyard::cli {

class CommandRegister : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  void note(Streams& streams) const;
  void show(Streams& streams) const;

  std::string kind_, uid_, by_;
  std::vector<std::pair<std::string, std::optional<std::string>>> fields_;
  StoreOption store_;
  JsonOption json_;
};

}  // namespace steelyard::cli
