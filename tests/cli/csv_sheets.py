"""JSON sheets as the rows of CSV files, written apart from the program: what the tests of `import` and `template` hold
the program's reading against.

Taken out of a sheet first, because CSV does not carry it: modifications, a top-level x- value that is no text, and
x- keys of a vehicle that are no texts (`carried`).
"""
import copy
import csv
import io

KINDS = ("sessions", "vehicles", "scales", "limits", "readings")


def carried(sheet):
    """The sheet without what CSV does not carry."""
    kept = copy.deepcopy(sheet)
    kept.pop("modifications", None)
    for key in [k for k, v in kept.items() if k.startswith("x-") and not isinstance(v, str)]:
        del kept[key]
    return kept


def word(value):
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value) if not isinstance(value, float) else repr(value)


def measured(row, name, value):
    if isinstance(value, dict):
        row[name], row[name + "_u"] = value["value"], value.get("u")
    else:
        row[name] = value


def extras(row, thing):
    row.update({k: v for k, v in thing.items() if k.startswith("x-")})


def session_row(sheet, tow, trailer):
    weighed, client = sheet.get("weighed", {}), sheet.get("client", {})
    conditions, aboard = sheet.get("conditions", {}), sheet.get("carried", {})
    units, assumed = sheet.get("units", {}), sheet.get("assumptions", {})
    row = {"session": sheet["id"], "weighed_at": weighed.get("at"), "place": weighed.get("place"),
           "technician": weighed.get("technician"), "purpose": weighed.get("purpose"),
           "client_uid": client.get("uid"), "client": client.get("name"), "reference": client.get("reference"),
           "surface": conditions.get("surface"), "wind": conditions.get("wind"),
           "conditions_note": conditions.get("note"), "fuel_percent": aboard.get("fuel_percent"),
           "occupants": aboard.get("occupants"), "carried_note": aboard.get("note"), "tow_vehicle": tow,
           "trailer": trailer, "unit_load": units.get("load"), "unit_length": units.get("length"),
           "placement_u": sheet.get("placement_u"), **assumed}
    extras(row, sheet)
    return row


def vehicle_rows(sheet, tow, trailer):
    vehicle = sheet["rig"]["tow_vehicle"]
    row = {"vehicle": tow, "kind": "tow",
           "axle_places": "; ".join(f"{word(a['at'])} {a['group']}" for a in vehicle["axles"])}
    row.update({k: v for k, v in vehicle.items() if k in ("uid", "label", "registration", "vin", "wheelbase_u")})
    for name in ("overhang", "cg_height"):
        measured(row, name, vehicle.get(name))
    extras(row, vehicle)
    yield row
    towed = sheet["rig"].get("trailer")
    if towed:
        row = {"vehicle": trailer, "kind": "trailer"}
        row.update({k: v for k, v in towed.items()
                    if k in ("uid", "label", "registration", "axles", "suspension", "self_supporting")})
        for name in ("coupling_to_axles", "coupling_to_jockey"):
            measured(row, name, towed.get(name))
        extras(row, towed)
        yield row


def state_columns(state):
    row = {k: state.get(k) for k in ("hitched", "weight_distribution", "travels", "support")}
    for name in ("coupling_height", "slope"):
        measured(row, name, state.get(name))
    row["ride_heights"] = "; ".join(f"{k} {word(v)}" for k, v in state.get("ride_heights", {}).items())
    return row


def reading_rows(sheet, repeated):
    """`repeated`: the columns of a state on each of its rows, else on the first alone."""
    for state in sheet["states"]:
        said = state_columns(state)
        if not state["readings"]:
            yield {"session": sheet["id"], "state": state["name"], **said}
        for i, reading in enumerate(state["readings"]):
            scale = reading.get("scale")
            struck = reading.get("struck", {})
            row = {"session": sheet["id"], "state": state["name"], **(said if repeated or i == 0 else {}),
                   "at": reading["at"], "load": reading["load"], "unit": reading.get("unit"),
                   "scale": "; ".join(scale) if isinstance(scale, list) else scale,
                   "taken_at": reading.get("taken_at"), "reading": reading.get("id"), "raised": reading.get("raised"),
                   "struck_why": struck.get("why"), "struck_by": struck.get("by"), "struck_at": struck.get("at")}
            extras(row, reading)
            yield row


def rows(sheets, repeated=True):
    """The rows of all kinds: kind to a list of dictionaries."""
    out = {kind: [] for kind in KINDS}
    for number, sheet in enumerate(sheets):
        tow = f"tow vehicle {number}"
        trailer = f"trailer {number}" if "trailer" in sheet["rig"] else None
        out["sessions"].append(session_row(sheet, tow, trailer))
        out["vehicles"] += vehicle_rows(sheet, tow, trailer)
        out["scales"] += [{"session": sheet["id"], **scale} for scale in sheet.get("scales", [])]
        out["limits"] += [{"session": sheet["id"], **limit} for limit in sheet["rig"].get("limits", [])]
        out["readings"] += reading_rows(sheet, repeated)
    return out


def text(table, separator=",", decimal=".", end="\r\n"):
    """A CSV text as a spreadsheet program saves it."""
    names = list(dict.fromkeys(name for row in table for name in row))
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator, lineterminator=end)
    writer.writerow(names)
    for row in table:
        cells = []
        for name in names:
            value = row.get(name)
            number = isinstance(value, (int, float)) and not isinstance(value, bool)
            cells.append(word(value).replace(".", decimal) if number else word(value))
        writer.writerow(cells)
    return out.getvalue()


def write(folder, sheets, repeated=True, mark="", **how):
    """Writes the files of `sheets` into a folder; answers with their names."""
    names = []
    for kind, table in rows(sheets, repeated).items():
        if table:
            (folder / f"{kind}.csv").write_bytes((mark + text(table, **how)).encode())
            names.append(f"{kind}.csv")
    return names
