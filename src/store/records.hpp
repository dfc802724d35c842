// Records that stand up: seals and their chain, revisions, attachments, the register, and what verify, merge and
// redact answer. Plain values; the work is done by Store.
//
// A seal covers one revision of a session. Its head is SHA-256 of
//   "steelyard-seal/1" and a line end, then of each of origin, number, previous, session_id, revision, form,
//   content_hash, identity_hash, result_hash, engine, build, sealed_by, sealed_at, in this order:
//   the column's name, '=', the length of the value in bytes, ':', the value, a line end
// with numbers in decimal digits. content_hash is SHA-256 of the canonical content (canonical.hpp), identity_hash
// that of the salt's 32 digits followed by the canonical identity, result_hash that of the issued result.
// Times are UTC, "2026-10-03T06:40:00Z". Hashes are 64 lower-case hexadecimal digits.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace steelyard::store {

/// The figures that go out with a seal. `result` is steelyard-result/1, empty where the session has no solution.
/// `build` says how the program was built: the same engine and build give the same digits.
struct Issued {
  std::string engine, build, result;
  bool operator==(const Issued&) const = default;
};

struct Seal {
  std::string head, origin;
  std::int64_t number = 0;
  std::string previous;  // head of the seal before it in its store; empty for the first
  std::string session_id;
  int revision = 1, form = 1;
  std::string content_hash, identity_hash, result_hash, engine, build, by, at;
  bool operator==(const Seal&) const = default;
};

/// The head that belongs to the seal's other members.
std::string head_of(const Seal& seal);

/// The last link of one store's seals. A chain that was copied and went on in two places has several heads.
struct Chain {
  std::string origin;
  std::int64_t seals = 0;  // number of the last seal
  std::string head;        // empty where nothing is sealed yet
  bool own = false;        // set by this store
  bool operator==(const Chain&) const = default;
};

/// Where one revision stands in the record: for reports, list and show.
struct Record {
  std::string name;  // "ID@REVISION", or "ID@REVISION.HASH" where several of a revision stand side by side
  std::string id;
  int revision = 1;
  std::string content_hash;            // as it stands now; the seal's, where it is sealed and sound
  std::optional<Seal> seal = {};       // the first set on it
  std::string replaces, why, by, at;   // of an amendment: what it replaces, the reason, who and when
  bool stands = true;                  // not replaced by a later revision
  bool redacted = false;
  std::vector<std::string> rivals = {};  // names of others of this revision with different content
  Chain chain = {};                    // of this store, as it ends now
};

struct Attachment {
  int number = 0;                        // in the session, from 1
  std::optional<int> limit = {};         // number of the limit in the sheet, from 1
  std::string reading;                   // id of the reading; empty otherwise
  std::string what, media_type, sha256;  // media_type follows from the file's first bytes
  std::int64_t size = 0;                 // bytes
  std::string by, at;
  bool there = true;  // false where the file was erased by a redaction
  bool operator==(const Attachment&) const = default;
};

// --- verify

/// One thing that verify found. A fault means that the record does not stand as it is; a notice is worth knowing.
struct Remark {
  enum class Weight { fault, notice };
  Weight weight = Weight::fault;
  std::string kind;     // a word for programs: "content_changed", "chain_broken", …
  std::string session;  // Record::name; empty where it concerns the store
  std::string what;     // a sentence: what changed, from what to what, where that can be told
};

struct Verification {
  std::vector<Remark> remarks;
  std::vector<Chain> chains;
  std::int64_t revisions = 0, sealed = 0, unsealed = 0;
  bool head_found = false;       // the head from outside is one of this store's seals
  std::int64_t after_head = 0;   // seals set after it in its chain
  [[nodiscard]] bool sound() const;  // no fault
};

/// What was sealed with one seal, for recomputing.
struct SealedResult {
  std::string name;  // Record::name
  Issued issued;
};

// --- register and history
// An entry is put together from notes and from sessions: for each field the latest that is not empty stands. A note is
// dated by when it was made, a session by when the rig was weighed.

enum class RegisterKind { client, scale, tow_vehicle, trailer };
std::string_view to_text(RegisterKind kind);  // the words of the schema
std::optional<RegisterKind> parse_register_kind(std::string_view text);

/// One client, scale, tow vehicle or trailer: the latest that notes and sessions say of it. Fields that do not belong
/// to its kind are empty.
struct RegisterEntry {
  RegisterKind kind = RegisterKind::client;
  std::string uid;
  std::string name, contact;                     // client
  std::string label, registration, vin;          // vehicles
  std::string serial, certificate, calibrated, due;  // scale
  std::string note;
  int sessions = 0;                 // standing revisions in which it takes part
  std::string first_at, last_at;    // weighed_at of the first and the last of them
  bool operator==(const RegisterEntry&) const = default;
};

struct RegisterNote {
  RegisterKind kind = RegisterKind::client;
  std::string uid, field, value, by;
};

// --- settings

/// A choice that whoever uses the store made once: name "provider.name", "words", … `client` is the uid of the client whom
/// it is for, empty for all. Their meaning is the command line's affair.
struct Setting {
  std::string name, client, value, by, at;
  bool operator==(const Setting&) const = default;
};

// --- merge and redact

struct Merged {
  std::vector<std::string> added, extended, already_there;  // Record::name
  std::vector<std::string> conflicts;  // names of those that now stand beside others of the same revision
  std::int64_t seals = 0, attachments = 0, notes = 0, redactions = 0;  // added
};

struct Redacted {
  std::vector<std::string> sessions;  // Record::name of each revision whose identity was erased now
  std::int64_t notes = 0, files = 0;  // erased from the register; attachments erased
};

}  // namespace steelyard::store
