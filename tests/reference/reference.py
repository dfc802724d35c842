"""A second, independent implementation of the reconciliation model, for checking the engine.

Written from the text of the model alone. Deliberately different from a production solver wherever
the text leaves the way open: Jacobians and gradients come from the complex step, the null space and
every rank from a dense SVD, and each trial step is put back on the constraints exactly (they are
linear in the wheel loads, support loads and height effects), so that the merit is chi-square alone; where
Gauss-Newton is slow, Newton's method with a differenced Hessian finishes.

    reconcile(sheet) -> result (fit, quantities, observations of the result form)

Loads in kg, lengths in mm, moments in kg.mm throughout. The result carries one extra object,
"_reference", which says how the solution was reached and which figures sit on a threshold.
"""
import json
import math
import re
import sys
from datetime import date

import numpy as np
from scipy.linalg import null_space
from scipy.stats import chi2, norm

LB, INCH = 0.45359237, 25.4
Z95 = 1.959964
RANK = 1e-9              # of the largest singular value
DETERMINABLE = 1e-7      # of the gradient's length
FAR = 10000.0            # no overhang is longer, mm
SLOW = 30                # steps after which plain Gauss-Newton counts as slow
# OIML R 76-1 table 6: (load in e up to, mpe in e)
TABLE6 = {"I": ((50000, .5), (200000, 1.), (math.inf, 1.5)),
          "II": ((5000, .5), (20000, 1.), (math.inf, 1.5)),
          "III": ((500, .5), (2000, 1.), (math.inf, 1.5)),
          "IIII": ((50, .5), (200, 1.), (math.inf, 1.5))}


class NotSolved(Exception):
    pass


# ---------------------------------------------------------------- reading the sheet

