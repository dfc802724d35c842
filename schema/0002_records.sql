-- The store as version 2 makes it: records that stand up. Revisions, seals and their chain, attachments, a register of
-- clients, vehicles and scales, erasure of identity, check weights.
--
-- A seal covers one revision of a session: SHA-256 of its canonical content (src/store/canonical.hpp), of its identity
-- with a salt, and of the figures issued from it, linked to the seal before it in the same store (src/store/seal.hpp).
-- From then on triggers refuse every new row of that revision. Columns and rules as in 0001_initial.sql.
-- This migration runs with foreign keys off, as a table that others refer to is made anew; they are checked at its end.

CREATE TABLE store (
  -- What this store is called in chains of seals. One row.
  one INTEGER PRIMARY KEY CHECK (one = 1),  -- always 1
  -- the store's name in chains of seals, 32 hexadecimal digits drawn at random; a copy of the file keeps it:
  origin TEXT NOT NULL CHECK (length(origin) = 32 AND origin NOT GLOB '*[^0-9a-f]*'),
  again TEXT NOT NULL CHECK (again = origin),  -- the same once more: no seal covers it, and a file decays by single bits
  made_at TEXT NOT NULL  -- when it was drawn, UTC
) STRICT;
INSERT INTO store (one, origin, again, made_at)
SELECT 1, origin, origin, strftime('%Y-%m-%dT%H:%M:%SZ', 'now') FROM (SELECT lower(hex(randomblob(16))) AS origin);
CREATE TRIGGER store_is_never_changed BEFORE UPDATE ON store
BEGIN SELECT RAISE(ABORT, 'store: a fact is never changed'); END;
CREATE TRIGGER store_is_never_removed BEFORE DELETE ON store
BEGIN SELECT RAISE(ABORT, 'store: a fact is never removed'); END;

