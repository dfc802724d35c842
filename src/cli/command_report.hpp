// steelyard report: the client's report of one session, as a workbook, a page or a text.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/report_options.hpp"

namespace steelyard::cli {

class CommandReport : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  StoreOption store_;
  ReportOptions report_;
  JsonOption json_;
  std::string session_, to_;
};

}  // namespace steelyard::cli
