// The power goes at a call into the disk.
//
// Pass rule: after the cut the file opens, passes verify and SQLite's own check; the operation that was under way is
// wholly there or wholly not; one that had been acknowledged before is there. In CI some cuts of each operation; with
// STEELYARD_FAULT_ALL every call, several times. What fails here if `synchronous` is turned down: the last case.
#include <sqlite3.h>

#include <boost/test/unit_test.hpp>

#include "../../store/support.hpp"
#include "fault_vfs.hpp"
#include "operations.hpp"

using namespace steelyard;
using namespace steelyard::test;
using store::Access;
using store::Store;

namespace {

const rig::Position first_axle = rig::Position::whole_axle(rig::Vehicle::tow, 1);

struct Bench {
  Folder folder;
  std::filesystem::path path = make_starting_store(folder.path());
  std::string sound = bytes_of(path);

  void restore() const {
    std::filesystem::remove(std::filesystem::path(path) += "-journal");
    write_bytes(path, sound);
  }
};

bool has_reading(const Store& store, const std::string& id) {
  for (const rig::State& state : store.load("c").states)
    for (const rig::Reading& reading : state.readings)
      if (reading.id == id) return true;
  return false;
}

/// Records a reading, which is acknowledged, then does the operation, in which the power goes.
void one_cut(Bench& bench, FaultVfs& vfs, const Operation& operation, long at, std::uint64_t seed) {
  const std::string name = operation.name + ", call " + std::to_string(at) + ", seed " + std::to_string(seed);
  bench.restore();
  bool acknowledged = false, done = false;
  vfs.arm(FaultVfs::Fault::power, at);
  try {
    Store store = Store::open(bench.path, Access::read_write);
    store.record("c", "alone", reading("first", first_axle, 905));
    acknowledged = true;
    operation.act(store);
    done = true;
  } catch (const store::Refused&) {
    // Nobody is there to read it.
  }
  if (!vfs.struck()) return;
  vfs.leave_what_a_cut_leaves(seed);
  const Store after = Store::open(bench.path, Access::read_write);
  BOOST_TEST((has_reading(after, "first") || !acknowledged), name << ": an acknowledged reading is gone");
  const store::Verification found = after.verify({}, {});
  BOOST_TEST(found.sound(), name << ": " << (found.remarks.empty() ? "" : found.remarks[0].what));
  if (done) BOOST_TEST(operation.happened(after), name << ": it was acknowledged and is gone");
}

}  // namespace

BOOST_AUTO_TEST_SUITE(fault_power)

BOOST_AUTO_TEST_CASE(a_cut_at_any_call_leaves_before_or_after) {
  Bench bench;
  FaultVfs vfs;
  long cuts = 0;
  for (const Operation& operation : operations(bench.folder.path())) {
    bench.restore();
    vfs.arm(FaultVfs::Fault::power, 1'000'000'000);
    {
      Store store = Store::open(bench.path, Access::read_write);
      store.record("c", "alone", reading("first", first_axle, 905));
      operation.act(store);
    }
    const long calls = vfs.calls(), stride = all_wanted() ? 1 : std::max(1L, calls / (few_wanted() ? 10 : 40));
    const std::uint64_t seeds = all_wanted() ? 5 : 1;
    for (long at = 1; at <= calls; at += stride)
      for (std::uint64_t seed = 1; seed <= seeds; ++seed, ++cuts)
        one_cut(bench, vfs, operation, at, static_cast<std::uint64_t>(at) * 31 + seed);
  }
  BOOST_TEST_MESSAGE(cuts << " cuts");
  BOOST_TEST(cuts > (few_wanted() ? 60 : 200));
}

// That the simulated disk can lose things at all: a writer that does not wait for the disk loses what it acknowledged.
BOOST_AUTO_TEST_CASE(without_syncing_the_same_cuts_do_harm) {
  Bench bench;
  FaultVfs vfs;
  int harmed = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    bench.restore();
    vfs.arm(FaultVfs::Fault::power, 1'000'000'000);
    {
      const Raw raw(bench.path);
      raw.run("PRAGMA synchronous = OFF; INSERT INTO strike SELECT session, 1, 'cut', '', '', NULL FROM session WHERE id "
              "= 'c'");
      vfs.arm_now();
      const std::string no_power = raw.error_of(
          "INSERT INTO strike SELECT session, 2, 'cut', '', '', NULL FROM session WHERE id = 'c'");
      BOOST_TEST(no_power != "");
    }
    vfs.leave_what_a_cut_leaves(seed);
    try {
      const Store after = Store::open(bench.path, Access::read_write);
      const bool struck = after.load("c").states.at(0).readings.at(0).struck.has_value();
      if (!struck || !after.verify({}, {}).sound()) ++harmed;
    } catch (const store::Refused&) {
      ++harmed;
    }
  }
  BOOST_TEST(harmed > 0);
}

BOOST_AUTO_TEST_SUITE_END()
