#!/usr/bin/env python3
"""How planing hulls run: trim, wetted length and drag at speed, by Savitsky's equations.

Independent truth: the equations of D. Savitsky, "Hydrodynamic Design of Planing Hulls",
Marine Technology 1(1), 1964, pp. 71-95, as a public page copies them, solved by
scipy's brentq one within another.  Angles in degrees where an equation has a power of them.

  Cv = V / sqrt(g b)                                           b beam over the chines
  W / (rho/2 V^2 b^2) = CL0 - 0.0065 beta CL0^0.6              gives CL0
  CL0 = tau^1.1 (0.0120 sqrt(lambda) + 0.0055 lambda^2.5 / Cv^2)   gives lambda
  CLd = 0.0120 sqrt(lambda) tau^1.1
  V1 = V sqrt(1 - (CLd - 0.0065 beta CLd^0.6) / (lambda cos tau))  mean speed under the bottom
  Re = V1 lambda b / nu;  0.242 / sqrt(Cf) = log10(Re Cf)      Schoenherr's line
  Df = rho/2 V1^2 lambda b^2 (Cf + 0.0004) / cos beta
  D = W tan tau + Df / cos tau
  Cp = 0.75 - 1 / (5.21 Cv^2 / lambda^2 + 2.39)
  c = lcg - Cp lambda b;  a = vcg - b/4 tan beta
  moment = W ((1 - sin tau sin(tau + eps)) c / cos tau - f sin tau) + Df (a - f)
                                                               0 at the running trim
  keel wetted = lambda b + b tan beta / (2 pi tan tau)

Far from the running trim lambda may be so small that the root for V1 is of a negative number;
V1 and Df are 0 there, and only the moment's sign matters.  No row in range comes near that.

Between floating and planing ("between"), Mercier and Savitsky's formula of 1973 with the
coefficients of assets/hump.ron, the one table that both read:

  F = V / sqrt(g vol^(1/3)), 1.0 to 2.0; X = vol^(1/3)/L, Z = vol/B^3, U = sqrt(2 iE), W = AT/AX
  R/W at 100 000 lb: A1 + A2 X + A4 U + A5 W + A6 XZ + A7 XU + A8 XW + A9 ZU + A10 ZW + A15 W^2
                     + A18 X W^2 + A19 Z X^2 + A24 U W^2 + A27 W U^2, linear between rows
  R/W = that + (Cf + 0.0004 - Cf at 100 000 lb) S / (2 vol^(2/3)) F^2, Cf by Schoenherr's line on
        L and the speed of each size; 100 000 lb in sea water of 1025.9 kg/m^3, 1.188e-6 m^2/s
  null where F, or L/vol^(1/3) 3.07 to 12.4, L/B 2.52 to 18.3, B/T 1.7 to 9.8, iE 3.7 to 28.6, or
  AT/AX 0 to 1 is outside

lcg is ahead of the transom, vcg above the keel, f how far the thrust passes below the centre
of mass, eps its angle to the keel.  Rows out of range have null figures and a reason, the
first of these that holds:
  speed    Cv below 0.60 or above 13
  trim     the moment has the same sign at 2 and at 15 degrees, so the running trim is beyond one
  length   lambda above 4 at the running trim

Hulls: the paper's worked example (its units turned into m and kg by the exact factors; 40
knots as its 67.5 ft/s; g 9.80665), and three invented skiffs in fresh water.

Before writing, the script checks, and stops on a failure:
  - in feet and pounds, with g 32.174, the example's printed friction at 2 degrees and the
    table below at 2, 3 and 4 degrees, to their last digits;
  - every 0.02 degrees from 2 to 15, that the moment changes its sign once, from bow-up to
    bow-down, or not at all;
  - each row in range satisfies all equations at once: fsolve, started to one side, finds the
    same from CL0, lambda, Cf and tau together;
  - at trims of whole degrees, brentq and closed forms agree on lambda (a quintic's root) and
    on Cf (Lambert's W);
  - feet and pounds give the example's rows too;
  - between floating and planing, resistance is positive and never falls by a tenth from row to
    row on 2000 random skiffs within the ranges, and Froude's own way (at 100 000 lb, what is not
    friction carried over by the cube of the scale) gives the same.

Run:  python power.py [-o FILE]      (default: power.json beside this file)
Needs numpy, scipy.
"""
import argparse
import json
import math
import re
from pathlib import Path

