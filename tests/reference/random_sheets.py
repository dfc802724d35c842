"""Seeded random session sheets, for comparing two implementations of the reconciliation model.

    sheets(seed, n)     realistic sessions: true loads from statics, plus errors of the declared size
    sessions(seed, n)   the same with what is true beside each, for coverage
    blundered(seed, n)  sessions with one gross blunder each

A session is a rig (true figures), a set of states, and a pattern of readings; every option of the
sheet turns up somewhere. True loads come from moments about the axles, not from the model's code.
People and places are the invented ones of the sample data.
"""
import json
import math
import sys
import uuid

import numpy as np

LB, INCH = 0.45359237, 25.4
PEOPLE = ("R. Okoye", "M. Tanaka-Reid", "S. Vlček", "A. Nwosu")
PLACES = ("Depot 4, north apron", "Tallow Creek weir yard", "Pump station 9", "Depot 1, wash bay")
JOBS = ("survey utility", "valve truck", "pump crew wagon", "inspection van")
LOADS = ("pump trailer", "pipe trailer", "generator trailer", "site office")


class Session:
    """Draws one session; `sheet` and `truth` when done."""

    def __init__(self, rng, plain=False):
        self.rng, self.plain = rng, plain
        self.imperial = self.chance(0.25)
        self.kg = LB if self.imperial else 1.0
        self.mm = INCH if self.imperial else 1.0
        self.alone = self.chance(0.06)
        self.self_supporting = not self.alone and self.chance(0.08)
        self.coupled = not self.alone and not self.self_supporting
        self.truth = {}
        self.rig()
        self.make_scales()
        self.make_states()
        self.sheet = self.write()

    # -- little helpers
    def chance(self, p):
        return self.rng.random() < p

    def pick(self, *options):
        return options[int(self.rng.integers(len(options)))]

    def length(self, mm):
        """A length as somebody would write it."""
        return round(mm / self.mm, 2 if self.imperial else 0) if self.imperial else float(round(mm))

    def taped(self, true, u, default_u, bare=0.5):
        """A length measured with standard uncertainty u (mm): the sheet's form."""
        if self.chance(bare):
            u = default_u
            return self.length(self.rng.normal(true, u))
        shown = round(u / self.mm, 3)
        return {"value": self.length(self.rng.normal(true, shown * self.mm)), "u": shown}

    # -- the rig
    def rig(self):
        r, t = self.rng, self.truth
        nominal = r.uniform(2500, 3900)
        front = [0.0]
        rear = [nominal]
        layout = self.pick("1+2", "2+1") if self.chance(0.12) else "1+1"
        if layout == "1+2":
            rear = [nominal, nominal + r.uniform(1100, 1400)]
        elif layout == "2+1":
            front = [0.0, r.uniform(1300, 1900)]
            rear = [front[1] + nominal]
        at = [(self.length(p), "front") for p in front] + [(self.length(p), "rear") for p in rear]
        self.axles = at
        centre = {g: np.mean([p * self.mm for p, gg in at if gg == g]) for g in ("front", "rear")}
        self.offsets = [(g, p * self.mm - centre[g]) for p, g in at]
        L0 = centre["rear"] - centre["front"]
        self.wheelbase_u = round(r.uniform(2, 15) / self.mm, 2) if self.chance(0.4) else None
        t["L"] = r.normal(L0, 5.0 if self.wheelbase_u is None else self.wheelbase_u * self.mm)
        t["F"], t["R"] = r.uniform(650, 1600), r.uniform(600, 2200)
        self.cg = (round(r.uniform(550, 950) / self.mm, 1), round(r.uniform(40, 120) / self.mm, 2))
        self.cg_given = self.chance(0.5)
        self.cg_mm = (self.cg[0] * self.mm, self.cg[1] * self.mm) if self.cg_given else (700.0, 100.0)
        t["h"] = r.normal(*self.cg_mm)
        self.tape = None
        self.assumptions = {}
        if self.alone:
            return
        self.n = int(self.pick(1, 1, 2, 2, 2, 3))
        kind = "single" if self.n == 1 else self.pick("independent", "load_sharing")
        self.suspension = kind
        self.say_suspension = kind == "load_sharing" or self.chance(0.6)
        t["M"] = r.uniform(600, 3400)
        if self.chance(0.25):
            self.assumptions = {k: v for k, v in (
                ("height_sensitivity_u", round(r.uniform(0.1, 1.5), 2)),
                ("unmeasured_height_u", round(r.uniform(8, 30) / self.mm, 2)),
                ("raised_kg_per_mm", round(r.uniform(4, 16), 1)),
                ("anonymous_gain_u", round(r.uniform(0.001, 0.006), 4))) if self.chance(0.6)}
        self.S_u = self.assumptions.get("height_sensitivity_u", 1.0 if kind == "independent" else 0.15)
        self.raised_kg = self.assumptions.get("raised_kg_per_mm", 12.0)
        self.D = self.j = None
        if self.self_supporting:
            return
        share = r.uniform(0.03, 0.14)
        small = self.chance(0.08)
        t["C"] = r.uniform(0.0, 15.0) if small else share * t["M"]
        ahead = self.chance(0.08)
        t["o"] = r.uniform(-400, -40) if ahead else r.uniform(700, 1500)
        if ahead and not small:
            t["C"] = r.uniform(0.1, 0.2) * t["M"]
        if self.chance(0.75):
            self.tape = self.taped(t["o"], round(r.uniform(4, 20), 1), 10.0)
        if self.chance(0.8):
            t["D"] = r.uniform(2200, 5200)
            self.D = self.taped(t["D"], round(r.uniform(5, 20), 1), 10.0)
        else:
            t["D"] = float(np.clip(r.normal(4000, 1500), 1500, 8000))
        if self.chance(0.7):
            t["j"] = r.uniform(250, 900)
            self.j = self.taped(t["j"], round(r.uniform(3, 10), 1), 5.0)
        else:
            t["j"] = float(np.clip(r.normal(500, 200), 50, 1100))
        t["S"] = r.normal(0, self.S_u)

    # -- the scales
    def make_scales(self):
        r = self.rng
        self.scales, self.gains, self.known = [], {}, {}
        self.weighed_at = "2026-%02d-%02dT%02d:%02d:00+02:00" % (
            r.integers(1, 13), r.integers(1, 28), r.integers(7, 17), r.integers(60))
        if self.chance(0.12):
            return
        for i in range(int(r.integers(1, 6))):
            lb = self.imperial
            d = float(self.pick(0.5, 1, 2, 5) if lb else self.pick(0.2, 0.5, 1, 2))
            s = {"id": "P%d" % (i + 1)}
            if self.chance(0.6):
                s["uid"] = "scale-%04d" % r.integers(10000)
            kind = self.pick("gain_u", "gain_u", "class", "class", "none")
            gain_u, give_d = 0.003, True
            if kind == "gain_u":
                s["gain_u"] = gain_u = round(float(10 ** r.uniform(-3.5, -2.3)), 5)
                if self.chance(0.15):
                    s["capacity"], s["accuracy_class"] = 20000.0, "III"
            elif kind == "class":
                cls = str(self.pick("III", "III", "II", "IIII"))
                d = float({"III": self.pick(1, 2, 5), "II": self.pick(0.2, 0.5), "IIII": self.pick(10, 20)}[cls])
                most = d * {"III": 10000, "II": 100000, "IIII": 1000}[cls]
                cap = float(self.pick(*[c for c in (9000, 10000, 20000) if c <= most and (not lb or c > 9000)] or [20000]))
                s["capacity"], s["accuracy_class"] = cap, cls
                give_d = d != 1.0 or lb or self.chance(0.7)
                n = cap / d
                steps = {"III": (500, 2000), "II": (5000, 20000), "IIII": (50, 200)}[cls]
                mpe = 0.5 if n <= steps[0] else 1.0 if n <= steps[1] else 1.5
                gain_u = 2 * mpe * d / (cap * math.sqrt(3))
                when = self.pick("none", "ahead", "past", "same day")
                day = self.weighed_at[:10]
                if when != "none":
                    s["due"] = {"ahead": "2027-08-01", "past": "2025-11-30", "same day": day}[when]
                    s["calibrated"] = "2024-11-30"
                if when == "past":
                    gain_u = 0.003
            if not give_d:
                d = 1.0
            else:
                s["division"] = d
            repeat = d
            if self.chance(0.4):
                s["repeatability"] = repeat = round(d * r.uniform(0.3, 2), 2)
            if self.chance(0.25):
                s["gain"] = round(r.normal(0, 0.002), 5)
            self.scales.append(s)
            self.known[s["id"]] = s.get("gain", 0.0)
            self.gains[s["id"]] = (r.normal(0, gain_u), d * self.kg, repeat * self.kg)
        if self.chance(0.3):
            self.scales.append({"id": "N1", "capacity": 500.0 * (4 if self.imperial else 1),
                                "division": 0.5, "gain_u": 0.001})
            self.gains["N1"] = (r.normal(0, 0.001), 0.5 * self.kg, 0.5 * self.kg)
            self.known["N1"] = 0.0

    # -- the states
    def make_states(self):
        r, t = self.rng, self.truth
        u_anon = self.assumptions.get("anonymous_gain_u", 0.003)
        self.anon_gain, self.anon_u = r.normal(0, u_anon), u_anon
        self.placement = round(r.uniform(0.0005, 0.004), 4) if self.chance(0.3) else None
        plan = []                                    # (hitched, bars, support, units weighed)
        if self.alone:
            plan = [(False, False, None, ("tow",))] * int(self.pick(1, 1, 2))
        elif self.self_supporting:
            if self.chance(0.8):
                plan.append((False, False, None, self.pick(("tow",), ("tow", "trailer"), ("trailer",))))
            plan += [(True, False, None, ("tow", "trailer"))] * int(self.pick(1, 2))
        else:
            bars = self.chance(0.3)
            kind = self.pick("all", "all", "all", "no unhitched", "unhitched tow", "unhitched only", "two noses")
            if kind in ("all", "two noses"):
                plan.append((False, False, self.pick("coupling", "coupling", "jockey"),
                             self.pick(("tow", "trailer"), ("tow", "trailer"), ("tow",), ("trailer",))))
                if kind == "two noses":
                    plan.append((False, False, self.pick("coupling", "jockey"), self.pick(("trailer",), ())))
            if kind == "unhitched tow":
                plan.append((False, False, None, self.pick(("tow",), ("tow", "trailer"))))
            if kind == "unhitched only":
                plan.append((False, False, self.pick("coupling", "jockey"), ("tow", "trailer")))
                if self.chance(0.3):
                    plan.append((False, False, None, ("trailer",)))
            else:
                units = self.pick(("tow", "trailer"), ("tow", "trailer"), ("tow", "trailer"), ("tow",), ("trailer",))
                only_bars = bars and self.chance(0.3)
                if not only_bars:
                    plan += [(True, False, None, units)] * int(self.pick(1, 1, 1, 2, 3))
                if bars:
                    plan += [(True, True, None, ("tow", "trailer"))] * int(self.pick(1, 1, 2))
        if self.chance(0.15):
            plan = [plan[i] for i in r.permutation(len(plan))]

        self.states = []
        heights = self.coupled and self.chance(0.6)
        base = r.uniform(380, 520)
        for k, (hitched, bars, support, units) in enumerate(plan):
            s = {"name": "%s %d" % ("together" if hitched else "apart", k + 1), "hitched": hitched}
            if bars:
                s["weight_distribution"] = True
            if support:
                s["support"] = support
            s["_u_h"] = self.assumptions.get("unmeasured_height_u", 18 / self.mm) * self.mm
            s["_height"] = None
            if heights and self.chance(0.85):
                spread = self.pick(3, 15, 60)
                h = self.length(base + r.normal(0, spread))
                if self.chance(0.5):
                    s["coupling_height"], s["_u_h"] = h, 5.0
                else:
                    u = round(r.uniform(2, 8) / self.mm, 3)
                    s["coupling_height"], s["_u_h"] = {"value": h, "u": u}, u * self.mm
                s["_height"] = h * self.mm
            slope, u_slope = 0.0, 2.0
            if self.chance(0.35):
                slope = round(r.normal(0, 8), 1)
                s["slope"] = slope
                if self.chance(0.6):
                    u_slope = round(r.uniform(0.5, 4), 1)
                    s["slope"] = {"value": slope, "u": u_slope}
            s["_level"] = (self.cg_mm[0] * slope / 1000,
                           math.hypot(self.cg_mm[0] * u_slope, slope * self.cg_mm[1]) / 1000)
            s["_units"] = units
            self.states.append(s)
        hitched = [s for s in self.states if s["hitched"]]
        plain = [s for s in hitched if not s.get("weight_distribution")]
        nose = [s for s in self.states if s.get("support")]
        ref = (plain + hitched + nose + [None])[0] if self.coupled else None
        if hitched and self.chance(0.3):
            hitched[-1]["travels"] = True

        for s in self.states:
            self.weigh(s, ref)
        self.ref = ref
        if not any(s["readings"] for s in self.states):
            self.states[0]["_units"] = ("tow",)
            self.weigh(self.states[0], ref)

    def weigh(self, s, ref):
        r, t = self.rng, self.truth
        level = r.normal(*s["_level"])
        C = N = J = W = 0.0
        if self.coupled:
            C = t["C"]
            s.setdefault("_e", r.normal(0, self.S_u * s["_u_h"]))
            if s is not ref and ref is not None:
                ref.setdefault("_e", r.normal(0, self.S_u * ref["_u_h"]))
                if s["_height"] is not None and ref["_height"] is not None:
                    C += t["S"] * (s["_height"] - ref["_height"])
                C += s["_e"] - ref["_e"]
            elif ref is None:
                C += s["_e"]
            if s["hitched"]:
                if s.get("weight_distribution"):
                    W = t["C"] * max(t["o"], 100.0) * r.uniform(0.2, 0.9)
                N = C - W / t["D"]
            elif s.get("support") == "coupling":
                J = C
            elif s.get("support") == "jockey":
                J = C * t["D"] / (t["D"] - t["j"])
        # the tow vehicle: moments about the front group's centre
        total = t["F"] + t["R"] + N
        moment = t["R"] * t["L"] + (N * (t["L"] + t["o"]) if self.coupled else 0.0) - W + total * level
        places = [off + (t["L"] if g == "rear" else 0.0) for g, off in self.offsets]
        axles = {"tow": self.share(total, moment, places)}
        if not self.alone:
            carried = t["M"] - (N if s["hitched"] else J)
            if self.coupled and not s["hitched"] and not s.get("support"):
                carried = t["M"] - t["C"] - r.uniform(0, 30)
            weights = r.dirichlet([60.0] * self.n)
            axles["trailer"] = list(carried * weights)
        s["_true"] = dict(C=C, N=N, J=J, W=W, front=t["F"] - (N * t.get("o", 0) - W) / t["L"], axles=axles)
        s["readings"] = []
        for unit in s["_units"]:
            wheels = [[x * f, x * (1 - f)] for x in axles[unit] for f in [r.uniform(0.46, 0.54)]]
            s["_true"][unit + "_wheels"] = wheels
            style = self.pick("wheels", "axles", "axles", "unit", "mixed", "mixed")
            for at, x, part in self.pattern(unit, wheels, style):
                for _ in range(2 if self.chance(0.12) else 1):
                    self.read(s, at, x, part, total)
        if s.get("support") and J > 0 and self.chance(0.9):
            for _ in range(2 if self.chance(0.15) else 1):
                self.read(s, s["support"], J, None, total)
        order = r.permutation(len(s["readings"])) if self.chance(0.2) else range(len(s["readings"]))
        s["readings"] = [s["readings"][i] for i in order]

    def share(self, total, moment, places):
        """Axle loads of the tow vehicle with that sum and moment; a group of two shares unevenly."""
        if len(places) == 2:
            rear = (moment - total * places[0]) / (places[1] - places[0])
            return [total - rear, rear]
        same = (1, 2) if self.offsets[1][0] == "rear" else (0, 1)
        alone = ({0, 1, 2} - set(same)).pop()
        f = self.rng.uniform(0.42, 0.58)
        at = f * places[same[0]] + (1 - f) * places[same[1]]
        pair = (moment - total * places[alone]) / (at - places[alone])
        x = [0.0] * 3
        x[alone], x[same[0]], x[same[1]] = total - pair, pair * f, pair * (1 - f)
        return x

    def pattern(self, unit, wheels, style):
        sides = ("left", "right")
        skip = self.chance(0.08)
        for i, pair in enumerate(wheels):
            if style == "unit":
                continue
            how = style if style != "mixed" else self.pick("wheels", "axles", "one wheel", "wheels and axle", "none")
            if skip and i == len(wheels) - 1:
                continue
            name = "%s.%d" % (unit, i + 1)
            if how in ("axles", "wheels and axle"):
                yield name, sum(pair), 1.0
            if how in ("wheels", "wheels and axle"):
                for side, x in zip(sides, pair):
                    yield name + "." + side, x, 0.5
            if how == "one wheel":
                side = int(self.rng.integers(2))
                yield name + "." + sides[side], pair[side], 0.5
        if style == "unit" or (style == "mixed" and self.chance(0.4)):
            yield unit, sum(map(sum, wheels)), None

    def read(self, s, at, x, part, total):
        r, t = self.rng, self.truth
        unit = at.split(".")[0]
        wheeled = unit in ("tow", "trailer")
        reading = {"at": at}
        raised = 0.0
        if wheeled and self.chance(0.1):
            raised = round(r.uniform(20, 80) / self.mm, 1)
            reading["raised"] = raised
            raised *= self.mm
        a2 = 0.0
        if raised and part and unit == "tow":
            x -= part * total * t["h"] * raised / t["L"] ** 2
        if raised and part and unit == "trailer" and self.suspension == "independent":
            a2 = (self.raised_kg * part * raised) ** 2
        free = [p for p in self.gains if p != "N1"]
        names = []
        if not wheeled and "N1" in self.gains:
            names = ["N1"]
        elif free and not self.chance(0.1):
            several = at.count(".") == 1 and len(free) > 1 and self.chance(0.3)
            names = list(r.choice(free, 2 if several else 1, replace=False))
        if x > 300 and names == ["N1"]:
            names = free[:1]
        if names:
            gain = np.mean([self.gains[p][0] for p in names])
            known = np.mean([self.known[p] for p in names])
            d2 = sum(self.gains[p][1] ** 2 / 6 + self.gains[p][2] ** 2 for p in names)
            d = min(self.gains[p][1] for p in names)
            spread2 = d2 - d * d / 12               # the rounding below brings its own
        else:
            gain, known, d = self.anon_gain, 0.0, 1.0
            spread2 = 1 / 6 + 1 - 1 / 12
            a2 += (self.anon_u * x) ** 2
        c = (0.002 if self.placement is None else self.placement) if wheeled else 0.0
        y = (1 + gain) * x + r.normal(0, math.sqrt(spread2 + (c * x) ** 2 + a2))
        y *= 1 + known
        factor = self.kg
        if self.chance(0.08):
            reading["unit"] = str(self.pick("kg", "lb"))
            factor = LB if reading["unit"] == "lb" else 1.0
        step = d / factor
        step = step if abs(step - round(step, 3)) < 1e-9 else round(step, 2)
        load = round(max(0.0, round(y / factor / step) * step), 6)
        if load <= 0 and wheeled:
            load = round(step, 6)
        reading["load"] = load
        if names:
            reading["scale"] = str(names[0]) if len(names) == 1 else [str(p) for p in names]
        s["readings"].append(reading)
        if self.chance(0.05):                       # a first try, struck on the spot
            struck = dict(reading, load=round(load * r.uniform(0.8, 1.2), 1))
            struck["struck"] = {"why": "door open, man on the step", "by": PEOPLE[0], "at": self.weighed_at}
            limit = min([self.capacity(p) for p in names] or [math.inf]) / factor
            struck["load"] = min(struck["load"], round(0.98 * limit, 1)) if limit < math.inf else struck["load"]
            s["readings"].append(struck)

    def capacity(self, p):
        return next(s for s in self.scales if s["id"] == p).get("capacity", math.inf) * self.kg

    # -- the sheet
    def write(self):
        r = self.rng
        tow = {"uid": "tcw-%03d" % r.integers(100), "label": "%s %d" % (self.pick(*JOBS), r.integers(1, 40)),
               "axles": [{"at": p, "group": g} for p, g in self.axles]}
        if self.wheelbase_u is not None:
            tow["wheelbase_u"] = self.wheelbase_u
        if self.tape is not None:
            tow["overhang"] = self.tape
        if self.cg_given:
            tow["cg_height"] = {"value": self.cg[0], "u": self.cg[1]}
        rig = {"tow_vehicle": tow}
        if not self.alone:
            trailer = {"uid": "tcw-t%02d" % r.integers(100), "label": "%s %d" % (self.pick(*LOADS), r.integers(1, 40)),
                       "axles": self.n}
            if self.say_suspension:
                trailer["suspension"] = self.suspension
            if self.self_supporting:
                trailer["self_supporting"] = True
            if self.D is not None:
                trailer["coupling_to_axles"] = self.D
            if self.j is not None:
                trailer["coupling_to_jockey"] = self.j
            rig["trailer"] = trailer
        states, n = [], 0
        for s in self.states:
            for reading in s["readings"]:
                n += 1
                reading["id"] = "r%d" % n
            states.append({k: v for k, v in s.items() if not k.startswith("_")})
        sheet = {"format": "steelyard-session/1",
                 "id": str(uuid.UUID(bytes=r.bytes(16), version=4)),
                 "units": {"load": "lb", "length": "in"} if self.imperial else {"load": "kg", "length": "mm"},
                 "weighed": {"at": self.weighed_at, "place": str(self.pick(*PLACES)), "technician": str(self.pick(*PEOPLE))},
                 "client": {"uid": "tcwb", "name": "Tallow Creek Water Board"}}
        if not self.imperial and self.chance(0.3):
            del sheet["units"]
        if self.placement is not None:
            sheet["placement_u"] = self.placement
        if self.assumptions:
            sheet["assumptions"] = self.assumptions
        if self.scales or self.chance(0.5):
            sheet["scales"] = self.scales
        sheet["rig"] = rig
        sheet["states"] = states
        return json.loads(json.dumps(sheet))          # plain numbers only

    def true_quantities(self):
        """(name, state) -> true value, of what statics says on level ground."""
        t = self.truth
        q = {("tow_unhitched_front", None): t["F"], ("tow_unhitched_rear", None): t["R"],
             ("tow_unhitched_total", None): t["F"] + t["R"]}
        if not self.alone:
            q["trailer_mass", None] = t["M"]
            q["combination_mass", None] = t["M"] + t["F"] + t["R"]
        if self.coupled:
            C = t["C"]
            if self.ref is None:
                C = float("nan")
            q.update({("coupling_load", None): C, ("overhang", None): t["o"],
                      ("load_transfer_ratio", None): 1 + t["o"] / t["L"], ("coupling_share", None): C / t["M"],
                      ("front_relief_ratio", None): t["o"] / t["L"],
                      ("inferred_overhang", None): t["o"], ("inferred_transfer_ratio", None): 1 + t["o"] / t["L"]})
        for s in self.states:
            x, name = s["_true"], s["name"]
            if self.coupled:
                q["coupling_load_at_height", name] = x["C"]
            if s["hitched"] and not self.alone:
                total = t["F"] + t["R"] + x["N"]
                q["tow_hitched_front", name] = x["front"]
                q["tow_hitched_rear", name] = total - x["front"]
                q["tow_hitched_total", name] = total
                if self.coupled:
                    q["coupling_load_net", name] = x["N"]
                    q["trailer_axles_hitched", name] = t["M"] - x["N"]
            if s.get("weight_distribution"):
                q["weight_distribution_moment", name] = x["W"]
                q["front_axle_restoration", name] = x["W"] * (1 + t["o"] / t["D"]) / (x["C"] * t["o"])
        return q