class Rig:
    """The sheet in kg and mm, with every default filled in."""

    def __init__(self, sheet):
        units = sheet.get("units") or {}
        self.load = LB if units.get("load") == "lb" else 1.0
        self.length = INCH if units.get("length") == "in" else 1.0
        a = sheet.get("assumptions") or {}
        rig = sheet["rig"]
        tow = rig["tow_vehicle"]
        at = [(x["at"] * self.length, x["group"]) for x in tow["axles"]]
        centre = {g: np.mean([p for p, gg in at if gg == g]) for g in ("front", "rear")}
        self.tow_axles = [(g, p - centre[g]) for p, g in at]       # group, offset from its centre
        self.L0 = centre["rear"] - centre["front"]
        self.L_u = tow["wheelbase_u"] * self.length if tow.get("wheelbase_u") is not None else 5.0
        self.tape = self.measured(tow.get("overhang"), 10.0)
        self.h0 = self.measured(tow.get("cg_height"), 100.0) or (700.0, 100.0)

        trailer = rig.get("trailer")
        self.trailer = trailer is not None
        self.self_supporting = bool(self.trailer and trailer.get("self_supporting"))
        self.coupled = self.trailer and not self.self_supporting
        self.n_trailer = trailer["axles"] if self.trailer else 0
        if self.trailer:
            kind = trailer.get("suspension") or ("single" if self.n_trailer == 1 else "independent")
            self.independent = kind == "independent"
            self.D0 = self.measured(trailer.get("coupling_to_axles"), 10.0) or (4000.0, 1500.0)
            self.j0 = self.measured(trailer.get("coupling_to_jockey"), 5.0) or (500.0, 200.0)
            self.S_u = a.get("height_sensitivity_u")
            if self.S_u is None:
                self.S_u = 1.0 if self.independent else 0.15
        unmeasured = a.get("unmeasured_height_u")
        self.height_u = unmeasured * self.length if unmeasured is not None else 18.0
        self.raised_kg_per_mm = value_or(a.get("raised_kg_per_mm"), 12.0)
        self.anonymous_u = value_or(a.get("anonymous_gain_u"), 0.003)
        self.placement_u = value_or(sheet.get("placement_u"), 0.002)

        weighed = ((sheet.get("weighed") or {}).get("at") or "")[:10]
        day = date.fromisoformat(weighed) if weighed else None
        self.scales = {s["id"]: self.scale(s, day) for s in sheet.get("scales") or []}
        self.states = [self.state(s) for s in sheet["states"]]

        order = ([s for s in self.states if s.hitched and not s.bars]
                 + [s for s in self.states if s.hitched]
                 + [s for s in self.states if s.support])
        self.reference = order[0] if order and self.coupled else None

    def measured(self, m, default_u):
        if m is None:
            return None
        if isinstance(m, dict):
            u = m.get("u")
            return m["value"] * self.length, (u * self.length if u is not None else default_u)
        return m * self.length, default_u

    def scale(self, s, day):
        division = s["division"] * self.load if s.get("division") is not None else 1.0
        repeat = s["repeatability"] * self.load if s.get("repeatability") is not None else division
        gain_u = s.get("gain_u")
        if gain_u is None:
            gain_u = 0.003
            cls, capacity, due = s.get("accuracy_class"), s.get("capacity"), s.get("due")
            in_date = day is None or not due or day <= date.fromisoformat(due[:10])
            if cls and capacity and in_date:
                capacity *= self.load
                mpe = next(m for top, m in TABLE6[cls] if capacity / division <= top * (1 + 1e-12))
                gain_u = 2 * mpe * division / (capacity * math.sqrt(3))
        return dict(d=division, s=repeat, gain_u=gain_u, known=value_or(s.get("gain"), 0.0))

    def state(self, s):
        st = State()
        st.name = s["name"]
        st.hitched = bool(s["hitched"])
        st.bars = st.hitched and bool(s.get("weight_distribution"))
        st.support = None if st.hitched or not self.coupled else s.get("support")
        height = self.measured(s.get("coupling_height"), 5.0)
        st.height, st.height_u = height if height else (None, self.height_u)
        slope = s.get("slope")
        if slope is None:
            st.slope, st.slope_u = 0.0, 2.0
        elif isinstance(slope, dict):
            st.slope, st.slope_u = slope["value"], value_or(slope.get("u"), 2.0)
        else:
            st.slope, st.slope_u = slope, 2.0
        st.readings = [self.reading(r) for r in s["readings"] if not r.get("struck")]
        st.reads = {u: any(r.unit == u for r in st.readings) for u in ("tow", "trailer")}
        return st

    def reading(self, r):
        o = Reading()
        o.id, o.at = r.get("id"), r["at"]
        m = re.fullmatch(r"(tow|trailer)(?:\.(\d+)(?:\.(left|right))?)?", o.at)
        o.unit, o.axle, o.side = (m[1], int(m[2]) if m[2] else None, m[3]) if m else (None, None, None)
        factor = {"lb": LB, "kg": 1.0}[r["unit"]] if r.get("unit") else self.load
        names = r.get("scale")
        o.scale = [] if not names else [names] if isinstance(names, str) else list(names)
        used = [self.scales[n] for n in o.scale]
        y = r["load"] * factor
        if used:
            y /= 1 + sum(s["known"] for s in used) / len(used)
            spread = sum(s["d"] ** 2 / 6 + s["s"] ** 2 for s in used)
            a2 = 0.0
        else:
            spread = 1 / 6 + 1
            a2 = (self.anonymous_u * y) ** 2
        raised = r.get("raised")
        o.raised = raised * self.length if raised and o.axle else 0.0
        o.part = 0.5 if o.side else 1.0
        if o.raised and o.unit == "trailer" and self.independent:
            a2 += (self.raised_kg_per_mm * o.part * o.raised) ** 2
        c = 0.0 if o.unit is None else self.placement_u
        o.y, o.u = y, math.sqrt(spread + (c * y) ** 2 + a2)
        return o


class State:
    pass


class Reading:
    pass


def value_or(x, default):
    return default if x is None else x


# ---------------------------------------------------------------- the model