import numpy as np
from scipy.optimize import brentq, fsolve
from scipy.special import lambertw

CV_RANGE = (0.60, 13.0)
TRIM_RANGE = (2.0, 15.0)
MOST_LAMBDA = 4.0
ROUGHNESS = 0.0004
GRAVITY = 9.80665
FOOT, POUND = 0.3048, 0.45359237
KNOT = 1852.0 / 3600.0
SLUG = POUND * GRAVITY / FOOT
DIGITS = 10

# Weight in lbf, lengths in ft, density in slug/ft^3: the paper's units.
EXAMPLE = {"weight": 60_000.0, "beam": 14.0, "deadrise": 10.0, "lcg": 29.0, "vcg": 2.0, "arm": 0.5, "angle": 4.0,
           "rho": 1.94, "nu": 1.28e-5}
EXAMPLE_SPEED = 67.5
EXAMPLE_G = 32.174
# tau, lambda, V1, Df, D, Cp, c, moment, Lk, Lc, EHP
TABLE = (
    (2.0, "3.83591", "67.15084", "7344.28", "9444.01", "0.58254", "-2.28400", "-131190", "64.954", "42.452", "1159.04"),
    (3.0, "2.57880", "66.81542", "5109.05", "8260.53", "0.65305", "5.42280", "326680", "43.600", "28.606", "1013.79"),
    (4.0, "1.77560", "66.34882", "3621.74", "7826.19", "0.69766", "11.65732", "695440", "30.477", "19.240", "960.49"),
)
EXAMPLE_CV, EXAMPLE_CLB, EXAMPLE_CL0 = "3.18044", "0.069265", "0.083967"
PRINTED_FRICTION = 7340.0

SPEEDS_KN = tuple(5.0 + 2.5 * k for k in range(9))
MORE_KN = (30.0, 35.0, 45.0, 50.0)          # of the example; 40 is its 67.5 ft/s

# name, mass kg, beam m, deadrise, lcg m, vcg m, thrust's arm m
SKIFFS = (
    ("laden flat skiff", 450.0, 1.2, 0.0, 1.0, 0.35, 0.40),
    ("light skiff", 180.0, 1.0, 6.0, 1.15, 0.42, 0.50),
    ("vee skiff", 320.0, 1.5, 14.0, 1.8, 0.50, 0.60),
)


def root(f, low, high):
    """brentq as near as doubles go."""
    return brentq(f, low, high, xtol=1e-15, rtol=1e-14, maxiter=500)


def less_deadrise(lift, deadrise):
    return lift - 0.0065 * deadrise * lift ** 0.6


# ------------------------------------------------------------------------ over the hump
HUMP = [(float(f), np.array([float(x) for x in a.split(",")])) for f, a in re.findall(
    r"\(froude: ([\d.]+), a: \(([^)]*)\)\)",
    (Path(__file__).resolve().parents[2] / "assets" / "hump.ron").read_text())]
TESTED_KG, TESTED_RHO, TESTED_NU = 1e5 * POUND, 1025.9, 1.188e-6
# L, B, T, vol, iE, AT/AX, wetted
FORMS = (
    ("a vee skiff", (4.2, 1.4, 0.20, 0.40, 20.0, 0.60, 4.6)),
    ("a fine work boat", (5.5, 1.6, 0.30, 0.95, 14.0, 0.35, 7.2)),
    ("a flat skiff, too shallow", (3.6, 1.3, 0.11, 0.28, 24.0, 0.70, 4.3)),
    ("a blunt pram", (2.3, 1.1, 0.14, 0.20, 60.0, 0.40, 2.3)),
)
VOLUME_FROUDE = tuple(round(0.85 + 0.1 * k, 2) for k in range(2)) + tuple(
    round(1.0 + 0.0725 * k, 4) for k in range(14)) + (2.05,)


