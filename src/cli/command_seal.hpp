// steelyard seal: seals sessions together with the figures issued from them; one transaction.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "store/store.hpp"

namespace steelyard::cli {

class CommandSeal : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  /// What is sealed, by names that Store understands; with --all those that are not sealed yet.
  [[nodiscard]] std::vector<std::string> names(const store::Store& store);
  /// Usage where somebody has to be named who seals one of them.
  void check_who(const store::Store& store, const std::vector<std::string>& names) const;
  StoreOption store_;
  JsonOption json_;
  std::vector<std::string> sessions_;
  std::string by_;
  bool all_ = false;
  std::size_t sealed_before_ = 0;
};

}  // namespace steelyard::cli