CREATE TABLE session_anew (
  -- One weighing session: who, when, where, and what was carried. One row a revision; where stores that were merged
  -- hold a revision with different content, one row for each content: they stand side by side until an amendment.
  session INTEGER PRIMARY KEY,  -- key within this file
  id TEXT NOT NULL CHECK (id <> ''),  -- the session's id in every file; given, or derived from its content
  -- 1 as first imported; the highest of an id is the one that stands:
  revision INTEGER NOT NULL CHECK (revision >= 1),
  replaces TEXT NOT NULL,  -- what an amended sheet replaces; '' otherwise
  revision_reason TEXT NOT NULL,  -- why it was amended; '' where nobody said
  revised_by TEXT NOT NULL,  -- who amended it; '' for a first revision
  revised_at TEXT NOT NULL,  -- when it was amended; '' for a first revision
  -- SHA-256 of the canonical sheet as imported, before later readings and strikes:
  import_hash TEXT NOT NULL CHECK (length(import_hash) = 64 AND import_hash NOT GLOB '*[^0-9a-f]*'),
  imported_at TEXT NOT NULL,  -- when it was imported, UTC
  load_unit TEXT NOT NULL CHECK (load_unit IN ('kg', 'lb')),  -- the sheet's unit of loads
  length_unit TEXT NOT NULL CHECK (length_unit IN ('mm', 'in')),  -- the sheet's unit of lengths
  weighed_at TEXT NOT NULL,  -- when the rig was weighed
  -- that instant, ms since 1970-01-01T00:00Z, to sort by; NULL where weighed_at is not a whole time with offset:
  weighed_ms INTEGER,
  place TEXT NOT NULL,  -- where the rig was weighed
  technician TEXT NOT NULL,  -- who weighed it
  purpose TEXT NOT NULL,  -- routine, before handover, …
  client_uid TEXT NOT NULL,  -- the same client in other sessions and stores
  client_name TEXT NOT NULL,  -- client's name
  client_reference TEXT NOT NULL,  -- client's order or job number
  surface TEXT NOT NULL,  -- the ground
  wind TEXT NOT NULL,  -- the wind
  conditions_note TEXT NOT NULL,  -- anything else about the conditions
  fuel_percent REAL CHECK (fuel_percent BETWEEN 0 AND 1e3),  -- fuel in the tank, % of full
  occupants INTEGER CHECK (occupants BETWEEN 0 AND 1000),  -- people aboard while weighing
  carried_note TEXT NOT NULL,  -- anything else aboard
  -- standard uncertainty of placing a wheel on a scale, relative (1):
  placement_u REAL CHECK (placement_u BETWEEN 0 AND 1e3),
  -- assumed standard uncertainty of load with height, kg/mm:
  height_sensitivity_u REAL CHECK (height_sensitivity_u BETWEEN 0 AND 1e6),
  -- assumed standard uncertainty of a height that was not measured, mm:
  unmeasured_height_u_mm REAL CHECK (unmeasured_height_u_mm BETWEEN 0 AND 1e9),
  unmeasured_height_u_figure REAL CHECK (unmeasured_height_u_figure BETWEEN 0 AND 1e9),  -- figure as entered
  unmeasured_height_u_unit TEXT CHECK (unmeasured_height_u_unit IN ('mm', 'in')),  -- its unit
  -- assumed load shift of an axle raised above its neighbours, kg/mm:
  raised_kg_per_mm REAL CHECK (raised_kg_per_mm BETWEEN 0 AND 1e6),
  -- assumed standard uncertainty of an unknown scale's gain, relative (1):
  anonymous_gain_u REAL CHECK (anonymous_gain_u BETWEEN 0 AND 1e3),
  CHECK ((unmeasured_height_u_mm IS NULL) + (unmeasured_height_u_figure IS NULL)
     + (unmeasured_height_u_unit IS NULL) IN (0, 3))
) STRICT;
INSERT INTO session_anew (
  session, id, revision, replaces, revision_reason, revised_by, revised_at, import_hash, imported_at, load_unit,
  length_unit, weighed_at, weighed_ms, place, technician, purpose, client_uid, client_name, client_reference, surface,
  wind, conditions_note, fuel_percent, occupants, carried_note, placement_u, height_sensitivity_u,
  unmeasured_height_u_mm, unmeasured_height_u_figure, unmeasured_height_u_unit, raised_kg_per_mm, anonymous_gain_u)
SELECT
  session, id, revision, replaces, revision_reason, '', '', import_hash, imported_at, load_unit, length_unit,
  weighed_at, weighed_ms, place, technician, purpose, client_uid, client_name, client_reference, surface, wind,
  conditions_note, fuel_percent, occupants, carried_note, placement_u, height_sensitivity_u, unmeasured_height_u_mm,
  unmeasured_height_u_figure, unmeasured_height_u_unit, raised_kg_per_mm, anonymous_gain_u
FROM session;
DROP TABLE session;
ALTER TABLE session_anew RENAME TO session;
CREATE INDEX session_by_id ON session (id, revision);

CREATE TABLE redaction (
  -- A revision whose identity fields were erased: client's name and reference, place, registrations, VIN, attachments.
  session INTEGER PRIMARY KEY REFERENCES session (session),  -- the session it belongs to
  why TEXT NOT NULL CHECK (why <> ''),  -- the reason
  redacted_by TEXT NOT NULL,  -- who erased them
  redacted_at TEXT NOT NULL,  -- when, UTC
  -- SHA-256 of why, by and at (src/store/redact.hpp), against decay of the file:
  row_hash TEXT NOT NULL CHECK (length(row_hash) = 64 AND row_hash NOT GLOB '*[^0-9a-f]*')
) STRICT;
CREATE TRIGGER redaction_is_never_changed BEFORE UPDATE ON redaction
BEGIN SELECT RAISE(ABORT, 'redaction: a fact is never changed'); END;
CREATE TRIGGER redaction_is_never_removed BEFORE DELETE ON redaction
BEGIN SELECT RAISE(ABORT, 'redaction: a fact is never removed'); END;