class Model:
    """Unknowns, observations and constraints of one session.

    `tape`: whether the taped overhang is an observation. `held`: an overhang taken as known (mm),
    or None where it is solved for as the moment T = C o.
    """

    def __init__(self, rig, tape=True, held=None):
        self.rig, self.held = rig, held
        self.names, self.scales, self.guess = [], [], []
        self.index = {}
        self.free_loads = []                   # columns in which the constraints are linear
        self.loads = {}                        # (state, unit, axle) -> list of unknowns
        self.observations = []                 # (meta, value, u, function of v)
        self._unknowns()
        self._observe(tape and held is None)
        self.y = np.array([o[1] for o in self.observations])
        self.u = np.array([o[2] for o in self.observations])
        self.sc = np.array(self.scales)

    # -- unknowns
    def _add(self, key, scale, guess, load=False):
        self.index[key] = len(self.names)
        if load:
            self.free_loads.append(len(self.names))
        self.names.append(key)
        self.scales.append(scale)
        self.guess.append(guess)

    def _unknowns(self):
        rig = self.rig
        self._add("F", 1e3, 1000.0)
        self._add("R", 1e3, 1000.0)
        self._add("L", 1e3, rig.L0)
        if rig.trailer:
            self._add("M", 1e3, 1500.0)
        if rig.coupled:
            self._add("C", 1e2, 100.0)
            if self.held is None:
                self._add("T", 1e6, 1.0)
            self._add("D", 1e3, rig.D0[0])
            self._add("S", 1.0, 0.0)
            if any(s.support == "jockey" for s in rig.states):
                self._add("j", 1e3, rig.j0[0])
        if any(r.unit == "tow" and r.raised for s in rig.states for r in s.readings):
            self._add("h", 1e3, 700.0)
        for p in rig.scales:
            self._add(("g", p), 1e-3, 0.0)
        self.anonymous = any(not r.scale for s in rig.states for r in s.readings)
        if self.anonymous:
            self._add(("g", None), 1e-3, 0.0)
        for k, s in enumerate(rig.states):
            if rig.coupled:
                self._add(("e", k), 1e1, 0.0, load=True)
                if s.bars:
                    self._add(("W", k), 1e6, 0.0)
                if s.support:
                    self._add(("J", k), 1e2, 100.0, load=True)
            if s.reads["tow"]:
                self._add(("q", k), 1e3, rig.h0[0] * s.slope / 1000)
            for unit, n in (("tow", len(rig.tow_axles)), ("trailer", rig.n_trailer)):
                if not s.reads[unit]:
                    continue
                for i in range(1, n + 1):
                    wheels = any(r.unit == unit and r.axle == i and r.side for r in s.readings)
                    keys = [(k, unit, i, side) for side in (("left", "right") if wheels else (None,))]
                    for key in keys:
                        self._add(key, 1e3, 300.0, load=True)
                    self.loads[k, unit, i] = keys

    # -- what the physics says, for v: unknown -> value (or a row of perturbed values)
    def overhang(self, v):
        return self.held if self.held is not None else v("T") / v("C")

    def shift(self, v, k):
        """Ck - C."""
        s, ref = self.rig.states[k], self.rig.reference
        if s is ref or ref is None:
            return v(("e", k)) if ref is None else 0.0
        known = s.height is not None and ref.height is not None
        dh = s.height - ref.height if known else 0.0
        return v("S") * dh + v(("e", k)) - v(("e", self.rig.states.index(ref)))

    def coupling(self, v, k):
        return v("C") + self.shift(v, k)

    def coupling_moment(self, v, k):
        """Ck o, without dividing by C in the reference state."""
        if self.held is not None:
            return self.coupling(v, k) * self.held
        d = self.shift(v, k)
        return v("T") + d * v("T") / v("C")

    def net(self, v, k):
        """Nk and Nk o."""
        if not self.rig.coupled or not self.rig.states[k].hitched:
            return 0.0, 0.0
        n, no = self.coupling(v, k), self.coupling_moment(v, k)
        if self.rig.states[k].bars:
            lift = v(("W", k)) / v("D")
            n, no = n - lift, no - lift * self.overhang(v)
        return n, no

    def bars(self, v, k):
        return v(("W", k)) if self.rig.coupled and self.rig.states[k].bars else 0.0

    def tow_total(self, v, k):
        return v("F") + v("R") + self.net(v, k)[0]

    def tow_front(self, v, k):
        return v("F") + (self.bars(v, k) - self.net(v, k)[1]) / v("L")

    def axle(self, v, k, unit, i):
        return sum(v(key) for key in self.loads[k, unit, i])

    def covered(self, v, k, r):
        """The sum of x under a reading."""
        if r.unit is None:
            return v(("J", k))
        if r.side:
            return v((k, r.unit, r.axle, r.side))
        if r.axle:
            return self.axle(v, k, r.unit, r.axle)
        return sum(self.axle(v, k, r.unit, i) for kk, uu, i in self.loads if (kk, uu) == (k, r.unit))

    def _fitted(self, k, r):
        def f(v):
            gains = [v(("g", p)) for p in r.scale] or [v(("g", None))]
            x = self.covered(v, k, r)
            if r.unit == "tow" and r.raised:
                x = x - r.part * self.tow_total(v, k) * v("h") * r.raised / v("L") ** 2
            return (1 + sum(gains) / len(gains)) * x
        return f

    def _observe(self, tape):
        rig = self.rig

        def add(kind, value, u, f, state=None, at=None, scale=(), id=None):
            meta = dict(kind=kind, id=id, state=state, at=at, scale=list(scale))
            self.observations.append((meta, value, u, f))

        def plain(key):
            return lambda v: v(key)

        for k, s in enumerate(rig.states):
            for r in s.readings:
                add("reading", r.y, r.u, self._fitted(k, r), s.name, r.at, r.scale, r.id)
        for p, scale in rig.scales.items():
            add("gain", 0.0, scale["gain_u"], plain(("g", p)), scale=[p])
        if self.anonymous:
            add("gain", 0.0, rig.anonymous_u, plain(("g", None)))
        add("wheelbase", rig.L0, rig.L_u, plain("L"))
        if rig.coupled:
            if rig.tape and tape:
                add("overhang", *rig.tape, self.overhang)
            add("coupling_to_axles", *rig.D0, plain("D"))
            if "j" in self.index:
                add("coupling_to_jockey", *rig.j0, plain("j"))
            add("height_sensitivity", 0.0, rig.S_u, plain("S"))
            for k, s in enumerate(rig.states):
                add("coupling_height", 0.0, rig.S_u * s.height_u, plain(("e", k)), s.name)
        h, u_h = rig.h0
        for k, s in enumerate(rig.states):
            if s.reads["tow"]:
                u = math.hypot(h * s.slope_u, s.slope * u_h) / 1000
                add("level", h * s.slope / 1000, u, plain(("q", k)), s.name)
        if "h" in self.index:
            add("cg_height", h, u_h, plain("h"))

    def constraints(self, v):
        """Residuals, kilograms in units of 1e3 and moments of 1e6."""
        rig, out = self.rig, []
        for k, s in enumerate(rig.states):
            n, no = self.net(v, k)
            if s.reads["tow"]:
                axles = [self.axle(v, k, "tow", i + 1) for i in range(len(rig.tow_axles))]
                places = [off + (v("L") if g == "rear" else 0.0) for g, off in rig.tow_axles]
                total = v("F") + v("R") + n
                out.append((sum(axles) - total) / 1e3)
                moment = v("R") * v("L") + n * v("L") + no - self.bars(v, k) + total * v(("q", k))
                out.append((sum(x * p for x, p in zip(axles, places)) - moment) / 1e6)
            if s.reads["trailer"]:
                total = sum(self.axle(v, k, "trailer", i + 1) for i in range(rig.n_trailer))
                if rig.self_supporting:
                    out.append((total - v("M")) / 1e3)
                elif s.hitched:
                    out.append((total - v("M") + n) / 1e3)
                elif s.support:
                    out.append((total - v("M") + v(("J", k))) / 1e3)
            if s.support:
                arm = (v("D") - v("j")) / v("D") if s.support == "jockey" else 1.0
                out.append((v(("J", k)) * arm - self.coupling(v, k)) / 1e3)
        return out

    # -- numbers
    def at(self, z):
        """Lookup of unscaled unknowns at the scaled point z (vector, or matrix of columns)."""
        x = z * (self.sc if z.ndim == 1 else self.sc[:, None])
        return lambda key: x[self.index[key]]

    def value(self, functions, z):
        v = self.at(z)
        return np.array([float(f) for f in functions(v)])

    def jacobian(self, functions, z):
        n = len(z)
        step = 1e-30
        v = self.at(z[:, None] + 1j * step * np.eye(n))
        rows = [np.imag(f) / step * np.ones(n) for f in functions(v)]
        return np.array(rows).reshape(-1, n)

    def fitted(self, v):
        return [f(v) for _, _, _, f in self.observations]

    def residual(self, z):
        return (self.y - self.value(self.fitted, z)) / self.u

    def sensible(self, z):
        """Whether wheelbase and drawbar are still lengths: a step may leap over D = 0 or D = j, where
        the jockey's equation has a pole, and settle on a trailer whose axles are ahead of its nose."""
        v = self.at(z)
        if "D" in self.index and v("D") <= max(0.0, v("j") if "j" in self.index else 0.0):
            return False
        return bool(v("L") > 0)

    def project(self, z):
        """The wheel and support loads, and height effects, nearest to z that satisfy the constraints."""
        z = z.copy()
        if not self.free_loads:
            return z
        for _ in range(2):
            c = self.value(self.constraints, z)
            if c.size == 0:
                return z
            b = self.jacobian(self.constraints, z)[:, self.free_loads]
            z[self.free_loads] -= np.linalg.lstsq(b, c, rcond=1e-12)[0]
        return z

    def first_guess(self, c0=None, o0=None):
        """Loads as read; the coupling load from whatever reading speaks of it."""
        rig = self.rig
        z = np.array(self.guess, dtype=float)

        def put(key, value):
            z[self.index[key]] = value

        totals = {}
        for k, s in enumerate(rig.states):
            for unit, n in (("tow", len(rig.tow_axles)), ("trailer", rig.n_trailer)):
                if not s.reads[unit]:
                    continue
                whole = [r.y for r in s.readings if r.at == unit]
                known, missing = {}, []
                for i in range(1, n + 1):
                    sides = {side: [r.y for r in s.readings if (r.unit, r.axle, r.side) == (unit, i, side)]
                             for side in ("left", "right", None)}
                    l, r_, a = (np.mean(sides[x]) if sides[x] else None for x in ("left", "right", None))
                    if len(self.loads[k, unit, i]) == 1:
                        known[i] = None if a is None else [a]
                    else:
                        if l is None:
                            l = a - r_ if a is not None else r_
                        if r_ is None:
                            r_ = a - l if a is not None else l
                        known[i] = [l, r_]
                    if known[i] is None:
                        missing.append(i)
                have = sum(sum(x) for x in known.values() if x)
                for i in missing:
                    rest = (np.mean(whole) - have) / len(missing) if whole else have / max(1, n - len(missing))
                    known[i] = [rest]
                for i in range(1, n + 1):
                    for key, x in zip(self.loads[k, unit, i], known[i]):
                        put(key, x)
                totals[k, unit] = (sum(sum(x) for x in known.values()), not missing or bool(whole))
        tow = {h: [totals[k, "tow"][0] for k, s in enumerate(rig.states)
                   if (k, "tow") in totals and s.hitched == h] for h in (True, False)}
        c = o = 0.0
        if rig.coupled:
            o = self.held if self.held is not None else o0 if o0 is not None else rig.tape[0] if rig.tape else 1200.0
            found = [r.y for s in rig.states for r in s.readings if r.at == "coupling"]
            found += [r.y * (rig.D0[0] - rig.j0[0]) / rig.D0[0]
                      for s in rig.states for r in s.readings if r.at == "jockey"]
            if tow[True] and tow[False]:
                found.append(tow[True][0] - tow[False][0])
            c = c0 if c0 is not None else found[0] if found else 100.0
            if abs(c) < 1:
                c = 1.0
            put("C", c)
            if self.held is None:
                put("T", c * o)
            for k, s in enumerate(rig.states):
                if s.support:
                    put(("J", k), c)
        for hitched in (True, False):
            for k, s in enumerate(rig.states):
                if (k, "tow") not in totals or s.hitched != hitched:
                    continue
                moment = sum(sum(z[self.index[key]] for key in self.loads[k, "tow", i + 1])
                             * (off + (rig.L0 if g == "rear" else 0)) for i, (g, off) in enumerate(rig.tow_axles))
                total = totals[k, "tow"][0]
                rear = moment / rig.L0
                put("R", rear - (c * (1 + o / rig.L0) if hitched else 0))
                put("F", total - rear + (c * o / rig.L0 if hitched else 0))
        if rig.trailer:
            for k, s in enumerate(rig.states):
                if (k, "trailer") in totals:
                    off = c if rig.coupled and (s.hitched or s.support) else 0
                    put("M", totals[k, "trailer"][0] + off)
        return z / self.sc


