-- The store as version 1 makes it.
--
-- Units: kg and mm, in the columns whose names end so. Beside each stand the figure and the unit as they were
-- entered, from which the program works; the converted column is for queries and must agree with them.
-- A quantity that was not given is NULL in all its columns. A text that was not given is ''.
-- Times are ISO 8601 with an offset, dates YYYY-MM-DD, both as written; times the program takes itself are UTC.
-- Bounds are far beyond any rig: they keep out infinities and damaged figures; the sheet's rules are narrower.
--
-- Everything here is a fact: rows are added and never changed or removed, and triggers hold to that (against a
-- REPLACE only with recursive_triggers, which the program sets: a guard on INSERT costs 40 % of the rate). What stands
-- in a session is keyed by the session and a number in it, so that a reading, its state, its scales and its strike
-- cannot belong to different sessions, and a session lies together in the file.
-- A released migration is never edited: opening compares the file with this text.

CREATE TABLE migration (
  -- Which schema changes made this file what it is.
  number INTEGER PRIMARY KEY CHECK (number >= 1),  -- the migration's number; the highest is the file's user_version
  name TEXT NOT NULL,  -- the migration's file name without its ending
  applied_at TEXT NOT NULL,  -- when it ran, UTC
  program_version TEXT NOT NULL  -- version of the program that ran it
) STRICT;
CREATE TRIGGER migration_is_never_changed BEFORE UPDATE ON migration
BEGIN SELECT RAISE(ABORT, 'migration: a fact is never changed'); END;
CREATE TRIGGER migration_is_never_removed BEFORE DELETE ON migration
BEGIN SELECT RAISE(ABORT, 'migration: a fact is never removed'); END;

CREATE TABLE position (
  -- Every place a scale can stand, and what it stands for. The words of the session sheet.
  position TEXT NOT NULL PRIMARY KEY,  -- the word: tow.1.left, trailer.2, coupling, …
  -- what the scale carries there:
  extent TEXT NOT NULL CHECK (extent IN ('wheel', 'axle', 'vehicle', 'coupling', 'jockey')),
  vehicle TEXT CHECK (vehicle IN ('tow', 'trailer')),  -- whose wheel or axle; NULL for a support
  axle INTEGER CHECK (axle BETWEEN 1 AND 20),  -- counted from the front; NULL for a whole vehicle or a support
  side TEXT CHECK (side IN ('left', 'right'))  -- of a wheel end; NULL otherwise
) STRICT, WITHOUT ROWID;
CREATE TRIGGER position_is_never_changed BEFORE UPDATE ON position
BEGIN SELECT RAISE(ABORT, 'position: a fact is never changed'); END;
CREATE TRIGGER position_is_never_removed BEFORE DELETE ON position
BEGIN SELECT RAISE(ABORT, 'position: a fact is never removed'); END;

WITH RECURSIVE axles (axle) AS (SELECT 1 UNION ALL SELECT axle + 1 FROM axles WHERE axle < 20),
  vehicles (vehicle) AS (VALUES ('tow'), ('trailer')), sides (side) AS (VALUES ('left'), ('right'))
INSERT INTO position (position, extent, vehicle, axle, side)
SELECT 'coupling', 'coupling', NULL, NULL, NULL UNION ALL
SELECT 'jockey', 'jockey', NULL, NULL, NULL UNION ALL
SELECT vehicle, 'vehicle', vehicle, NULL, NULL FROM vehicles UNION ALL
SELECT vehicle || '.' || axle, 'axle', vehicle, axle, NULL FROM vehicles, axles UNION ALL
SELECT vehicle || '.' || axle || '.' || side, 'wheel', vehicle, axle, side FROM vehicles, axles, sides;

CREATE TABLE limit_name (
  -- Every quantity a limit can be set on. The words of the session sheet.
  name TEXT NOT NULL PRIMARY KEY,  -- the word: tow_gross, tow_axle.2, wheel.trailer.1, …
  -- kind of the limit's value: a load, a plain ratio, or a force in kN:
  measure TEXT NOT NULL CHECK (measure IN ('load', 'ratio', 'force'))
) STRICT, WITHOUT ROWID;
CREATE TRIGGER limit_name_is_never_changed BEFORE UPDATE ON limit_name
BEGIN SELECT RAISE(ABORT, 'limit_name: a fact is never changed'); END;
CREATE TRIGGER limit_name_is_never_removed BEFORE DELETE ON limit_name
BEGIN SELECT RAISE(ABORT, 'limit_name: a fact is never removed'); END;

