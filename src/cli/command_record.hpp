// steelyard record: adds one reading to a session and answers with its id and the rig's figures.
#pragma once

#include <optional>

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "rig/session.hpp"

namespace steelyard::cli {

class CommandRecord : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  [[nodiscard]] rig::Reading reading_for(const rig::Session& session) const;
  StoreOption store_;
  WordsOption words_;
  JsonOption json_;
  std::string session_, state_, unit_, raised_text_;
  std::vector<std::string> scales_;
  rig::Position position_;
  double load_ = 0;
  std::optional<units::LoadUnit> load_unit_;
  std::optional<double> raised_;
};

}  // namespace steelyard::cli
