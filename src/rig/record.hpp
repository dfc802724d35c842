// Where one revision of a session stands in the record of a store, as plain values for reports: they print it
// and know no store.
//
// Whoever asked the store fills it; a sheet without a store has none. Times are UTC, "2026-10-03T06:40:00Z",
// those of an amendment as its sheet gives them; hashes and heads are 64 lower-case hexadecimal digits; a
// text that there is not is empty. The seal's members mean something only where it is sealed, the chain's
// where the store holds a seal.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace steelyard::rig {

/// A file kept with a revision.
struct RecordAttachment {
  std::string what;     // "compliance plate"
  std::string belongs;  // to what in the session: "limit 3", "reading r4"; empty for the session itself
  std::string sha256, by, at;
  bool there = true;  // false where the file was erased by a redaction
};

struct RecordNote {
  std::string name;  // "ID@REVISION", or "ID@REVISION.HASH" where several of a revision stand side by side
  int revision = 1;
  std::string replaces, why, by, at;  // of an amendment: what it replaces, the reason, who and when
  bool stands = true;                 // not replaced by a later revision
  bool sealed = false;
  std::string content_hash;
  std::string seal_head, sealed_by, sealed_at;
  std::string seal_origin;               // the store where it was sealed
  std::int64_t seal_number = 0;          // in that store's chain
  std::string chain_origin, chain_head;  // this store, and the last seal of its own chain
  std::int64_t chain_seals = 0;
  std::vector<std::string> rivals = {};  // names of others of this revision with different content
  bool redacted = false;
  std::vector<RecordAttachment> attachments = {};
  // Who took the findings before the seal was set, from the receipt kept with the session; empty where there is none.
  std::string received_by = {}, received_at = {};
};

}  // namespace steelyard::rig