WITH RECURSIVE axles (axle) AS (SELECT 1 UNION ALL SELECT axle + 1 FROM axles WHERE axle < 20)
INSERT INTO limit_name (name, measure)
SELECT 'tow_axle.' || axle, 'load' FROM axles UNION ALL
SELECT 'trailer_axle.' || axle, 'load' FROM axles UNION ALL
SELECT 'wheel.tow.' || axle, 'load' FROM axles UNION ALL
SELECT 'wheel.trailer.' || axle, 'load' FROM axles;
INSERT INTO limit_name (name, measure) VALUES
  ('tow_gross', 'load'), ('tow_front', 'load'), ('tow_rear', 'load'), ('tow_front_minimum_share', 'ratio'),
  ('combination', 'load'), ('trailer_gross', 'load'), ('towed_mass', 'load'), ('towed_mass_unbraked', 'load'),
  ('trailer_axles', 'load'), ('coupling', 'load'), ('coupling_minimum', 'load'),
  ('coupling_share_minimum', 'ratio'), ('coupling_share_maximum', 'ratio'), ('mass_ratio', 'ratio'),
  ('front_axle_restoration_minimum', 'ratio'), ('front_axle_restoration_maximum', 'ratio'),
  ('side_difference', 'ratio'), ('d_value', 'force'), ('dc_value', 'force');

CREATE TABLE session (
  -- One weighing session: who, when, where, and what was carried. One row a revision.
  session INTEGER PRIMARY KEY,  -- key within this file
  id TEXT NOT NULL CHECK (id <> ''),  -- the session's id in every file; given, or derived from its content
  -- 1 as first imported; the highest of an id is the one that stands:
  revision INTEGER NOT NULL CHECK (revision >= 1),
  replaces TEXT NOT NULL,  -- what an amended sheet replaces; '' otherwise
  revision_reason TEXT NOT NULL,  -- why it was amended; '' where nobody said
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
  UNIQUE (id, revision),
  CHECK ((unmeasured_height_u_mm IS NULL) + (unmeasured_height_u_figure IS NULL)
     + (unmeasured_height_u_unit IS NULL) IN (0, 3))
) STRICT;
CREATE TRIGGER session_is_never_changed BEFORE UPDATE ON session
BEGIN SELECT RAISE(ABORT, 'session: a fact is never changed'); END;
CREATE TRIGGER session_is_never_removed BEFORE DELETE ON session
BEGIN SELECT RAISE(ABORT, 'session: a fact is never removed'); END;

CREATE TABLE modification (
  -- Something fitted to the rig.
  session INTEGER NOT NULL REFERENCES session (session),  -- the session it belongs to
  seq INTEGER NOT NULL CHECK (seq >= 1),  -- its number in the sheet, from 1
  what TEXT NOT NULL,  -- what was fitted
  mass_kg REAL CHECK (mass_kg BETWEEN -1e9 AND 1e9),  -- its declared mass; negative where something was taken off, kg
  mass_figure REAL CHECK (mass_figure BETWEEN -1e9 AND 1e9),  -- figure as entered
  mass_unit TEXT CHECK (mass_unit IN ('kg', 'lb')),  -- its unit
  at_mm REAL CHECK (at_mm BETWEEN -1e9 AND 1e9),  -- how far behind the first axle; negative before it, mm
  at_figure REAL CHECK (at_figure BETWEEN -1e9 AND 1e9), at_unit TEXT CHECK (at_unit IN ('mm', 'in')),  -- as entered
  certificate TEXT NOT NULL,  -- its certificate or approval
  PRIMARY KEY (session, seq),
  CHECK ((mass_kg IS NULL) + (mass_figure IS NULL) + (mass_unit IS NULL) IN (0, 3)),
  CHECK ((at_mm IS NULL) + (at_figure IS NULL) + (at_unit IS NULL) IN (0, 3))
) STRICT, WITHOUT ROWID;
CREATE TRIGGER modification_is_never_changed BEFORE UPDATE ON modification
BEGIN SELECT RAISE(ABORT, 'modification: a fact is never changed'); END;
CREATE TRIGGER modification_is_never_removed BEFORE DELETE ON modification
BEGIN SELECT RAISE(ABORT, 'modification: a fact is never removed'); END;