def line_of_friction(re):
    q = 0.5 * 0.242 * math.log(10.0)
    return (q / lambertw(q * math.sqrt(re)).real) ** 2


def tested(form, froude):
    length, beam, _, volume, entrance, transom, _ = form
    x, z = volume ** (1 / 3) / length, volume / beam ** 3
    u, w = math.sqrt(2.0 * entrance), transom
    terms = np.array([1, x, u, w, x * z, x * u, x * w, z * u, z * w, w * w, x * w * w, z * x * x, u * w * w, w * u * u])
    return float(np.interp(froude, [f for f, _ in HUMP], [a @ terms for _, a in HUMP]))


def in_form(form):
    length, beam, draft, volume, entrance, transom, _ = form
    return (3.07 <= length / volume ** (1 / 3) <= 12.4 and 2.52 <= length / beam <= 18.3
            and 1.7 <= beam / draft <= 9.8 and 3.7 <= entrance <= 28.6 and 0.0 <= transom <= 1.0)


def over_the_hump(form, froude, rho=1000.0, nu=1.139e-6):
    """Speed, resistance."""
    length, _, _, volume, _, _, wetted = form
    speed = froude * math.sqrt(GRAVITY * volume ** (1 / 3))
    if not (1.0 <= froude <= 2.0 and in_form(form)):
        return speed, None
    k = (TESTED_KG / TESTED_RHO / volume) ** (1 / 3)
    more = (line_of_friction(speed * length / nu) + ROUGHNESS
            - line_of_friction(speed * math.sqrt(k) * length * k / TESTED_NU))
    share = tested(form, froude) + more * wetted / (2.0 * volume ** (2 / 3)) * froude ** 2
    # Froude's way: the large hull whole, its friction off, the rest carried over, hers on.
    big_speed, big_wetted = speed * math.sqrt(k), wetted * k * k
    big = tested(form, froude) * TESTED_KG * GRAVITY
    rest = big - 0.5 * TESTED_RHO * big_speed ** 2 * big_wetted * line_of_friction(big_speed * length * k / TESTED_NU)
    hers = (rest / k ** 3 * rho / TESTED_RHO
            + 0.5 * rho * speed ** 2 * wetted * (line_of_friction(speed * length / nu) + ROUGHNESS))
    assert abs(hers / (share * rho * volume * GRAVITY) - 1.0) < 1e-10, (hers, share)
    return speed, share * rho * volume * GRAVITY


def check_hump():
    assert len(HUMP) == 11 and all(len(a) == 14 for _, a in HUMP)
    rng = np.random.default_rng(73)
    tried = 0
    while tried < 2000:
        length = rng.uniform(3.0, 6.0)
        form = (length, length / rng.uniform(2.6, 4.0), rng.uniform(0.12, 0.4), length ** 3 / rng.uniform(4.5, 7.0) ** 3,
                rng.uniform(12.0, 28.0), rng.uniform(0.1, 0.8), 1.05 * length * length / 3.2)
        if not in_form(form):
            continue
        tried += 1
        run = [over_the_hump(form, f)[1] for f, _ in HUMP]
        assert min(run) > 0.0 and min(np.diff(run) / run[:-1]) > -0.1, (form, run)


def between():
    out = []
    for name, form in FORMS:
        keys = ("length_m", "beam_m", "draft_m", "volume_m3", "entrance_deg", "transom_share", "wetted_m2")
        inputs = dict(zip(keys, form)) | {"weight_n": float(f"{1000.0 * form[3] * GRAVITY:.15g}"), "viscosity_m2_s": 1.139e-6}
        found = [over_the_hump(form, f) for f in VOLUME_FROUDE]
        out.append({"name": name, "inputs": inputs, "rows": [
            {"speed_m_s": float(f"{v:.15g}"), "resistance_n": None if r is None else digits(r)} for v, r in found]})
        print(name, [None if r is None else round(r, 1) for _, r in found])
    return out


