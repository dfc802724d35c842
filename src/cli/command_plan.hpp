// steelyard plan: before weighing, what to weigh for a wanted uncertainty.
#pragma once

#include <optional>

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "plan/plan.hpp"
#include "rig/session.hpp"

namespace steelyard::cli {

class CommandPlan : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  [[nodiscard]] std::optional<double> above_nothing(const std::string& option, const std::string& text) const;
  [[nodiscard]] plan::Wanted wanted(const rig::Session& sheet) const;

  StoreOption store_;
  WordsOption words_;
  JsonOption json_;
  std::string source_, coupling_u_text_, margin_u_text_, sheet_to_;
  std::optional<double> coupling_u_, margin_u_;  // in the sheet's unit of load
  bool least_ = false;
};

}  // namespace steelyard::cli
