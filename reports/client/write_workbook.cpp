#include "reports/client/client.hpp"
#include "reports/document/write_workbook.hpp"

namespace steelyard::reports {

void write_client_workbook(const rig::Session& session, const reconcile::Findings& findings,
                           const assess::Assessment& assessment, const ClientOptions& options,
                           const std::filesystem::path& to) {
  write_workbook(client_report(session, findings, assessment, options), options.paper, to);
}

}  // namespace steelyard::reports