class Running:
    """A hull at a speed; any consistent units."""

    def __init__(self, hull, speed, g):
        self.h, self.speed = hull, speed
        self.cv = speed / math.sqrt(g * hull["beam"])
        self.pressure = 0.5 * hull["rho"] * speed ** 2
        self.clb = hull["weight"] / (self.pressure * hull["beam"] ** 2)
        # Below `least` the corrected lift is negative.
        least = (0.0065 * hull["deadrise"]) ** 2.5
        self.cl0 = root(lambda c: less_deadrise(c, hull["deadrise"]) - self.clb, least, self.clb + least + 10.0)

    def lift(self, tau, wetted):
        return tau ** 1.1 * (0.0120 * math.sqrt(wetted) + 0.0055 * wetted ** 2.5 / self.cv ** 2)

    def wetted(self, tau):
        return root(lambda w: self.lift(tau, w) - self.cl0, 1e-9, 1e4)

    def bottom_speed(self, tau, wetted):
        dynamic = 0.0120 * math.sqrt(wetted) * tau ** 1.1
        share = 1.0 - less_deadrise(dynamic, self.h["deadrise"]) / (wetted * math.cos(math.radians(tau)))
        return self.speed * math.sqrt(max(share, 0.0))

    def reynolds(self, tau, wetted):
        return self.bottom_speed(tau, wetted) * wetted * self.h["beam"] / self.h["nu"]

    @staticmethod
    def schoenherr(re):
        if re == 0.0:
            return 0.0
        return root(lambda cf: 0.242 / math.sqrt(cf) - math.log10(re * cf), 1e-5, 1e6)

    def friction(self, tau, wetted, cf):
        area = wetted * self.h["beam"] ** 2 / math.cos(math.radians(self.h["deadrise"]))
        return 0.5 * self.h["rho"] * self.bottom_speed(tau, wetted) ** 2 * area * (cf + ROUGHNESS)

    def arm_of_lift(self, wetted):
        """Cp, and c."""
        centre = 0.75 - 1.0 / (5.21 * self.cv ** 2 / wetted ** 2 + 2.39)
        return centre, self.h["lcg"] - centre * wetted * self.h["beam"]

    def turning(self, tau, wetted, friction):
        """The moment; positive puts the bow down."""
        t, e, f = math.radians(tau), math.radians(self.h["angle"]), self.h["arm"]
        a = self.h["vcg"] - 0.25 * self.h["beam"] * math.tan(math.radians(self.h["deadrise"]))
        lifted = (1.0 - math.sin(t) * math.sin(t + e)) * self.arm_of_lift(wetted)[1] / math.cos(t)
        return self.h["weight"] * (lifted - f * math.sin(t)) + friction * (a - f)

    def at(self, tau):
        """lambda, Cf, Df, drag, moment, keel and chine wetted."""
        t = math.radians(tau)
        wetted = self.wetted(tau)
        cf = self.schoenherr(self.reynolds(tau, wetted))
        friction = self.friction(tau, wetted, cf)
        drag = self.h["weight"] * math.tan(t) + friction / math.cos(t)
        mean = wetted * self.h["beam"]
        more = self.h["beam"] * math.tan(math.radians(self.h["deadrise"])) / (2.0 * math.pi * math.tan(t))
        return {"lambda": wetted, "cf": cf, "friction": friction, "drag": drag,
                "moment": self.turning(tau, wetted, friction), "keel": mean + more, "chine": mean - more}

    def moment(self, tau):
        return self.at(tau)["moment"]

    def settle(self):
        """Reason or None, trim, figures there."""
        if not CV_RANGE[0] <= self.cv <= CV_RANGE[1]:
            return "speed", None, None
        if self.moment(TRIM_RANGE[0]) * self.moment(TRIM_RANGE[1]) > 0.0:
            return "trim", None, None
        tau = root(self.moment, *TRIM_RANGE)
        found = self.at(tau)
        return "length" if found["lambda"] > MOST_LAMBDA else None, tau, found


# ------------------------------------------------------------------------ checks
def printed(value, text):
    """Does `value` round to the printed `text`, give or take a hundredth of its last place?"""
    last = 10.0 if text.endswith("0") and "." not in text else 10.0 ** -len(text.partition(".")[2])
    assert abs(value - float(text)) <= 0.51 * last, (value, text)