CREATE TRIGGER session_is_only_redacted BEFORE UPDATE ON session
WHEN NOT EXISTS (SELECT 1 FROM redaction WHERE session = old.session)
  OR new.client_name <> '' OR new.client_reference <> '' OR new.place <> ''
  OR (new.session, new.id, new.revision, new.replaces, new.revision_reason, new.revised_by, new.revised_at,
      new.import_hash, new.imported_at, new.load_unit, new.length_unit, new.weighed_at, new.weighed_ms,
      new.technician, new.purpose, new.client_uid, new.surface, new.wind, new.conditions_note, new.fuel_percent,
      new.occupants, new.carried_note, new.placement_u, new.height_sensitivity_u, new.unmeasured_height_u_mm,
      new.unmeasured_height_u_figure, new.unmeasured_height_u_unit, new.raised_kg_per_mm, new.anonymous_gain_u)
    IS NOT (old.session, old.id, old.revision, old.replaces, old.revision_reason, old.revised_by, old.revised_at,
      old.import_hash, old.imported_at, old.load_unit, old.length_unit, old.weighed_at, old.weighed_ms,
      old.technician, old.purpose, old.client_uid, old.surface, old.wind, old.conditions_note, old.fuel_percent,
      old.occupants, old.carried_note, old.placement_u, old.height_sensitivity_u, old.unmeasured_height_u_mm,
      old.unmeasured_height_u_figure, old.unmeasured_height_u_unit, old.raised_kg_per_mm, old.anonymous_gain_u)
BEGIN SELECT RAISE(ABORT, 'session: a fact is never changed'); END;
CREATE TRIGGER session_is_never_removed BEFORE DELETE ON session
BEGIN SELECT RAISE(ABORT, 'session: a fact is never removed'); END;
DROP TRIGGER tow_vehicle_is_never_changed;
CREATE TRIGGER tow_vehicle_is_only_redacted BEFORE UPDATE ON tow_vehicle
WHEN NOT EXISTS (SELECT 1 FROM redaction WHERE session = old.session)
  OR new.registration <> '' OR new.vin <> ''
  OR (new.session, new.uid, new.label, new.wheelbase_u_mm, new.wheelbase_u_figure, new.wheelbase_u_unit,
      new.overhang_mm, new.overhang_figure, new.overhang_unit, new.overhang_u_mm, new.overhang_u_figure,
      new.overhang_u_unit, new.cg_height_mm, new.cg_height_figure, new.cg_height_unit, new.cg_height_u_mm,
      new.cg_height_u_figure, new.cg_height_u_unit)
    IS NOT (old.session, old.uid, old.label, old.wheelbase_u_mm, old.wheelbase_u_figure, old.wheelbase_u_unit,
      old.overhang_mm, old.overhang_figure, old.overhang_unit, old.overhang_u_mm, old.overhang_u_figure,
      old.overhang_u_unit, old.cg_height_mm, old.cg_height_figure, old.cg_height_unit, old.cg_height_u_mm,
      old.cg_height_u_figure, old.cg_height_u_unit)
BEGIN SELECT RAISE(ABORT, 'tow_vehicle: a fact is never changed'); END;
DROP TRIGGER trailer_is_never_changed;
CREATE TRIGGER trailer_is_only_redacted BEFORE UPDATE ON trailer
WHEN NOT EXISTS (SELECT 1 FROM redaction WHERE session = old.session)
  OR new.registration <> ''
  OR (new.session, new.uid, new.label, new.axles, new.suspension, new.self_supporting, new.coupling_to_axles_mm,
      new.coupling_to_axles_figure, new.coupling_to_axles_unit, new.coupling_to_axles_u_mm,
      new.coupling_to_axles_u_figure, new.coupling_to_axles_u_unit, new.coupling_to_jockey_mm,
      new.coupling_to_jockey_figure, new.coupling_to_jockey_unit, new.coupling_to_jockey_u_mm,
      new.coupling_to_jockey_u_figure, new.coupling_to_jockey_u_unit)
    IS NOT (old.session, old.uid, old.label, old.axles, old.suspension, old.self_supporting, old.coupling_to_axles_mm,
      old.coupling_to_axles_figure, old.coupling_to_axles_unit, old.coupling_to_axles_u_mm,
      old.coupling_to_axles_u_figure, old.coupling_to_axles_u_unit, old.coupling_to_jockey_mm,
      old.coupling_to_jockey_figure, old.coupling_to_jockey_unit, old.coupling_to_jockey_u_mm,
      old.coupling_to_jockey_u_figure, old.coupling_to_jockey_u_unit)
