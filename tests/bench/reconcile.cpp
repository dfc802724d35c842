// How long a session takes beside what nobody can avoid: one column-pivoted QR of the same size for each
// iteration.
//
// Usage: bench_reconcile [SHEET]. Prints the ratio, both measured in turns in this run. "The same size" is
// the rows and the columns of the design in the constrained space: observations × unknowns as the result
// counts them. The solution without the tape is measured apart, as it is a second solution.
//
// Then what trust costs: the same session with one reading off by 60 kg, searched, explained and settled,
// beside the plain reconciliation of that session (its first suspect set and no more).
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

/// What the search for suspects, explanations and the next reading takes, in plain reconciliations. Every
/// reading is blundered in turn, one by one, and the median and the worst are told.
void print_trust(const steelyard::rig::Session& sound) {
  using namespace steelyard;
  std::vector<double> ratios;
  double worst_whole = 0;
  for (std::size_t k = 0; k < sound.states.size(); ++k)
    for (std::size_t r = 0; r < sound.states[k].readings.size(); ++r) {
      rig::Session off = sound;
      off.states[k].readings[r].load.figure += 60;
      const auto plain = [&] { (void)reconcile::reconcile(off, reconcile::Search::first_set); };
      const auto whole = [&] { (void)reconcile::reconcile(off, reconcile::Search::whole); };
      if (reconcile::reconcile(off, reconcile::Search::first_set).suspects.empty()) continue;
      std::vector<double> one, other;
      for (int round = 0; round < 9; ++round) {
        one.push_back(microseconds(plain, 3));
        other.push_back(microseconds(whole, 3));
      }
      ratios.push_back(median(other) / median(one));
      worst_whole = std::max(worst_whole, median(other));
    }
  if (ratios.empty()) return;
  std::printf("%zu sessions with a reading off: searched, explained and settled %.1f times the plain "
              "reconciliation, at most %.1f times (%.0f µs)\n",
              ratios.size(), median(ratios), *std::max_element(ratios.begin(), ratios.end()), worst_whole);
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
  print_trust(untaped);
  print_trust(taped);
  return sink == 0.123 ? 1 : 0;
}
