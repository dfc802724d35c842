// audit: a fleet's sessions looked at together.
#pragma once

#include "assess/overload_bands.hpp"
#include "cli/audit_filter.hpp"
#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/report_options.hpp"
#include "reports/fleet/fleet.hpp"

namespace steelyard::cli {

class CommandAudit final : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  void write_to_file(const reports::FleetSubject& subject, const reports::FleetOptions& options) const;
  std::string to_, threads_;
  unsigned thread_count_ = 1;
  AuditFilter filter_;
  ReportOptions report_;
  StoreOption store_;
  JsonOption json_;
};

}  // namespace steelyard::cli
