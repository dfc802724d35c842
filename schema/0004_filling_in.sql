-- The store as version 4 makes it: what was empty can be filled in. While a session is weighed some of it is known only
-- later: what a scale shows unloaded afterwards, how high the coupling stands in a state, how the ground slopes. As long
-- as a revision has no seal these columns are filled in, once; every other change of a row is refused as before. No
-- table or column is new. Rules as in 0001_initial.sql; src/store/filling.hpp names the columns for the program.

DROP TRIGGER scale_is_never_changed;
CREATE TRIGGER scale_is_only_filled_in BEFORE UPDATE ON scale
WHEN EXISTS (SELECT 1 FROM seal WHERE session = old.session)
  -- zero_after must go from nothing to something; a CHECK keeps its three columns together
  OR old.zero_after_kg IS NOT NULL OR new.zero_after_kg IS NULL
  OR (new.session, new.seq, new.id, new.uid, new.serial, new.capacity_kg, new.capacity_figure, new.capacity_unit,
      new.division_kg, new.division_figure, new.division_unit, new.repeatability_kg, new.repeatability_figure,
      new.repeatability_unit, new.zero_before_kg, new.zero_before_figure, new.zero_before_unit, new.gain, new.gain_u,
      new.accuracy_class, new.certificate, new.calibrated, new.due)
    IS NOT (old.session, old.seq, old.id, old.uid, old.serial, old.capacity_kg, old.capacity_figure, old.capacity_unit,
      old.division_kg, old.division_figure, old.division_unit, old.repeatability_kg, old.repeatability_figure,
      old.repeatability_unit, old.zero_before_kg, old.zero_before_figure, old.zero_before_unit, old.gain, old.gain_u,
      old.accuracy_class, old.certificate, old.calibrated, old.due)
BEGIN SELECT RAISE(ABORT, 'scale: a fact is never changed'); END;

DROP TRIGGER state_is_never_changed;
CREATE TRIGGER state_is_only_filled_in BEFORE UPDATE ON state
WHEN EXISTS (SELECT 1 FROM seal WHERE session = old.session)
  OR (new.session, new.seq, new.name, new.hitched, new.weight_distribution, new.travels, new.support)
    IS NOT (old.session, old.seq, old.name, old.hitched, old.weight_distribution, old.travels, old.support)
  -- the coupling's height with its uncertainty: as it was, or from nothing to something
  OR ((new.coupling_height_mm, new.coupling_height_figure, new.coupling_height_unit, new.coupling_height_u_mm,
       new.coupling_height_u_figure, new.coupling_height_u_unit)
      IS NOT (old.coupling_height_mm, old.coupling_height_figure, old.coupling_height_unit, old.coupling_height_u_mm,
       old.coupling_height_u_figure, old.coupling_height_u_unit)
    AND (old.coupling_height_mm IS NOT NULL OR old.coupling_height_u_mm IS NOT NULL OR new.coupling_height_mm IS NULL))
  -- the slope with its uncertainty: likewise
  OR ((new.slope, new.slope_u) IS NOT (old.slope, old.slope_u) AND (old.slope IS NOT NULL OR new.slope IS NULL))
  -- one of them at least
  OR (new.coupling_height_mm, new.slope) IS (old.coupling_height_mm, old.slope)
BEGIN SELECT RAISE(ABORT, 'state: a fact is never changed'); END;
