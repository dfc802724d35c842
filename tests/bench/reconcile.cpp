// How long a session takes beside what nobody can avoid: one column-pivoted QR of the same size for each
// iteration.
//
// Usage: bench_reconcile [SHEET]. Prints the ratio, both measured in turns in this run. "The same size" is
// the rows and the columns of the design in the constrained space: observations × unknowns as the result
// counts them. The solution without the tape is measured apart, as it is a second solution.
#include <Eigen/QR>
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "assess/assessment.hpp"
#include "reconcile/reconcile.hpp"
#include "sheet/sheet.hpp"

namespace {

using Clock = std::chrono::steady_clock;

template <class Work>
double microseconds(Work&& work, int times) {
  const auto start = Clock::now();
  for (int i = 0; i < times; ++i) work();
  return std::chrono::duration<double, std::micro>(Clock::now() - start).count() / times;
}

double median(std::vector<double> all) {
  std::nth_element(all.begin(), all.begin() + static_cast<long>(all.size() / 2), all.end());
  return all[all.size() / 2];
}

}  // namespace

int main(int argc, char** argv) {
  using namespace steelyard;
  const std::string path = argc > 1 ? argv[1] : std::string(STEELYARD_SOURCE_DIR) + "/tests/bench/forty.json";
  std::ifstream in(path, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  auto read = sheet::read(text);
  if (!read.session) {
    for (const auto& fault : read.faults) std::fprintf(stderr, "%s\n", sheet::to_text(fault).c_str());
    return 1;
  }
  rig::Session taped = *read.session, untaped = taped;
  untaped.rig.tow_vehicle.overhang.reset();
  const auto findings = reconcile::reconcile(untaped);
  const int rows = findings.fit.observations, columns = findings.fit.unknowns,
            iterations = findings.fit.iterations;
  const Eigen::MatrixXd design = Eigen::MatrixXd::Random(rows, columns);
  double sink = 0;
  const auto one_qr = [&] {
    const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(design);
    sink += qr.matrixR()(0, 0);
  };
  const auto whole = [&](const rig::Session& session) {
    const auto found = reconcile::reconcile(session);
    sink += assess::assess(session, found).rows.size() ? 1 : 0;
  };
  std::vector<double> floor, without_tape, with_tape;
  for (int round = 0; round < 41; ++round) {
    floor.push_back(microseconds(one_qr, 40));
    without_tape.push_back(microseconds([&] { whole(untaped); }, 10));
    with_tape.push_back(microseconds([&] { whole(taped); }, 10));
  }
  const double unit = median(floor) * iterations;
  std::printf("%s: %d observations, %d unknowns, %d iterations\n", path.c_str(), rows, columns, iterations);
  std::printf("one pivoted QR of that size       %8.1f µs, %d of them %8.1f µs\n", median(floor), iterations,
              unit);
  std::printf("session, one solution, and limits %8.1f µs = %.2f times\n", median(without_tape),
              median(without_tape) / unit);
  std::printf("with the second, without the tape %8.1f µs = %.2f times\n", median(with_tape),
              median(with_tape) / unit);
  return sink == 0.123 ? 1 : 0;
}