class Solution:
    """A point, and the linear picture there."""

    def __init__(self, model, z):
        self.model, self.z = model, z
        b = model.jacobian(model.constraints, z)
        n = len(z)
        if len(b):
            b = b / np.linalg.norm(b, axis=1)[:, None]
            self.Z = null_space(b, rcond=1e-11)
        else:
            self.Z = np.eye(n)
        a = model.jacobian(model.fitted, z) / model.u[:, None]
        self.r = model.residual(z)
        u, s, vt = np.linalg.svd(a @ self.Z, full_matrices=True)
        self.rank = int(np.sum(s > RANK * s[0])) if len(s) else 0
        self.singular = s
        self.U, self.s, self.V = u[:, :self.rank], s[:self.rank], vt[:self.rank].T
        self.free = self.Z @ vt[self.rank:].T
        self.root = (self.Z @ self.V) / self.s       # covariance = root rootᵀ

    @property
    def chi_square(self):
        return float(self.r @ self.r)

    def step(self, damping):
        rhs = self.U.T @ self.r
        return self.Z @ (self.V @ (rhs * self.s / (self.s ** 2 + damping)))

    def free_part(self, g):
        length = np.linalg.norm(g)
        return 0.0 if length == 0 or self.free.shape[1] == 0 else np.linalg.norm(g @ self.free) / length

    def covariance(self, g1, g2):
        return float((g1 @ self.root) @ (g2 @ self.root))


