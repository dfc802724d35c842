// An SQLite VFS over the usual one that fails on purpose, and that knows what a loss of power would leave.
//
// Registered as the default, so that store::Store uses it as it is. What the store does past SQLite (making, syncing
// and renaming whole files: src/store/placing.cpp) does not go through it. For one thread.
//
// Loss of power: a disk keeps what was synced. Of what was written since, each sector of 512 bytes is, independently,
// there, not there, or garbled; a file's size is the old or the new one; a file that was deleted without its folder
// being synced may be back; one that was made and never synced may be missing. (SQLite, "Atomic Commit In SQLite",
// section 3.1, names these assumptions: a sector that is not being written is not harmed.)
#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <string>

namespace steelyard::test {

class FaultVfs {
 public:
  /// Registers itself as SQLite's default VFS; the usual one is the default again when it is gone.
  FaultVfs();
  FaultVfs(const FaultVfs&) = delete;
  FaultVfs& operator=(const FaultVfs&) = delete;
  ~FaultVfs();

  enum class Fault { none, io_once, io_for_ever, full_once, full_for_ever, power };
  /// From now on the N-th call (1 the next) fails so; `full` counts and fails writes alone. With `power` the files are
  /// kept as they are at that call, and every later call fails.
  void arm(Fault fault, long at);
  /// The next call fails as arm() said.
  void arm_now() { at_ = calls_ + 1; }
  /// Calls since arm(): all, or writes for `full`.
  [[nodiscard]] long calls() const { return calls_; }
  [[nodiscard]] bool struck() const { return struck_; }

  /// After a loss of power, when no connection is open any more: makes the files what the cut may have left.
  void leave_what_a_cut_leaves(std::uint64_t seed);

  // For the functions that SQLite calls.
  enum class Call { read, write, truncate, sync, open, remove, lock, size };
  /// What the call is to answer; 0 where it goes through.
  int answer(Call call);
  void was_synced(const std::string& path);
  void was_opened(const std::string& path);
  void was_removed(const std::string& path, bool folder_synced);

 private:
  struct Durable {
    bool exists = false;
    std::string bytes;
  };
  [[nodiscard]] int failure(Call call) const;
  Fault fault_ = Fault::none;
  long at_ = 0, calls_ = 0;
  bool struck_ = false;
  std::map<std::string, Durable> durable_;                       // what a disk has for certain
  std::map<std::string, std::optional<std::string>> at_the_cut_;  // what was written then; nothing: deleted
};

}  // namespace steelyard::test