def check_table():
    run = Running(EXAMPLE, EXAMPLE_SPEED, EXAMPLE_G)
    for value, text in ((run.cv, EXAMPLE_CV), (run.clb, EXAMPLE_CLB), (run.cl0, EXAMPLE_CL0)):
        printed(value, text)
    for tau, *row in TABLE:
        f = run.at(tau)
        centre, c = run.arm_of_lift(f["lambda"])
        for value, text in zip((f["lambda"], run.bottom_speed(tau, f["lambda"]), f["friction"], f["drag"], centre, c,
                                f["moment"], f["keel"], f["chine"], f["drag"] * EXAMPLE_SPEED / 550.0), row, strict=True):
            printed(value, text)
    assert abs(run.at(2.0)["friction"] / PRINTED_FRICTION - 1.0) < 1e-3


def check_parts(run):
    """lambda from x^5 + A x = B with x^2 = lambda; Cf from W exp W = z."""
    for tau in range(2, 16):
        wetted = run.wetted(tau)
        k = run.cv ** 2 / 0.0055
        roots = np.roots([1.0, 0.0, 0.0, 0.0, 0.0120 * k, -run.cl0 * k / tau ** 1.1])
        real = roots[(np.abs(roots.imag) < 1e-12) & (roots.real > 0.0)].real
        assert len(real) == 1 and abs(real[0] ** 2 / wetted - 1.0) < 1e-10, (tau, real, wetted)
        re = run.reynolds(tau, wetted)
        if re == 0.0:
            continue
        # With y = 1 / sqrt(Cf):  0.242 ln 10 y + 2 ln y = ln Re.
        q = 0.5 * 0.242 * math.log(10.0)
        y = lambertw(q * math.sqrt(re)).real / q
        assert abs(run.schoenherr(re) * y * y - 1.0) < 1e-12, (tau, re)


def check_one_root(run):
    moments = np.array([run.moment(t) for t in np.linspace(*TRIM_RANGE, 651)])
    ends = moments[0] > 0.0, moments[-1] > 0.0
    assert np.abs(np.diff(np.sign(moments))).sum() == 2 * (ends[0] != ends[1]), "more than one trim may do"
    assert ends != (True, False), "bow-down moment that turns bow-up as the bow rises"


def check_together(run, tau, found):
    """All unknowns at once, from a start to one side."""
    def amiss(x):
        cl0, wetted, cf, t = x * sizes
        friction = run.friction(t, wetted, cf)
        return [less_deadrise(cl0, run.h["deadrise"]) / run.clb - 1.0, run.lift(t, wetted) / cl0 - 1.0,
                math.log10(run.reynolds(t, wetted) * cf) * math.sqrt(cf) / 0.242 - 1.0,
                run.turning(t, wetted, friction) / (run.h["weight"] * run.h["beam"])]
    sizes = np.array([run.cl0, found["lambda"], found["cf"], tau])
    x, _, ended, why = fsolve(amiss, [1.03, 0.95, 1.04, 1.06], xtol=1e-13, full_output=True)
    assert np.abs(x - 1.0).max() < 1e-9, (ended, why, x)


# ------------------------------------------------------------------------ the work
def digits(value):
    return float(f"{value:.{DIGITS - 1}e}")


def metric(hull):
    lengths = {k: hull[k] * FOOT for k in ("beam", "lcg", "vcg", "arm")}
    return {**hull, **lengths, "weight": hull["weight"] * POUND * GRAVITY, "rho": hull["rho"] * SLUG / FOOT ** 3,
            "nu": hull["nu"] * FOOT ** 2}