def newton_step(here):
    """The step of Newton's method on the Lagrangian, within the constraints and the determined part."""
    model, z = here.model, here.z
    b = model.jacobian(model.constraints, z)

    def slope(point):
        a = model.jacobian(model.fitted, point) / model.u[:, None]
        g = -a.T @ model.residual(point)
        return g + model.jacobian(model.constraints, point).T @ multipliers if len(b) else g

    multipliers = np.zeros(len(b))
    if len(b):
        multipliers = np.linalg.lstsq(b.T, -slope(z), rcond=None)[0]
    p = here.Z @ here.V
    h = 1e-5
    hessian = np.array([p.T @ (slope(z + h * d) - slope(z - h * d)) / (2 * h) for d in p.T])
    size, turn = np.linalg.eigh((hessian + hessian.T) / 2)
    size = np.maximum(np.abs(size), 1e-8 * np.max(np.abs(size)))
    return p @ (turn @ (turn.T @ (-(p.T @ slope(z))) / size))


def solve(model, z, steps=80, guarded=True):
    """Gauss-Newton with Levenberg-Marquardt damping on the constraint surface; where that is slow,
    because the residuals are large and the overhang bends the problem, Newton's own steps."""
    here = Solution(model, model.project(z))
    damping = 0.0
    small = 0
    for iteration in range(1, steps + 1):
        z, chi = here.z, here.chi_square
        if not np.isfinite(chi):
            raise NotSolved("not finite")
        if "T" in model.index and abs(model.at(z)("T")) > 3e8:
            raise NotSolved("the overhang wanders")
        gn = np.linalg.norm(here.step(0.0)) / max(np.linalg.norm(z), 1e-300)
        if gn < 1e-10:
            small += 1
            if small >= 2 or gn < 1e-14:
                return here, iteration
        candidates = []
        if iteration > SLOW:
            full = newton_step(here)
            candidates = [full * 0.5 ** i for i in range(8)]
        for _ in range(40):
            step = candidates.pop(0) if candidates else here.step(damping)
            trial = model.project(z + step)
            r = model.residual(trial)
            c = model.value(model.constraints, trial)
            ok = not guarded or model.sensible(trial) >= model.sensible(z)
            ok = ok and np.all(np.isfinite(r)) and (not c.size or np.max(np.abs(c)) < 1e-9)
            if ok and r @ r <= chi * (1 + 1e-13) + 1e-15:
                break
            if gn < 1e-9:       # at the floor of the arithmetic
                return here, iteration
            if not candidates:
                damping = max(damping * 8, 1e-6)
        else:
            raise NotSolved("no step reduces chi-square")
        here = Solution(model, trial)
        damping = damping / 5 if damping > 1e-9 else 0.0
    raise NotSolved("no convergence in %d steps" % steps)


