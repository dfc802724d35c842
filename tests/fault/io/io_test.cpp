// Every N-th call into the disk fails, once and for ever; the disk is full from the N-th write on.
//
// Pass rule: the operation says that it is done, and everything of it is there; or it throws Refused, and the content
// is exactly what it was, or (where the call failed after the commit) everything of it is there. Nothing else is
// thrown. The file passes integrity_check and verify, and takes a reading afterwards. In CI some N of each operation,
// spread over all of its calls; with STEELYARD_FAULT_ALL every one.
#include <boost/test/unit_test.hpp>

#include "../../store/support.hpp"
#include "fault_vfs.hpp"
#include "operations.hpp"

using namespace steelyard;
using namespace steelyard::test;
using store::Access;
using store::Store;

namespace {

struct Bench {
  Folder folder;
  std::filesystem::path path = make_starting_store(folder.path());
  std::string sound = bytes_of(path), content = content_of(path);
};

/// True where the operation got through without being struck.
bool one_round(Bench& bench, FaultVfs& vfs, const Operation& operation, FaultVfs::Fault fault, long at) {
  const std::string name = operation.name + ", call " + std::to_string(at);
  std::filesystem::remove(std::filesystem::path(bench.path) += "-journal");
  write_bytes(bench.path, bench.sound);
  bool done = false;
  vfs.arm(fault, at);
  try {
    Store store = Store::open(bench.path, Access::read_write);
    operation.act(store);
    done = true;
  } catch (const store::Refused&) {
    // Told; what is in the file is looked at below. Anything else that is thrown fails the test.
  }
  const bool struck = vfs.struck();
  vfs.arm(FaultVfs::Fault::none, 0);
  Store after = Store::open(bench.path, Access::read_write);
  const bool as_before = content_of(bench.path) == bench.content;
  BOOST_TEST((as_before || operation.happened(after)), name << ": neither before nor after");
  BOOST_TEST((!done || !as_before), name << ": it was acknowledged and is not there");
  const store::Verification found = after.verify({}, {});
  BOOST_TEST(found.sound(), name << ": " << (found.remarks.empty() ? "" : found.remarks[0].what));
  after.record("c", "alone", reading("", rig::Position::whole_axle(rig::Vehicle::tow, 1), 900));
  return !struck;
}

void all_rounds(FaultVfs::Fault fault, long rounds_in_ci) {
  Bench bench;
  FaultVfs vfs;
  for (const Operation& operation : operations(bench.folder.path())) {
    // How many calls there are, from a run that none of them fails.
    BOOST_TEST(one_round(bench, vfs, operation, fault, 1'000'000'000));
    vfs.arm(fault, 1'000'000'000);
    write_bytes(bench.path, bench.sound);
    {
      Store store = Store::open(bench.path, Access::read_write);
      operation.act(store);
    }
    const long calls = vfs.calls(), stride = all_wanted() ? 1 : std::max(1L, calls / (few_wanted() ? rounds_in_ci / 4 + 1 : rounds_in_ci));
    BOOST_TEST(calls > 3, operation.name);
    for (long at = 1; at <= calls; at += stride) one_round(bench, vfs, operation, fault, at);
    BOOST_TEST_MESSAGE(operation.name << ": " << calls << " calls");
  }
}

}  // namespace

BOOST_AUTO_TEST_SUITE(fault_io)

BOOST_AUTO_TEST_CASE(a_call_that_fails_once) {
  all_rounds(FaultVfs::Fault::io_once, 25);
}
BOOST_AUTO_TEST_CASE(calls_that_fail_for_ever) {
  all_rounds(FaultVfs::Fault::io_for_ever, 25);
}
BOOST_AUTO_TEST_CASE(a_disk_that_is_full_for_a_moment) {
  all_rounds(FaultVfs::Fault::full_once, 10);
}
BOOST_AUTO_TEST_CASE(a_disk_that_is_full) {
  all_rounds(FaultVfs::Fault::full_for_ever, 10);
}

BOOST_AUTO_TEST_SUITE_END()
