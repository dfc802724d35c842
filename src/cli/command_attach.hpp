// steelyard attach: photographs and papers that belong to a session.
#pragma once

#include <optional>

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "store/store.hpp"

namespace steelyard::cli {

class CommandAttach : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  void list(Streams& streams) const;
  void get(Streams& streams) const;
  void add(Streams& streams) const;

  std::string session_, file_, to_, reading_, what_, by_;
  std::optional<int> limit_, get_;
  StoreOption store_;
  JsonOption json_;
};

}  // namespace steelyard::cli