# ---------------------------------------------------------------- derived quantities

def derived(model, v):
    """(name, state, at, unit, value) of all but the inferred ones."""
    rig = model.rig
    out = []

    def add(name, unit, value, state=None, at=None):
        out.append((name, state, at, unit, value))

    f, r = v("F"), v("R")
    add("tow_unhitched_front", "kg", f)
    add("tow_unhitched_rear", "kg", r)
    add("tow_unhitched_total", "kg", f + r)
    if rig.coupled:
        o = model.overhang(v)
        add("coupling_load", "kg", v("C"))
        for k, s in enumerate(rig.states):
            add("coupling_load_at_height", "kg", model.coupling(v, k) + 0 * f, s.name)
        for k, s in enumerate(rig.states):
            if s.hitched:
                add("coupling_load_net", "kg", model.net(v, k)[0], s.name)
        add("load_transfer_ratio", "1", 1 + o / v("L"))
        add("front_relief_ratio", "1", o / v("L"))
        add("overhang", "mm", o + 0 * f)
    if rig.trailer:
        for k, s in enumerate(rig.states):
            if s.hitched:
                total, front = model.tow_total(v, k), model.tow_front(v, k)
                add("tow_hitched_front", "kg", front, s.name)
                add("tow_hitched_rear", "kg", total - front, s.name)
                add("tow_hitched_total", "kg", total, s.name)
        add("trailer_mass", "kg", v("M"))
        if rig.coupled:
            for k, s in enumerate(rig.states):
                if s.hitched:
                    add("trailer_axles_hitched", "kg", v("M") - model.net(v, k)[0], s.name)
        add("combination_mass", "kg", f + r + v("M"))
    if rig.coupled:
        add("coupling_share", "1", v("C") / v("M"))
        for k, s in enumerate(rig.states):
            if s.bars:
                w = v(("W", k))
                lost = model.coupling_moment(v, k)
                add("weight_distribution_moment", "kg·mm", w, s.name)
                add("front_axle_restoration", "1", w * (1 + o / v("D")) / lost, s.name)
                add("_front_loss", "kg", lost / v("L"), s.name)
        add("height_sensitivity", "kg/mm", v("S"))
    for (k, unit, i), keys in model.loads.items():
        name, at = rig.states[k].name, "%s.%d" % (unit, i)
        if len(keys) == 2:
            for key in keys:
                add("wheel_load", "kg", v(key), name, at + "." + key[3])
            add("side_difference", "kg", v(keys[0]) - v(keys[1]), name, at)
        add("axle_load", "kg", model.axle(v, k, unit, i), name, at)
    for k, s in enumerate(rig.states):
        if s.reads["tow"]:
            for g in ("front", "rear"):
                add("group_load", "kg", sum(model.axle(v, k, "tow", i + 1) for i, (gg, _) in
                                            enumerate(rig.tow_axles) if gg == g), s.name, "tow." + g)
        if s.reads["trailer"]:
            add("group_load", "kg", sum(model.axle(v, k, "trailer", i + 1)
                                        for i in range(rig.n_trailer)), s.name, "trailer")
    return out


