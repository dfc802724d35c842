-- The store as version 3 makes it: settings. What whoever uses this store chose once: who issues its reports, in whose
-- words, by which bands an audit sorts what is over. Columns and rules as in 0001_initial.sql.

CREATE TABLE setting (
  -- One choice. The latest of a name and client stands; earlier ones stay. Settings are this store's own: a merge leaves
  -- them where they are.
  seq INTEGER PRIMARY KEY CHECK (seq >= 1),  -- in the order of choosing
  name TEXT NOT NULL CHECK (name <> ''),  -- what is chosen: provider.name, words, overload_bands, …
  client TEXT NOT NULL,  -- uid of the client whom it is for; '' for all
  value TEXT NOT NULL,  -- the choice; '' takes an earlier one back
  set_at TEXT NOT NULL,  -- when, UTC
  set_by TEXT NOT NULL,  -- who chose
  -- SHA-256 of the columns before it (src/store/settings.hpp), against decay of the file:
  row_hash TEXT NOT NULL CHECK (length(row_hash) = 64 AND row_hash NOT GLOB '*[^0-9a-f]*')
) STRICT;
CREATE INDEX setting_by_name ON setting (name, client, seq);
CREATE TRIGGER setting_is_never_changed BEFORE UPDATE ON setting
BEGIN SELECT RAISE(ABORT, 'setting: a fact is never changed'); END;
CREATE TRIGGER setting_is_never_removed BEFORE DELETE ON setting
BEGIN SELECT RAISE(ABORT, 'setting: a fact is never removed'); END;