CREATE TABLE scale (
  -- A scale as it was used in one session. The same uid elsewhere is the same scale.
  session INTEGER NOT NULL REFERENCES session (session),  -- the session it belongs to
  seq INTEGER NOT NULL CHECK (seq >= 1),  -- its number in the sheet, from 1
  id TEXT NOT NULL CHECK (id <> ''),  -- its short name in the session
  uid TEXT NOT NULL,  -- the same scale in other sessions and stores
  serial TEXT NOT NULL,  -- maker's serial number
  capacity_kg REAL CHECK (capacity_kg BETWEEN 0 AND 1e9),  -- largest load it may carry, kg
  capacity_figure REAL CHECK (capacity_figure BETWEEN 0 AND 1e9),  -- figure as entered
  capacity_unit TEXT CHECK (capacity_unit IN ('kg', 'lb')),  -- its unit
  division_kg REAL CHECK (division_kg BETWEEN 0 AND 1e9),  -- scale interval d, kg
  division_figure REAL CHECK (division_figure BETWEEN 0 AND 1e9),  -- figure as entered
  division_unit TEXT CHECK (division_unit IN ('kg', 'lb')),  -- its unit
  repeatability_kg REAL CHECK (repeatability_kg BETWEEN 0 AND 1e9),  -- standard deviation of repeated readings, kg
  repeatability_figure REAL CHECK (repeatability_figure BETWEEN 0 AND 1e9),  -- figure as entered
  repeatability_unit TEXT CHECK (repeatability_unit IN ('kg', 'lb')),  -- its unit
  zero_before_kg REAL CHECK (zero_before_kg BETWEEN -1e9 AND 1e9),  -- what it showed unloaded before the session, kg
  zero_before_figure REAL CHECK (zero_before_figure BETWEEN -1e9 AND 1e9),  -- figure as entered
  zero_before_unit TEXT CHECK (zero_before_unit IN ('kg', 'lb')),  -- its unit
  zero_after_kg REAL CHECK (zero_after_kg BETWEEN -1e9 AND 1e9),  -- what it showed unloaded after the session, kg
  zero_after_figure REAL CHECK (zero_after_figure BETWEEN -1e9 AND 1e9),  -- figure as entered
  zero_after_unit TEXT CHECK (zero_after_unit IN ('kg', 'lb')),  -- its unit
  gain REAL CHECK (gain BETWEEN -1e3 AND 1e3),  -- known relative gain error from its certificate (1)
  gain_u REAL CHECK (gain_u BETWEEN 0 AND 1e3),  -- standard uncertainty of its gain, relative (1)
  accuracy_class TEXT CHECK (accuracy_class IN ('I', 'II', 'III', 'IIII')),  -- class after OIML R 76-1
  certificate TEXT NOT NULL,  -- calibration certificate
  calibrated TEXT NOT NULL,  -- date of calibration
  due TEXT NOT NULL,  -- date its calibration runs out
  PRIMARY KEY (session, seq),
  UNIQUE (session, id),
  CHECK ((capacity_kg IS NULL) + (capacity_figure IS NULL) + (capacity_unit IS NULL) IN (0, 3)),
  CHECK ((division_kg IS NULL) + (division_figure IS NULL) + (division_unit IS NULL) IN (0, 3)),
  CHECK ((repeatability_kg IS NULL) + (repeatability_figure IS NULL) + (repeatability_unit IS NULL) IN (0, 3)),
  CHECK ((zero_before_kg IS NULL) + (zero_before_figure IS NULL) + (zero_before_unit IS NULL) IN (0, 3)),
  CHECK ((zero_after_kg IS NULL) + (zero_after_figure IS NULL) + (zero_after_unit IS NULL) IN (0, 3))
) STRICT, WITHOUT ROWID;
CREATE TRIGGER scale_is_never_changed BEFORE UPDATE ON scale
BEGIN SELECT RAISE(ABORT, 'scale: a fact is never changed'); END;
CREATE TRIGGER scale_is_never_removed BEFORE DELETE ON scale
BEGIN SELECT RAISE(ABORT, 'scale: a fact is never removed'); END;