def sessions(seed, n):
    """n Session objects; each depends on the seed and its number alone."""
    return [Session(np.random.default_rng([seed, i])) for i in range(n)]


def sheets(seed, n):
    return [s.sheet for s in sessions(seed, n)]


# ---------------------------------------------------------------- blunders

def swap_digits(load, rng):
    text = repr(load)
    places = [i for i in range(len(text) - 1) if text[i].isdigit() and text[i + 1].isdigit()
              and text[i] != text[i + 1] and not (i == 0 and text[i + 1] == "0")]
    if not places:
        return load * 10
    i = places[int(rng.integers(len(places)))]
    return float(text[:i] + text[i + 1] + text[i] + text[i + 2:])


def blundered(seed, n):
    """Sessions with one gross blunder each; `x-blunder` says which."""
    out, i = [], 0
    while len(out) < n:
        rng = np.random.default_rng([seed, i, 77])
        session = Session(np.random.default_rng([seed, i, 7]))
        i += 1
        sheet = session.sheet
        for s in sheet.get("scales", []):           # no capacity to be exceeded
            s.pop("capacity", None)
            if s.pop("accuracy_class", None):
                s.setdefault("gain_u", 0.001)
        live = [r for s in sheet["states"] for r in s["readings"] if "struck" not in r]
        if not live:
            continue
        kind = ("pounds", "times ten", "a tenth", "digits swapped", "no coupling load")[int(rng.integers(5))]
        reading = live[int(rng.integers(len(live)))]
        if kind == "no coupling load":
            nose = [r for r in live if r["at"] in ("coupling", "jockey")]
            if not nose:
                kind = "pounds"
            else:
                reading = nose[0]
                sheet["rig"]["tow_vehicle"].pop("overhang", None)
        before = reading["load"]
        reading["load"] = round({"pounds": before / LB, "times ten": before * 10, "a tenth": before / 10,
                                 "digits swapped": swap_digits(before, rng),
                                 "no coupling load": float(rng.integers(0, 3))}[kind], 3)
        sheet["x-blunder"] = {"kind": kind, "reading": reading["id"], "was": before}
        out.append(sheet)
    return out


if __name__ == "__main__":
    what = blundered if "--blundered" in sys.argv else sheets
    seed, count = [int(a) for a in sys.argv[1:] if a.isdigit()][:2]
    for one in what(seed, count):
        print(json.dumps(one, ensure_ascii=False))
