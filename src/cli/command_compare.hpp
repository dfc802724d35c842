// steelyard compare: two sessions of one rig, before and after a change.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/report_options.hpp"
#include "compare/comparison.hpp"

namespace steelyard::cli {

class CommandCompare final : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  void write_report(const rig::Session& before, const rig::Session& after,
                    const compare::Comparison& comparison) const;
  ReportOptions report_;
  StoreOption store_;
  JsonOption json_;
  std::string before_, after_, to_;
};

}  // namespace steelyard::cli
