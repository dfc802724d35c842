// The store: one SQLite file with every raw reading, and the only place that knows SQL.
//
// Units in the file: kg and mm, with figure and unit as entered beside them. schema/0001_….sql explains every
// table and column. Readings and strikes are only ever added; triggers forbid the rest. Errors: Refused,
// whose message names the file and gives the remedy, for a file that is not a store, is newer than this
// program, damaged, locked, in a folder that cannot be written, or on a full disk. Nothing is half stored:
// each use is one transaction. Conflict where a known id comes with other content.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "rig/session.hpp"

namespace steelyard::store {

class Refused : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// A session of this id is stored with other content.
class Conflict : public Refused {
 public:
  using Refused::Refused;
};

enum class Access { read_only, read_write };

struct Summary {
  std::string id;
  int revision = 1;
  std::string weighed_at, place, client, tow_vehicle,
      trailer;  // labels, else registrations; empty where not given
  int states = 0, readings = 0, struck = 0;
};

class Store {
 public:
  /// Makes a new store; refuses a path where anything is.
  static Store create(const std::filesystem::path& path);
  /// Opens a store. read_only creates, writes and locks nothing beyond a shared lock.
  static Store open(const std::filesystem::path& path, Access access);
  Store(Store&&) noexcept;
  Store& operator=(Store&&) noexcept;
  ~Store();

  enum class Added { added, already_there };

  /// One file's import: one transaction. Everything added is gone unless commit() was called.
  class Import {
   public:
    Import(Import&&) noexcept;
    ~Import();
    /// `session` is checked already (sheet::read). `canonical` is sheet::write(session) and `hash` its
    /// SHA-256; the same id with the same imported or present content is already_there, else Conflict. After
    /// a Conflict the import can go on; after any other error it cannot, and commit() refuses.
    Added add(const rig::Session& session, std::string_view canonical, std::string_view hash);
    /// Reads back what was added and compares it before it is kept.
    void commit();

   private:
    friend class Store;
    struct State;
    explicit Import(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
  };
  /// The store must outlive the import; meanwhile it can be read, and shows what was added.
  Import begin_import();

  /// Sessions in order of weighing time, then id.
  std::vector<Summary> list() const;
  std::vector<std::string> ids() const;  // same order as list()
  /// The whole id that `text` means: itself, or the one session whose id begins with it (at least 4
  /// characters). Refused when there is none or several (the message lists them).
  std::string resolve(std::string_view text) const;
  /// The session as it stands now, with later readings and strikes. Refused when it is not there.
  rig::Session load(std::string_view id) const;

  /// Adds a reading to a state of a session; an empty reading.id gets the next free one. Gives the id.
  std::string record(std::string_view session, std::string_view state, const rig::Reading& reading);
  /// Sets a reading aside. Refused where it is not there or is struck already.
  void strike(std::string_view session, std::string_view reading, const rig::Strike& strike);

 private:
  friend struct Opener;  // opening.hpp, private to this part
  struct Impl;
  explicit Store(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace steelyard::store