def fieller(a, b, vaa, vbb, vab):
    """The 95 % interval of a/b, or None where unbounded."""
    z2 = Z95 ** 2
    p = b * b - z2 * vbb
    if p <= 0:
        return None
    q = a * b - z2 * vab
    root = math.sqrt(max(q * q - p * (a * a - z2 * vaa), 0.0))
    return [(q - root) / p, (q + root) / p]


def near(a, b, share=1e-5):
    return abs(a - b) <= share * max(abs(a), abs(b))


STARTS = ((None, None), (5.0, 500.0), (1000.0, 1200.0), (None, -200.0))     # coupling load, overhang


def solve_any(model, starts=STARTS, points=()):
    """The first of the starts that converges: solution, steps, and how ("", "restarted" or, where
    no sensible drawbar fits and D had to be let go behind its pole, "drawbar")."""
    why = None
    starts = list(points) + [model.first_guess(*s) for s in starts]
    with np.errstate(all="ignore"):
        for guarded in (True, False) if "j" in model.index else (True,):
            for n, z in enumerate(starts):
                try:
                    how = "drawbar" if not guarded else "restarted" if n else ""
                    return (*solve(model, z, guarded=guarded), how)
                except (NotSolved, np.linalg.LinAlgError, ValueError) as e:
                    why = e
    raise NotSolved(str(why))


def other_minimum(model, sol):
    """Whether another start ends in another minimum."""
    with np.errstate(all="ignore"):
        for start in STARTS[1:]:
            try:
                chi = solve(model, model.first_guess(*start), SLOW)[0].chi_square
            except (NotSolved, np.linalg.LinAlgError, ValueError):
                continue
            if abs(chi - sol.chi_square) > 1e-6 * max(1, chi):
                return True
    return False


