#include "reports/template/template.hpp"

namespace steelyard::reports {

TemplateExample template_example(sheet::CsvKind kind) {
  using enum sheet::CsvKind;
  switch (kind) {
    case sessions:
      return {{"session", "weighed_at", "place", "technician", "tow_vehicle", "trailer", "unit_load"},
              {{"TCW 012, 3 October", "2026-10-03T08:40+02:00", "Depot 4", "R. Okoye", "utility 12",
                "pump trailer 3", "kg"}}};
    case vehicles:
      return {{"vehicle", "kind", "registration", "axle_places", "overhang", "axles", "coupling_to_axles"},
              {{"utility 12", "tow", "TCW 012", "0 front; 3085 rear", "1190", "", ""},
               {"pump trailer 3", "trailer", "TCW T03", "", "", "2", "3420"}}};
    case scales:
      return {{"id", "serial", "capacity", "division", "accuracy_class", "due"},
              {{"P1", "0417", "1500", "1", "III", "2027-02-11"},
               {"P2", "0418", "1500", "1", "III", "2027-02-11"},
               {"N1", "0502", "500", "0.5", "", "2027-02-11"}}};
    case limits:
      return {{"vehicle", "of", "part", "value", "source"},
              {{"utility 12", "tow_gross", "", "3150", "compliance plate"},
               {"utility 12", "tow_rear", "", "1850", "compliance plate"},
               {"utility 12", "coupling", "towbar plate", "250", "towbar plate"},
               {"pump trailer 3", "trailer_gross", "", "2000", "trailer plate"}}};
    case readings:
      break;
  }
  return {{"session", "state", "hitched", "support", "at", "load", "scale"},
          {{"TCW 012, 3 October", "apart", "no", "coupling", "tow.1.left", "641", "P1"},
           {"TCW 012, 3 October", "apart", "", "", "tow.1.right", "655", "P2"},
           {"TCW 012, 3 October", "apart", "", "", "tow.2", "1552", "P1; P2"},
           {"TCW 012, 3 October", "apart", "", "", "trailer", "1623", "P1; P2"},
           {"TCW 012, 3 October", "apart", "", "", "coupling", "176.5", "N1"},
           {"TCW 012, 3 October", "together", "yes", "", "tow.1", "1229", "P1; P2"},
           {"TCW 012, 3 October", "together", "yes", "", "tow.2", "1796", "P1; P2"},
           {"TCW 012, 3 October", "together", "yes", "", "trailer", "1623", "P1; P2"}}};
}

}  // namespace steelyard::reports