CREATE TABLE tow_vehicle (
  -- The tow vehicle of a session. The same uid elsewhere is the same vehicle.
  session INTEGER PRIMARY KEY REFERENCES session (session),  -- the session it belongs to
  uid TEXT NOT NULL,  -- the same vehicle in other sessions and stores
  label TEXT NOT NULL,  -- what its people call it
  registration TEXT NOT NULL,  -- registration
  vin TEXT NOT NULL,  -- vehicle identification number
  wheelbase_u_mm REAL CHECK (wheelbase_u_mm BETWEEN 0 AND 1e9),  -- standard uncertainty of each axle's place, mm
  wheelbase_u_figure REAL CHECK (wheelbase_u_figure BETWEEN 0 AND 1e9),  -- figure as entered
  wheelbase_u_unit TEXT CHECK (wheelbase_u_unit IN ('mm', 'in')),  -- its unit
  -- rear group's centre to the coupling, rearward positive, mm:
  overhang_mm REAL CHECK (overhang_mm BETWEEN -1e9 AND 1e9),
  overhang_figure REAL CHECK (overhang_figure BETWEEN -1e9 AND 1e9),  -- figure as entered
  overhang_unit TEXT CHECK (overhang_unit IN ('mm', 'in')),  -- its unit
  overhang_u_mm REAL CHECK (overhang_u_mm BETWEEN 0 AND 1e9),  -- its standard uncertainty, mm
  overhang_u_figure REAL CHECK (overhang_u_figure BETWEEN 0 AND 1e9),  -- figure as entered
  overhang_u_unit TEXT CHECK (overhang_u_unit IN ('mm', 'in')),  -- its unit
  -- height of the centre of gravity above the ground, mm:
  cg_height_mm REAL CHECK (cg_height_mm BETWEEN -1e9 AND 1e9),
  cg_height_figure REAL CHECK (cg_height_figure BETWEEN -1e9 AND 1e9),  -- figure as entered
  cg_height_unit TEXT CHECK (cg_height_unit IN ('mm', 'in')),  -- its unit
  cg_height_u_mm REAL CHECK (cg_height_u_mm BETWEEN 0 AND 1e9),  -- its standard uncertainty, mm
  cg_height_u_figure REAL CHECK (cg_height_u_figure BETWEEN 0 AND 1e9),  -- figure as entered
  cg_height_u_unit TEXT CHECK (cg_height_u_unit IN ('mm', 'in')),  -- its unit
  CHECK ((wheelbase_u_mm IS NULL) + (wheelbase_u_figure IS NULL) + (wheelbase_u_unit IS NULL) IN (0, 3)),
  CHECK ((overhang_mm IS NULL) + (overhang_figure IS NULL) + (overhang_unit IS NULL) IN (0, 3)),
  CHECK ((overhang_u_mm IS NULL) + (overhang_u_figure IS NULL) + (overhang_u_unit IS NULL) IN (0, 3)),
  CHECK ((cg_height_mm IS NULL) + (cg_height_figure IS NULL) + (cg_height_unit IS NULL) IN (0, 3)),
  CHECK ((cg_height_u_mm IS NULL) + (cg_height_u_figure IS NULL) + (cg_height_u_unit IS NULL) IN (0, 3))
) STRICT;
CREATE TRIGGER tow_vehicle_is_never_changed BEFORE UPDATE ON tow_vehicle
BEGIN SELECT RAISE(ABORT, 'tow_vehicle: a fact is never changed'); END;
CREATE TRIGGER tow_vehicle_is_never_removed BEFORE DELETE ON tow_vehicle
BEGIN SELECT RAISE(ABORT, 'tow_vehicle: a fact is never removed'); END;