def rows(name, hull, speeds):
    print(f"{name}: {hull['weight'] / GRAVITY:.1f} kg, beam {hull['beam']:.3f}, deadrise {hull['deadrise']:g}")
    out = []
    for speed in speeds:
        run = Running(hull, speed, GRAVITY)
        reason, tau, found = run.settle()
        if reason != "speed":
            check_parts(run)
            check_one_root(run)
        if found:
            assert 0.5 * speed < run.bottom_speed(tau, found["lambda"]) < speed
            check_together(run, tau, found)
        row = {"speed_m_s": float(f"{speed:.15g}"), "in_range": reason is None, "reason": reason}
        keys = ("trim_deg", "lambda", "drag_n", "keel_wetted_m")
        values = (tau, found["lambda"], found["drag"], found["keel"]) if reason is None else (None,) * 4
        out.append(row | {k: None if v is None else digits(v) for k, v in zip(keys, values)})
        told = "" if not found else (f"  trim {tau:8.5f}  lambda {found['lambda']:.5f}  drag {found['drag']:10.3f}"
                                     f"  keel {found['keel']:8.5f}  chine {found['chine']:8.5f}")
        if reason == "trim":
            told = f"  moments {run.moment(TRIM_RANGE[0]):.1f} to {run.moment(TRIM_RANGE[1]):.1f}"
        print(f"  {speed / KNOT:6.3f} kn  Cv {run.cv:.4f}  {reason or 'in range':8s}{told}")
    return out


def entry(name, definition, hull, speeds):
    inputs = {"mass_kg": hull["weight"] / GRAVITY, "beam_m": hull["beam"], "deadrise_deg": hull["deadrise"],
              "lcg_m": hull["lcg"], "vcg_m": hull["vcg"], "thrust_arm_m": hull["arm"],
              "thrust_angle_deg": hull["angle"], "density_kg_m3": hull["rho"], "viscosity_m2_s": hull["nu"],
              "gravity_m_s2": GRAVITY}
    inputs = {k: float(f"{v:.15g}") for k, v in inputs.items()}
    return {"name": name, "definition": definition, "inputs": inputs, "rows": rows(name, hull, speeds)}


def check_feet(hull, speeds):
    """The example's rows in feet and pounds."""
    g = GRAVITY / FOOT
    for speed in speeds:
        reason, tau, found = Running(metric(hull), speed, GRAVITY).settle()
        other = Running(hull, speed / FOOT, g).settle()
        assert other[0] == reason
        if found:
            assert abs(other[1] / tau - 1.0) < 1e-10, (speed, other[1], tau)
            assert abs(other[2]["drag"] * POUND * GRAVITY / found["drag"] - 1.0) < 1e-10


def write_json(path, data):
    """Indented, but with each innermost record on one line."""
    text = json.dumps(data, indent=1)
    text = re.sub(r"\{\s+([^\[\]{}]*?)\s+\}", lambda m: "{" + re.sub(r"\s*\n\s*", " ", m[1]) + "}", text)
    Path(path).write_text(text + "\n")


def main():
    here = Path(__file__).resolve().parent
    parser = argparse.ArgumentParser(description="Write how planing hulls run, by Savitsky's equations.")
    parser.add_argument("-o", "--output", default=here / "power.json", type=Path)
    args = parser.parse_args()
    check_table()
    check_hump()
    speeds = [kn * KNOT for kn in SPEEDS_KN]
    example = sorted([*speeds, *(kn * KNOT for kn in MORE_KN), EXAMPLE_SPEED * FOOT])
    check_feet(EXAMPLE, example)
    hulls = [entry("worked example", "Savitsky 1964: 60000 lb, beam 14 ft, 67.5 ft/s, and other speeds.",
                   metric(EXAMPLE), example)]
    for name, mass, beam, deadrise, lcg, vcg, arm in SKIFFS:
        hull = {"weight": mass * GRAVITY, "beam": beam, "deadrise": deadrise, "lcg": lcg, "vcg": vcg, "arm": arm,
                "angle": 0.0, "rho": 1000.0, "nu": 1.139e-6}
        hulls.append(entry(name, "Invented; fresh water.", hull, speeds))
    write_json(args.output, {
        "about": "How planing hulls run at speed, by Savitsky's equations of 1964 with Schoenherr's friction line and "
                 "0.0004 more; null where out of range. Written by power.py.",
        "hulls": hulls,
        "between": between()})
    print("all self-checks passed")


if __name__ == "__main__":
    main()
