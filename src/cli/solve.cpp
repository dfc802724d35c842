#include "cli/solve.hpp"

#include "reports/table/result_table.hpp"

namespace steelyard::cli {

std::string version() {
  return issued::engine_version();
}

std::string table(const Solved& solved, bool detail, const rig::RecordNote* record,
                  const reports::Reader& reader) {
  return reports::result_table(solved.session, solved.findings, solved.assessment,
                               solved.monte_carlo ? &*solved.monte_carlo : nullptr, detail, record, reader);
}

std::string summary(const Solved& solved, const reports::Reader& reader) {
  return reports::result_summary(solved.session, solved.findings, solved.assessment, reader);
}

}  // namespace steelyard::cli