CREATE TABLE axle (
  -- An axle of the tow vehicle.
  session INTEGER NOT NULL REFERENCES tow_vehicle (session),  -- the session it belongs to
  seq INTEGER NOT NULL CHECK (seq BETWEEN 1 AND 20),  -- counted from the front
  at_mm REAL NOT NULL CHECK (at_mm BETWEEN -1e9 AND 1e9),  -- how far behind the vehicle's origin, mm
  at_figure REAL NOT NULL CHECK (at_figure BETWEEN -1e9 AND 1e9),  -- figure as entered
  at_unit TEXT NOT NULL CHECK (at_unit IN ('mm', 'in')),  -- its unit
  axle_group TEXT NOT NULL CHECK (axle_group IN ('front', 'rear')),  -- which group it belongs to
  PRIMARY KEY (session, seq)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER axle_is_never_changed BEFORE UPDATE ON axle
BEGIN SELECT RAISE(ABORT, 'axle: a fact is never changed'); END;
CREATE TRIGGER axle_is_never_removed BEFORE DELETE ON axle
BEGIN SELECT RAISE(ABORT, 'axle: a fact is never removed'); END;

CREATE TABLE trailer (
  -- The trailer of a session; none for a vehicle alone. The same uid elsewhere is the same trailer.
  session INTEGER PRIMARY KEY REFERENCES session (session),  -- the session it belongs to
  uid TEXT NOT NULL,  -- the same trailer in other sessions and stores
  label TEXT NOT NULL,  -- what its people call it
  registration TEXT NOT NULL,  -- registration
  axles INTEGER NOT NULL CHECK (axles BETWEEN 1 AND 20),  -- number of axles
  -- how its axles share; NULL where the sheet is silent:
  suspension TEXT CHECK (suspension IN ('single', 'independent', 'load_sharing')),
  -- stands level without its coupling: 1 yes, 0 no:
  self_supporting INTEGER NOT NULL CHECK (self_supporting IN (0, 1)),
  -- coupling to the centre of the axles, D, mm:
  coupling_to_axles_mm REAL CHECK (coupling_to_axles_mm BETWEEN -1e9 AND 1e9),
  coupling_to_axles_figure REAL CHECK (coupling_to_axles_figure BETWEEN -1e9 AND 1e9),  -- figure as entered
  coupling_to_axles_unit TEXT CHECK (coupling_to_axles_unit IN ('mm', 'in')),  -- its unit
  coupling_to_axles_u_mm REAL CHECK (coupling_to_axles_u_mm BETWEEN 0 AND 1e9),  -- its standard uncertainty, mm
  coupling_to_axles_u_figure REAL CHECK (coupling_to_axles_u_figure BETWEEN 0 AND 1e9),  -- figure as entered
  coupling_to_axles_u_unit TEXT CHECK (coupling_to_axles_u_unit IN ('mm', 'in')),  -- its unit
  -- coupling to the jockey wheel, j, mm:
  coupling_to_jockey_mm REAL CHECK (coupling_to_jockey_mm BETWEEN -1e9 AND 1e9),
  coupling_to_jockey_figure REAL CHECK (coupling_to_jockey_figure BETWEEN -1e9 AND 1e9),  -- figure as entered
  coupling_to_jockey_unit TEXT CHECK (coupling_to_jockey_unit IN ('mm', 'in')),  -- its unit
  coupling_to_jockey_u_mm REAL CHECK (coupling_to_jockey_u_mm BETWEEN 0 AND 1e9),  -- its standard uncertainty, mm
  coupling_to_jockey_u_figure REAL CHECK (coupling_to_jockey_u_figure BETWEEN 0 AND 1e9),  -- figure as entered
  coupling_to_jockey_u_unit TEXT CHECK (coupling_to_jockey_u_unit IN ('mm', 'in')),  -- its unit
  CHECK ((coupling_to_axles_mm IS NULL) + (coupling_to_axles_figure IS NULL)
     + (coupling_to_axles_unit IS NULL) IN (0, 3)),
  CHECK ((coupling_to_axles_u_mm IS NULL) + (coupling_to_axles_u_figure IS NULL)
     + (coupling_to_axles_u_unit IS NULL) IN (0, 3)),
  CHECK ((coupling_to_jockey_mm IS NULL) + (coupling_to_jockey_figure IS NULL)
     + (coupling_to_jockey_unit IS NULL) IN (0, 3)),
  CHECK ((coupling_to_jockey_u_mm IS NULL) + (coupling_to_jockey_u_figure IS NULL)
     + (coupling_to_jockey_u_unit IS NULL) IN (0, 3))
) STRICT;
CREATE TRIGGER trailer_is_never_changed BEFORE UPDATE ON trailer
BEGIN SELECT RAISE(ABORT, 'trailer: a fact is never changed'); END;
CREATE TRIGGER trailer_is_never_removed BEFORE DELETE ON trailer
BEGIN SELECT RAISE(ABORT, 'trailer: a fact is never removed'); END;

CREATE TABLE rig_limit (
  -- A limit of the rig, with who says so. Limits that disagree are all kept.
  session INTEGER NOT NULL REFERENCES session (session),  -- the session it belongs to
  seq INTEGER NOT NULL CHECK (seq >= 1),  -- its number in the sheet, from 1
  name TEXT NOT NULL REFERENCES limit_name (name),  -- what it limits
  part TEXT NOT NULL,  -- part of the coupling chain; '' where not given
  load_kg REAL CHECK (load_kg BETWEEN 0 AND 1e9),  -- value of a load limit, kg
  load_figure REAL CHECK (load_figure BETWEEN 0 AND 1e9),  -- figure as entered
  load_unit TEXT CHECK (load_unit IN ('kg', 'lb')),  -- its unit
  number REAL CHECK (number BETWEEN -1e9 AND 1e9),  -- value of a ratio (1) or a force (kN)
  load_index INTEGER CHECK (load_index BETWEEN 0 AND 1000),  -- tyre load-capacity index in place of a value
  tyres INTEGER NOT NULL CHECK (tyres BETWEEN 1 AND 2),  -- tyres at that wheel end
  against_kg REAL CHECK (against_kg BETWEEN 0 AND 1e9),  -- declared mass that a mass ratio is taken against, kg
  against_figure REAL CHECK (against_figure BETWEEN 0 AND 1e9),  -- figure as entered
  against_unit TEXT CHECK (against_unit IN ('kg', 'lb')),  -- its unit
  basis TEXT NOT NULL CHECK (basis IN ('whole', 'axles')),  -- the whole trailer, or its axles' load only
  -- only states with (1) or without (0) it; NULL for all:
  with_weight_distribution INTEGER CHECK (with_weight_distribution IN (0, 1)),
  advice INTEGER NOT NULL CHECK (advice IN (0, 1)),  -- guidance, not a rating: 1 yes, 0 no
  source TEXT NOT NULL,  -- who says so
  edition TEXT NOT NULL,  -- edition of the source
  jurisdiction TEXT NOT NULL,  -- where it holds
  read_by TEXT NOT NULL,  -- who read it off
  PRIMARY KEY (session, seq),
  CHECK ((load_kg IS NULL) + (load_figure IS NULL) + (load_unit IS NULL) IN (0, 3)),
  CHECK ((against_kg IS NULL) + (against_figure IS NULL) + (against_unit IS NULL) IN (0, 3))
) STRICT, WITHOUT ROWID;
CREATE TRIGGER rig_limit_is_never_changed BEFORE UPDATE ON rig_limit
BEGIN SELECT RAISE(ABORT, 'rig_limit: a fact is never changed'); END;
CREATE TRIGGER rig_limit_is_never_removed BEFORE DELETE ON rig_limit
BEGIN SELECT RAISE(ABORT, 'rig_limit: a fact is never removed'); END;

CREATE TABLE state (
  -- One arrangement of the rig in which readings were taken.
  session INTEGER NOT NULL REFERENCES session (session),  -- the session it belongs to
  seq INTEGER NOT NULL CHECK (seq >= 1),  -- its number in the sheet, from 1
  name TEXT NOT NULL CHECK (name <> ''),  -- its name in the session
  hitched INTEGER NOT NULL CHECK (hitched IN (0, 1)),  -- trailer on the coupling: 1 yes, 0 no
  -- weight-distributing hitch under tension: 1 yes, 0 no:
  weight_distribution INTEGER NOT NULL CHECK (weight_distribution IN (0, 1)),
  -- the state the rig goes on the road in, as marked: 1 yes, 0 no:
  travels INTEGER NOT NULL CHECK (travels IN (0, 1)),
  -- what holds the nose of the unhitched trailer; NULL where nothing is said:
  support TEXT CHECK (support IN ('coupling', 'jockey')),
  -- height of the coupling above the ground, mm:
  coupling_height_mm REAL CHECK (coupling_height_mm BETWEEN -1e9 AND 1e9),
  coupling_height_figure REAL CHECK (coupling_height_figure BETWEEN -1e9 AND 1e9),  -- figure as entered
  coupling_height_unit TEXT CHECK (coupling_height_unit IN ('mm', 'in')),  -- its unit
  coupling_height_u_mm REAL CHECK (coupling_height_u_mm BETWEEN 0 AND 1e9),  -- its standard uncertainty, mm
  coupling_height_u_figure REAL CHECK (coupling_height_u_figure BETWEEN 0 AND 1e9),  -- figure as entered
  coupling_height_u_unit TEXT CHECK (coupling_height_u_unit IN ('mm', 'in')),  -- its unit
  slope REAL CHECK (slope BETWEEN -1e9 AND 1e9),  -- slope of the ground, mm/m, nose-up positive
  slope_u REAL CHECK (slope_u BETWEEN 0 AND 1e9),  -- its standard uncertainty, mm/m
  PRIMARY KEY (session, seq),
  UNIQUE (session, name),
  CHECK (slope_u IS NULL OR slope IS NOT NULL),
  CHECK ((coupling_height_mm IS NULL) + (coupling_height_figure IS NULL) + (coupling_height_unit IS NULL) IN (0, 3)),
  CHECK ((coupling_height_u_mm IS NULL) + (coupling_height_u_figure IS NULL)
     + (coupling_height_u_unit IS NULL) IN (0, 3))
) STRICT, WITHOUT ROWID;
CREATE TRIGGER state_is_never_changed BEFORE UPDATE ON state
BEGIN SELECT RAISE(ABORT, 'state: a fact is never changed'); END;
CREATE TRIGGER state_is_never_removed BEFORE DELETE ON state
BEGIN SELECT RAISE(ABORT, 'state: a fact is never removed'); END;

CREATE TABLE ride_height (
  -- A height measured on the body in one state.
  session INTEGER NOT NULL,  -- the session it belongs to
  state INTEGER NOT NULL,  -- state.seq
  name TEXT NOT NULL CHECK (name <> ''),  -- where: front_left, …
  height_mm REAL NOT NULL CHECK (height_mm BETWEEN -1e9 AND 1e9),  -- the height, mm
  height_figure REAL NOT NULL CHECK (height_figure BETWEEN -1e9 AND 1e9),  -- figure as entered
  height_unit TEXT NOT NULL CHECK (height_unit IN ('mm', 'in')),  -- its unit
  PRIMARY KEY (session, state, name),
  FOREIGN KEY (session, state) REFERENCES state (session, seq)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER ride_height_is_never_changed BEFORE UPDATE ON ride_height
BEGIN SELECT RAISE(ABORT, 'ride_height: a fact is never changed'); END;
CREATE TRIGGER ride_height_is_never_removed BEFORE DELETE ON ride_height
BEGIN SELECT RAISE(ABORT, 'ride_height: a fact is never removed'); END;

CREATE TABLE reading (
  -- What a scale, or several together, showed at one place. Never changed: a wrong one is struck.
  session INTEGER NOT NULL,  -- the session it belongs to
  -- its number in the session, in the order of adding; also its order within its state:
  seq INTEGER NOT NULL CHECK (seq >= 1),
  state INTEGER NOT NULL,  -- state.seq
  id TEXT NOT NULL CHECK (id <> ''),  -- its name in the session
  position TEXT NOT NULL REFERENCES position (position),  -- where the scale stood
  load_kg REAL NOT NULL CHECK (load_kg BETWEEN 0 AND 1e9),  -- what was shown, kg
  load_figure REAL NOT NULL CHECK (load_figure BETWEEN 0 AND 1e9),  -- figure as entered
  load_unit TEXT NOT NULL CHECK (load_unit IN ('kg', 'lb')),  -- its unit
  -- how far this axle stood above the others of its vehicle; negative below, mm:
  raised_mm REAL CHECK (raised_mm BETWEEN -1e9 AND 1e9),
  raised_figure REAL CHECK (raised_figure BETWEEN -1e9 AND 1e9),  -- figure as entered
  raised_unit TEXT CHECK (raised_unit IN ('mm', 'in')),  -- its unit
  taken_at TEXT NOT NULL,  -- when it was taken
  recorded_at TEXT,  -- when it was added to a session already stored, UTC; NULL where it came with the sheet
  PRIMARY KEY (session, seq),
  UNIQUE (session, id),
  FOREIGN KEY (session, state) REFERENCES state (session, seq),
  CHECK ((raised_mm IS NULL) + (raised_figure IS NULL) + (raised_unit IS NULL) IN (0, 3))
) STRICT, WITHOUT ROWID;
CREATE TRIGGER reading_is_never_changed BEFORE UPDATE ON reading
BEGIN SELECT RAISE(ABORT, 'reading: a fact is never changed'); END;
CREATE TRIGGER reading_is_never_removed BEFORE DELETE ON reading
BEGIN SELECT RAISE(ABORT, 'reading: a fact is never removed'); END;

CREATE TABLE reading_scale (
  -- The scales under a reading, summed. None: the scale is not known.
  session INTEGER NOT NULL,  -- the session both belong to
  reading INTEGER NOT NULL,  -- reading.seq
  scale INTEGER NOT NULL,  -- scale.seq
  place INTEGER NOT NULL CHECK (place >= 1),  -- its number in the sheet's list, from 1
  PRIMARY KEY (session, reading, scale),
  FOREIGN KEY (session, reading) REFERENCES reading (session, seq),
  FOREIGN KEY (session, scale) REFERENCES scale (session, seq)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER reading_scale_is_never_changed BEFORE UPDATE ON reading_scale
BEGIN SELECT RAISE(ABORT, 'reading_scale: a fact is never changed'); END;
CREATE TRIGGER reading_scale_is_never_removed BEFORE DELETE ON reading_scale
BEGIN SELECT RAISE(ABORT, 'reading_scale: a fact is never removed'); END;

CREATE TABLE strike (
  -- A reading set aside. The reading stays on record and takes no part in the solution.
  session INTEGER NOT NULL,  -- the session it belongs to
  reading INTEGER NOT NULL,  -- reading.seq; struck once at most
  why TEXT NOT NULL CHECK (why <> ''),  -- the reason
  struck_by TEXT NOT NULL,  -- who set it aside
  struck_at TEXT NOT NULL,  -- when it was set aside
  recorded_at TEXT,  -- when it was added to a session already stored, UTC; NULL where it came with the sheet
  PRIMARY KEY (session, reading),
  FOREIGN KEY (session, reading) REFERENCES reading (session, seq)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER strike_is_never_changed BEFORE UPDATE ON strike
BEGIN SELECT RAISE(ABORT, 'strike: a fact is never changed'); END;
CREATE TRIGGER strike_is_never_removed BEFORE DELETE ON strike
BEGIN SELECT RAISE(ABORT, 'strike: a fact is never removed'); END;

CREATE TABLE extra (
  -- A key of the sheet beginning x-, kept as it came.
  session INTEGER NOT NULL REFERENCES session (session),  -- the session it belongs to
  seq INTEGER NOT NULL CHECK (seq >= 1),  -- its number in the session, from 1
  place TEXT NOT NULL,  -- path of the object it stood in; '' for the sheet itself
  key TEXT NOT NULL CHECK (key GLOB 'x-*'),  -- the key
  json TEXT NOT NULL CHECK (json <> ''),  -- its value as compact JSON text
  PRIMARY KEY (session, seq)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER extra_is_never_changed BEFORE UPDATE ON extra
BEGIN SELECT RAISE(ABORT, 'extra: a fact is never changed'); END;
CREATE TRIGGER extra_is_never_removed BEFORE DELETE ON extra
BEGIN SELECT RAISE(ABORT, 'extra: a fact is never removed'); END;