BEGIN SELECT RAISE(ABORT, 'trailer: a fact is never changed'); END;

CREATE TABLE check_weight (
  -- A known mass put on a scale of the session to see that it still weighs true.
  session INTEGER NOT NULL,  -- the session it belongs to
  scale INTEGER NOT NULL,  -- scale.seq
  seq INTEGER NOT NULL CHECK (seq >= 1),  -- its number under that scale, from 1
  mass_kg REAL NOT NULL CHECK (mass_kg BETWEEN 0 AND 1e9),  -- the known mass, kg
  mass_figure REAL NOT NULL CHECK (mass_figure BETWEEN 0 AND 1e9),  -- figure as entered
  mass_unit TEXT NOT NULL CHECK (mass_unit IN ('kg', 'lb')),  -- its unit
  load_kg REAL NOT NULL CHECK (load_kg BETWEEN -1e9 AND 1e9),  -- what the scale showed, kg
  load_figure REAL NOT NULL CHECK (load_figure BETWEEN -1e9 AND 1e9),  -- figure as entered
  load_unit TEXT NOT NULL CHECK (load_unit IN ('kg', 'lb')),  -- its unit
  taken_at TEXT NOT NULL,  -- when it was taken
  PRIMARY KEY (session, scale, seq),
  FOREIGN KEY (session, scale) REFERENCES scale (session, seq)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER check_weight_is_never_changed BEFORE UPDATE ON check_weight
BEGIN SELECT RAISE(ABORT, 'check_weight: a fact is never changed'); END;
CREATE TRIGGER check_weight_is_never_removed BEFORE DELETE ON check_weight
BEGIN SELECT RAISE(ABORT, 'check_weight: a fact is never removed'); END;

CREATE TABLE attachment (
  -- A photograph or paper that belongs to a session, to one of its limits or to one of its readings. Its bytes stand in
  -- attached_file; a file's own name is not kept, since it may name a person.
  session INTEGER NOT NULL REFERENCES session (session),  -- the session it belongs to
  seq INTEGER NOT NULL CHECK (seq >= 1),  -- its number in the session, from 1
  rig_limit INTEGER,  -- rig_limit.seq where it shows where a limit was read; NULL otherwise
  reading INTEGER,  -- reading.seq where it shows a display; NULL otherwise
  what TEXT NOT NULL,  -- what it shows: compliance plate, …
  media_type TEXT NOT NULL CHECK (media_type <> ''),  -- image/jpeg, …, from the file's first bytes
  size INTEGER NOT NULL CHECK (size >= 0),  -- length of the file, bytes
  sha256 TEXT NOT NULL CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),  -- SHA-256 of the file
  attached_by TEXT NOT NULL,  -- who attached it
  attached_at TEXT NOT NULL,  -- when, UTC
  PRIMARY KEY (session, seq),
  FOREIGN KEY (session, rig_limit) REFERENCES rig_limit (session, seq),
  FOREIGN KEY (session, reading) REFERENCES reading (session, seq),
  CHECK (rig_limit IS NULL OR reading IS NULL)
) STRICT, WITHOUT ROWID;
CREATE INDEX attachment_by_file ON attachment (sha256);
CREATE TRIGGER attachment_is_never_changed BEFORE UPDATE ON attachment
BEGIN SELECT RAISE(ABORT, 'attachment: a fact is never changed'); END;
CREATE TRIGGER attachment_is_never_removed BEFORE DELETE ON attachment
BEGIN SELECT RAISE(ABORT, 'attachment: a fact is never removed'); END;