def reconcile(sheet, look_around=False):
    """The result. `look_around`: also see whether the session has a second minimum."""
    rig = Rig(sheet)
    border, hard = [], []
    fallback = False
    model = Model(rig)
    starts = STARTS if rig.coupled else STARTS[:1]
    try:
        sol, iterations, how = solve_any(model, starts)
        if how:
            hard.append(how)
    except NotSolved:
        if not rig.coupled:
            raise
        fallback = True
        model = Model(rig, held=rig.tape[0] if rig.tape else 1200.0)
        sol, iterations, _ = solve_any(model, starts)
    if look_around and rig.coupled and not fallback and other_minimum(model, sol):
        hard.append("several minima")
    if iterations > SLOW:
        hard.append("all")

    # fit
    m = len(model.y)
    dof = m - sol.rank
    chi = sol.chi_square
    red = np.clip(1 - np.sum(sol.U ** 2, axis=1), 0, 1)
    checked = (red >= 0.01) & (dof > 0)
    n_checked = int(np.sum(checked))
    w = np.where(checked, sol.r / np.sqrt(np.where(checked, red, 1)), 0)
    z_crit = norm.isf(0.0125 / n_checked) if n_checked else None
    p = float(chi2.sf(chi, dof)) if dof > 0 else None
    consistent = None if dof <= 0 else bool(p >= 0.025 and (not n_checked or np.max(np.abs(w)) <= z_crit))
    s = sol.singular
    if len(s) and np.any((s > RANK * s[0] / 100) & (s < RANK * s[0] * 100)):
        border.append("rank")
    if len(red) and np.any(np.abs(red - 0.01) < 1e-6):
        border.append("checked")

    observations = []
    for i, (meta, y, u, _) in enumerate(model.observations):
        res = float(sol.r[i] * u)
        observations.append(dict(
            meta, value=float(y), u=float(u), fitted=float(y - res), residual=res, redundancy=float(red[i]),
            normalised_residual=float(w[i]) if checked[i] else None,
            smallest_detectable=float((z_crit + 0.8416) * u / math.sqrt(red[i])) if checked[i] else None))

    # quantities
    def picture(mod, so):
        rows = derived(mod, mod.at(so.z))
        values = [float(np.real(q[4])) for q in rows]
        grads = mod.jacobian(lambda v: [q[4] for q in derived(mod, v)], so.z)
        return {(q[0], q[1], q[2]): (q[3], x, g) for q, x, g in zip(rows, values, grads)}

    pic = picture(model, sol)
    quantities = []

    def determinable(so, g, key):
        part = so.free_part(g)
        if 1e-9 < part < 1e-5:
            border.append(list(key))
        return part <= DETERMINABLE

    def spread(so, g):
        return math.sqrt(so.covariance(g, g))

    no_ratio = fallback
    if rig.coupled and not fallback:
        _, c, g = pic["coupling_load", None, None]
        if not rig.tape and sol.free_part(g) <= DETERMINABLE:
            u_c = spread(sol, g)
            no_ratio |= abs(c) <= Z95 * u_c
            if near(abs(c), Z95 * u_c):
                border.append("ratios")
        o = pic["overhang", None, None][1]
        no_ratio |= not abs(o) <= FAR
        if near(abs(o), FAR):
            border.append("ratios")

    for key, (unit, value, g) in pic.items():
        name, state, at = key
        if name.startswith("_"):
            continue
        u = None
        good = not (no_ratio and name in ("overhang", "load_transfer_ratio", "front_relief_ratio",
                                          "front_axle_restoration"))
        good = good and np.all(np.isfinite(g)) and determinable(sol, g, key)
        if good:
            u = spread(sol, g)
        if good and name == "height_sensitivity":
            good = u < rig.S_u / 2
            if near(u, rig.S_u / 2):
                border.append(list(key))
        if good and name == "front_axle_restoration":
            _, lost, gl = pic["_front_loss", state, None]
            good = determinable(sol, gl, key) and abs(lost) >= 2 * spread(sol, gl)
            if near(abs(lost), 2 * spread(sol, gl)):
                border.append(list(key))
        quantities.append(quantity(name, state, at, unit, good, value, u))

    # the overhang from the weights alone
    if rig.coupled:
        bare, bare_sol = model, sol
        if rig.tape or fallback:
            bare = Model(rig, tape=False)
            try:
                points = [] if fallback else [sol.z]
                bare_sol, bare_steps, how = solve_any(bare, starts[:2], points)
                if how == "drawbar":
                    hard.append("inferred unsolved")
                elif how or bare_steps > SLOW:
                    hard.append("inferred")
            except NotSolved:
                bare_sol = None
                hard.append("inferred unsolved")
        inferred = {}
        if bare_sol is not None:
            pairs = [lambda v: v("T"), lambda v: v("C"), lambda v: v("T") / v("L")]
            x = bare.value(lambda v: [f(v) for f in pairs], bare_sol.z)
            gr = bare.jacobian(lambda v: [f(v) for f in pairs], bare_sol.z)
            bpic = picture(bare, bare_sol)
            z2c = Z95 * spread(bare_sol, gr[1])
            for name, source, top, add in (("inferred_overhang", "overhang", 0, 0),
                                           ("inferred_transfer_ratio", "load_transfer_ratio", 2, 1)):
                _, value, g = bpic[source, None, None]
                key = (name, None, None)
                ok = (abs(x[0] / x[1]) <= FAR and determinable(bare_sol, g, key)
                      and determinable(bare_sol, gr[top], key) and determinable(bare_sol, gr[1], key))
                if near(abs(x[1]), z2c) or near(abs(x[0] / x[1]), FAR):
                    border.append(list(key))
                if ok:
                    cov = bare_sol.covariance
                    box = fieller(x[top], x[1], cov(gr[top], gr[top]), cov(gr[1], gr[1]), cov(gr[top], gr[1]))
                    if box:
                        inferred[name] = (value, spread(bare_sol, g), [b + add for b in box])
        for name, unit in (("inferred_overhang", "mm"), ("inferred_transfer_ratio", "1")):
            value, u, box = inferred.get(name, (None, None, None))
            quantities.append(quantity(name, None, None, unit, value is not None, value, u, box))

    return {
        "format": "steelyard-result/1",
        "session": sheet.get("id"),
        "fit": {"observations": m, "unknowns": sol.rank, "degrees_of_freedom": dof, "chi_square": chi,
                "p_value": p, "consistent": consistent, "iterations": iterations},
        "quantities": quantities,
        "observations": observations,
        "_reference": {"fallback": fallback, "borderline": border, "hard": hard},
    }


def quantity(name, state, at, unit, good, value, u, interval=None):
    return {"name": name, "state": state, "at": at, "unit": unit, "determinable": bool(good),
            "value": float(value) if good else None, "u": float(u) if good else None,
            "interval": interval if good else None, "needs": None}


if __name__ == "__main__":
    for path in sys.argv[1:]:
        with open(path, encoding="utf-8") as f:
            text = f.read()
        sheets = [json.loads(line) for line in text.splitlines() if line.strip()] \
            if path.endswith(".jsonl") else [json.loads(text)]
        for one in sheets:
            print(json.dumps(reconcile(one), ensure_ascii=False))
