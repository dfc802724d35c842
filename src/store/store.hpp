// The store: one SQLite file with every raw reading, and the only place that knows SQL.
//
// Units in the file: kg and mm, with figure and unit as entered beside them. schema/0001_….sql explains every
// table and column. Rows are only ever added, but for what was empty and is filled in once; triggers forbid the rest,
// and a sealed revision takes no more.
//
// Sessions are named by a text: ID means the revision that stands (the highest; of several with different content, the
// one sealed first, else that with the lowest hash), ID@REVISION another, ID@REVISION.HASH one of several with different
// content, by the first 4 or more digits of the SHA-256 of content and identity. Errors: Refused,
// whose message names the file and gives the remedy, for a file that is not a store, is newer than this
// program, damaged, locked, in a folder that cannot be written, or on a full disk. Nothing is half stored:
// each use is one transaction. Conflict where a known id comes with other content, or what is stored is no longer what
// the caller had seen.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "rig/session.hpp"
#include "store/records.hpp"

namespace steelyard::store {

class Refused : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// A session or reading of this id is stored with other content.
class Conflict : public Refused {
 public:
  using Refused::Refused;
};

/// There is no session of this name.
class Absent : public Refused {
 public:
  using Refused::Refused;
};

/// The revision is sealed, or was replaced by a later one: it takes nothing more.
class Closed : public Refused {
 public:
  using Refused::Refused;
};

enum class Access { read_only, read_write };

struct Summary {
  std::string id;
  int revision = 1;
  bool sealed = false;
  int rivals = 0;  // others of the same revision with different content
  std::string weighed_at, place, client, tow_vehicle,
      trailer;  // labels, else registrations; empty where not given
  int states = 0, readings = 0, struck = 0;
  std::string technician, purpose, client_uid;
  std::string tow_uid, tow_registration, trailer_uid, trailer_registration;
  bool has_trailer = false;
};

class Store {
 public:
  /// Makes a new store; refuses a path where anything is.
  static Store create(const std::filesystem::path& path);
  /// Opens a store. read_only creates, writes and locks nothing beyond a shared lock, but that it undoes a write that
  /// was cut off, where it may.
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
    /// `session` is checked already (sheet::read), `hash` is sheet::content_hash(session). The same id with the same
    /// imported or present content as any revision is already_there. A revision above all that are stored, with
    /// `replaces`, is added beside them; else Conflict. After a Conflict the import can go on; after any other error
    /// it cannot, and commit() refuses.
    Added add(const rig::Session& session, std::string_view hash);
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

  // --- what may be asked twice, as over a line that breaks

  /// Adds a reading that has its id. already_there where the standing revision holds the very same in that state,
  /// whether it was struck since or not, also when it is sealed; Conflict where the id stands for another.
  Added record_once(std::string_view session, std::string_view state, const rig::Reading& reading);
  struct Struck {
    Added added = Added::added;
    rig::Strike strike;  // the one that stands: the first
  };
  /// Sets a reading aside, or says how it was set aside already, also when it is sealed.
  Struck strike_once(std::string_view session, std::string_view reading, const rig::Strike& strike);
  /// The standing revision, not sealed, grows: `extended` (checked already: sheet::read) holds all of it unchanged and
  /// in its order. After it there may be more scales, check weights, limits, states, readings (with their ids) and
  /// modifications, and more ride heights; empty until now and given once: a scale's zero_after, a state's
  /// coupling_height and slope, each with its u. Conflict, naming the place in the sheet, for any other difference. What
  /// is stored just so already is fine. Gives the session as stored.
  rig::Session extend(std::string_view session, const rig::Session& extended);
  /// Changes when another connection has committed to the file since; this one's own writes do not count. Cheap, to be
  /// asked often.
  std::int64_t changes() const;

  // --- records that stand up

  /// Seals in one transaction, each on the standing revision; earlier unsealed revisions of the id are sealed with it,
  /// without figures.
  class Sealing {
   public:
    Sealing(Sealing&&) noexcept;
    ~Sealing();
    /// Refused where the session is not as `expected` any more, or is sealed already, or `by` is empty.
    Seal add(const rig::Session& expected, std::string_view by, const Issued& issued);
    void commit();

   private:
    friend class Store;
    struct State;
    explicit Sealing(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
  };
  Sealing begin_sealing();

  /// Opens a new revision beside the sealed one: with `corrected`, whose readings must hold all those of the sealed one
  /// unchanged (they may be struck), else with the same content. Attachments are taken over. Refused where the standing
  /// revision is not sealed. Gives the new revision's session.
  rig::Session amend(std::string_view session, std::string_view why, std::string_view by,
                     const std::optional<rig::Session>& corrected);
  /// Opens a new revision with the content of `corrected` beside the standing one, sealed or not, as amend does.
  /// Conflict where what stands is not `expected` any more.
  rig::Session revise(const rig::Session& expected, const rig::Session& corrected, std::string_view why,
                      std::string_view by);

  Record record_of(std::string_view session) const;
  /// Of every revision of an id, the first first.
  std::vector<Record> revisions(std::string_view id) const;
  Chain chain() const;  // this store's own
  /// The result issued with the first seal of a revision.
  std::optional<Issued> issued(std::string_view session) const;

  /// Checks the whole file but the figures. `head` is one kept outside, or empty. `progress` is called with the number
  /// of revisions done and of all.
  using Progress = std::function<void(std::size_t done, std::size_t all)>;
  Verification verify(std::string_view head, const Progress& progress) const;
  /// Calls `use` with each sealed session and its issued result. What cannot be read is left out: verify names it.
  void each_issued(const std::function<void(const rig::Session&, const SealedResult&)>& use) const;

  /// Brings in what the other store holds: all or nothing, the same whatever the order, nothing doubled. Refused where
  /// the other is damaged or does not verify.
  Merged merge(const std::filesystem::path& other, const Progress& progress = {});

  /// Writes a copy of the store as it stands, while it may be in use, verifies it and gives it its name last. Refused
  /// where something has that name, unless `replace`. Gives the copy's chain.
  Chain backup(const std::filesystem::path& to, bool replace, const Progress& progress) const;

  /// Attaches a file; number, media_type, sha256, size and at are filled in. Refused above 24 MiB, and after the seal.
  Attachment attach(std::string_view session, const Attachment& attachment, std::string_view bytes);
  std::vector<Attachment> attachments(std::string_view session) const;
  std::string attached_bytes(std::string_view session, int number) const;

  void note(const std::vector<RegisterNote>& notes);
  std::vector<RegisterEntry> register_of(RegisterKind kind) const;  // by uid
  /// Standing sessions in which it takes part, in order of weighing time.
  std::vector<Summary> history(RegisterKind kind, std::string_view uid) const;

  /// Keeps choices; `at` is filled in. An empty value takes an earlier one back. Refused above 64 KiB.
  void choose(const std::vector<Setting>& settings);
  /// Those that stand, by name and client.
  std::vector<Setting> settings() const;

  /// Erases identity: client's name and reference, place, registrations, VIN, attached files, of every revision of a
  /// session, or of all sessions of a client with its notes in the register. Seals stay valid.
  Redacted redact_session(std::string_view session, std::string_view why, std::string_view by);
  Redacted redact_client(std::string_view uid, std::string_view why, std::string_view by);

 private:
  friend struct Opener;  // opening.hpp, private to this part
  struct Impl;
  explicit Store(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace steelyard::store