CREATE TABLE attached_file (
  -- The bytes of attachments, each file once however often it is attached.
  -- SHA-256 of the bytes:
  sha256 TEXT NOT NULL PRIMARY KEY CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
  bytes BLOB NOT NULL  -- the file
) STRICT;
CREATE TRIGGER attached_file_is_never_changed BEFORE UPDATE ON attached_file
BEGIN SELECT RAISE(ABORT, 'attached_file: a fact is never changed'); END;
CREATE TRIGGER attached_file_is_only_redacted BEFORE DELETE ON attached_file
WHEN EXISTS (SELECT 1 FROM attachment AS a WHERE a.sha256 = old.sha256
  AND NOT EXISTS (SELECT 1 FROM redaction AS r WHERE r.session = a.session))
BEGIN SELECT RAISE(ABORT, 'attached_file: a fact is never removed'); END;

CREATE TABLE seal (
  -- A seal over one revision, linked to the seal before it in the store where it was set. Seals that came in by a merge
  -- keep their origin and number. The head is computed from the columns beside it (src/store/seal.hpp).
  head TEXT NOT NULL PRIMARY KEY CHECK (length(head) = 64 AND head NOT GLOB '*[^0-9a-f]*'),  -- SHA-256 of this seal
  -- store.origin where it was set:
  origin TEXT NOT NULL CHECK (length(origin) = 32 AND origin NOT GLOB '*[^0-9a-f]*'),
  number INTEGER NOT NULL CHECK (number >= 1),  -- its number in that store, from 1
  previous TEXT NOT NULL,  -- head of the seal before it there; '' for the first
  session INTEGER NOT NULL REFERENCES session (session),  -- the session it covers, in this file
  session_id TEXT NOT NULL,  -- session.id
  revision INTEGER NOT NULL,  -- session.revision
  form INTEGER NOT NULL CHECK (form >= 1),  -- which canonical form content_hash is taken over
  -- SHA-256 of the canonical content:
  content_hash TEXT NOT NULL CHECK (length(content_hash) = 64 AND content_hash NOT GLOB '*[^0-9a-f]*'),
  -- SHA-256 of salt and identity:
  identity_hash TEXT NOT NULL CHECK (length(identity_hash) = 64 AND identity_hash NOT GLOB '*[^0-9a-f]*'),
  result_hash TEXT NOT NULL,  -- SHA-256 of the issued result; '' where the session has no solution
  engine TEXT NOT NULL,  -- version of the program that computed the result
  build TEXT NOT NULL,  -- how that program was built; the same build gives the same digits
  sealed_by TEXT NOT NULL CHECK (sealed_by <> ''),  -- who sealed it
  sealed_at TEXT NOT NULL  -- when, UTC
) STRICT, WITHOUT ROWID;
CREATE INDEX seal_by_session ON seal (session);
CREATE INDEX seal_by_number ON seal (origin, number);
CREATE TRIGGER seal_is_never_changed BEFORE UPDATE ON seal
BEGIN SELECT RAISE(ABORT, 'seal: a fact is never changed'); END;
CREATE TRIGGER seal_is_never_removed BEFORE DELETE ON seal
BEGIN SELECT RAISE(ABORT, 'seal: a fact is never removed'); END;
CREATE TRIGGER seal_is_never_replaced BEFORE INSERT ON seal WHEN EXISTS (SELECT 1 FROM seal WHERE head = new.head)
BEGIN SELECT RAISE(ABORT, 'seal: a fact is never changed'); END;

