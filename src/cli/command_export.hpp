// steelyard export: sheets that can be imported elsewhere.
#pragma once

#include <optional>

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "store/store.hpp"

namespace steelyard::cli {

class CommandExport : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  std::vector<std::string> names(const store::Store& store) const;

  std::vector<std::string> sessions_;
  std::string to_;
  bool all_ = false, anonymous_ = false;
  StoreOption store_;
  JsonOption json_;
};

}  // namespace steelyard::cli