CREATE TABLE identity_salt (
  -- What makes a seal's identity_hash impossible to guess back. Erased with the identity.
  head TEXT NOT NULL PRIMARY KEY REFERENCES seal (head),  -- the seal
  -- 32 hexadecimal digits drawn at random:
  salt TEXT NOT NULL CHECK (length(salt) = 32 AND salt NOT GLOB '*[^0-9a-f]*')
) STRICT, WITHOUT ROWID;
CREATE TRIGGER identity_salt_is_never_changed BEFORE UPDATE ON identity_salt
BEGIN SELECT RAISE(ABORT, 'identity_salt: a fact is never changed'); END;
CREATE TRIGGER identity_salt_is_only_redacted BEFORE DELETE ON identity_salt
WHEN NOT EXISTS (SELECT 1 FROM seal AS s JOIN redaction AS r ON r.session = s.session WHERE s.head = old.head)
BEGIN SELECT RAISE(ABORT, 'identity_salt: a fact is never removed'); END;

CREATE TABLE sealed_copy (
  -- The canonical content as it was sealed, so that verify can say which figure was changed, and from what.
  -- its SHA-256:
  content_hash TEXT NOT NULL PRIMARY KEY CHECK (length(content_hash) = 64 AND content_hash NOT GLOB '*[^0-9a-f]*'),
  size INTEGER NOT NULL CHECK (size BETWEEN 1 AND 1073741824),  -- its length, bytes
  deflated BLOB NOT NULL  -- the bytes, deflated (RFC 1950)
) STRICT;
CREATE TRIGGER sealed_copy_is_never_changed BEFORE UPDATE ON sealed_copy
BEGIN SELECT RAISE(ABORT, 'sealed_copy: a fact is never changed'); END;
CREATE TRIGGER sealed_copy_is_never_removed BEFORE DELETE ON sealed_copy
BEGIN SELECT RAISE(ABORT, 'sealed_copy: a fact is never removed'); END;

CREATE TABLE issued_result (
  -- The result that was issued with a seal: steelyard-result/1.
  -- its SHA-256:
  result_hash TEXT NOT NULL PRIMARY KEY CHECK (length(result_hash) = 64 AND result_hash NOT GLOB '*[^0-9a-f]*'),
  size INTEGER NOT NULL CHECK (size BETWEEN 1 AND 1073741824),  -- its length, bytes
  deflated BLOB NOT NULL  -- the JSON text, deflated (RFC 1950)
) STRICT;
CREATE TRIGGER issued_result_is_never_changed BEFORE UPDATE ON issued_result
BEGIN SELECT RAISE(ABORT, 'issued_result: a fact is never changed'); END;
CREATE TRIGGER issued_result_is_never_removed BEFORE DELETE ON issued_result
BEGIN SELECT RAISE(ABORT, 'issued_result: a fact is never removed'); END;

CREATE TABLE register_entry (
  -- What is noted of a client, a scale or a vehicle apart from any session. The latest note of a field stands.
  kind TEXT NOT NULL CHECK (kind IN ('client', 'scale', 'tow_vehicle', 'trailer')),  -- what the uid names
  uid TEXT NOT NULL CHECK (uid <> ''),  -- the uid that sheets use
  field TEXT NOT NULL CHECK (field IN ('name', 'contact', 'label', 'registration', 'vin', 'serial', 'certificate',
    'calibrated', 'due', 'note')),  -- what is noted
  value TEXT NOT NULL,  -- the note; '' takes an earlier one back
  noted_at TEXT NOT NULL,  -- when, UTC, to the millisecond
  noted_by TEXT NOT NULL,  -- who noted it
  -- SHA-256 of the columns before it (src/store/register.hpp), against decay of the file:
  row_hash TEXT NOT NULL CHECK (length(row_hash) = 64 AND row_hash NOT GLOB '*[^0-9a-f]*'),
  PRIMARY KEY (kind, uid, field, value, noted_at, noted_by)
) STRICT, WITHOUT ROWID;

CREATE TABLE client_redaction (
  -- A client whose notes in the register were erased. Notes made later stay.
  uid TEXT NOT NULL CHECK (uid <> ''),  -- the client
  redacted_at TEXT NOT NULL,  -- when, UTC, to the millisecond
  why TEXT NOT NULL CHECK (why <> ''),  -- the reason
  redacted_by TEXT NOT NULL,  -- who erased them
  -- SHA-256 of the columns before it (src/store/redact.hpp), against decay of the file:
  row_hash TEXT NOT NULL CHECK (length(row_hash) = 64 AND row_hash NOT GLOB '*[^0-9a-f]*'),
  PRIMARY KEY (uid, redacted_at)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER client_redaction_is_never_changed BEFORE UPDATE ON client_redaction
BEGIN SELECT RAISE(ABORT, 'client_redaction: a fact is never changed'); END;
CREATE TRIGGER client_redaction_is_never_removed BEFORE DELETE ON client_redaction
BEGIN SELECT RAISE(ABORT, 'client_redaction: a fact is never removed'); END;
CREATE TRIGGER register_entry_is_never_changed BEFORE UPDATE ON register_entry
BEGIN SELECT RAISE(ABORT, 'register_entry: a fact is never changed'); END;
CREATE TRIGGER register_entry_is_only_redacted BEFORE DELETE ON register_entry
WHEN old.kind <> 'client'
  OR NOT EXISTS (SELECT 1 FROM client_redaction AS r WHERE r.uid = old.uid AND r.redacted_at >= old.noted_at)
BEGIN SELECT RAISE(ABORT, 'register_entry: a fact is never removed'); END;

-- Nothing is added to a sealed revision.
CREATE TRIGGER session_not_after_the_seal BEFORE INSERT ON session
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'session: the session is sealed; amend it'); END;
CREATE TRIGGER modification_not_after_the_seal BEFORE INSERT ON modification
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'modification: the session is sealed; amend it'); END;
CREATE TRIGGER scale_not_after_the_seal BEFORE INSERT ON scale
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'scale: the session is sealed; amend it'); END;
CREATE TRIGGER check_weight_not_after_the_seal BEFORE INSERT ON check_weight
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'check_weight: the session is sealed; amend it'); END;
CREATE TRIGGER tow_vehicle_not_after_the_seal BEFORE INSERT ON tow_vehicle
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'tow_vehicle: the session is sealed; amend it'); END;
CREATE TRIGGER axle_not_after_the_seal BEFORE INSERT ON axle
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'axle: the session is sealed; amend it'); END;
CREATE TRIGGER trailer_not_after_the_seal BEFORE INSERT ON trailer
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'trailer: the session is sealed; amend it'); END;
CREATE TRIGGER rig_limit_not_after_the_seal BEFORE INSERT ON rig_limit
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'rig_limit: the session is sealed; amend it'); END;
CREATE TRIGGER state_not_after_the_seal BEFORE INSERT ON state
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'state: the session is sealed; amend it'); END;
CREATE TRIGGER ride_height_not_after_the_seal BEFORE INSERT ON ride_height
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'ride_height: the session is sealed; amend it'); END;
CREATE TRIGGER reading_not_after_the_seal BEFORE INSERT ON reading
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'reading: the session is sealed; amend it'); END;
CREATE TRIGGER reading_scale_not_after_the_seal BEFORE INSERT ON reading_scale
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'reading_scale: the session is sealed; amend it'); END;
CREATE TRIGGER strike_not_after_the_seal BEFORE INSERT ON strike
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'strike: the session is sealed; amend it'); END;
CREATE TRIGGER extra_not_after_the_seal BEFORE INSERT ON extra
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'extra: the session is sealed; amend it'); END;
CREATE TRIGGER attachment_not_after_the_seal BEFORE INSERT ON attachment
WHEN EXISTS (SELECT 1 FROM seal WHERE session = new.session)
BEGIN SELECT RAISE(ABORT, 'attachment: the session is sealed; amend it'); END;
