#!/usr/bin/env python3
"""Exactly developable test panels with exact flat shapes.

Independent truth: every panel here is a piece of a surface whose flat pattern
follows from classical closed forms, with at most one integral done by
scipy.integrate.quad.  Nothing is unrolled strip by strip.

  cylinders   flat u = integral of the speed of the directrix square to the
              generators, flat v = distance along the generator
  cones       flat polar radius = distance to the apex, flat polar angle psi with
              dpsi/dphi = sqrt(|P'|^2 - (|P|')^2) / |P|
  tangent developable of a helix
              the helix itself flattens to a circle of radius 1/curvature, turned
              through curvature * arc length; a tangent stays a tangent and keeps
              its length

The radii of principal curvature and the turning of the surface normal are closed
forms too.  Before anything is written the script checks, and stops on a failure:
  - the general functions reproduce the known tables for unit-sized surfaces;
  - the first fundamental forms of the surface in space and of the flat agree,
    point by point, from derivatives of Chebyshev fits of the two sets of points
    (so the derivative formulas above are not used in the check);
  - edge lengths from those fits agree in space and flat; ruling lengths agree;
  - the area agrees with a surface integral in space and with the shoelace
    formula over the flat outline;
  - edge tangents and ruling are coplanar all along.

Units are millimetres.  x runs along the panel, y is outward (the convex side),
z is up.  Flat frame: origin at the first lower point, u along the chord of the
lower edge in the direction of increasing x, v from the lower edge to the upper.

Run:  python closed_forms.py [-o FILE]      (default: closed_forms.json beside this file)
Needs numpy and scipy.
"""
import argparse
import json
import math
import re
from pathlib import Path

import numpy as np
from numpy.polynomial import chebyshev as cheb
from scipy.integrate import quad
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq
from scipy.special import ellipe

EDGE_POINTS = 81
RULINGS = 9
DEGREE = 48                       # of the Chebyshev fits used for checking and spacing
RAD = math.pi / 180.0


def integral(f, a, b):
    """One smooth integral, to about 1e-13 of its size."""
    if a == b:
        return 0.0
    value, error = quad(f, a, b, epsabs=0.0, epsrel=2e-14, limit=200)
    assert error <= 1e-11 * max(1.0, abs(value)), (value, error)
    return value


# ---------------------------------------------------------------- the families
class Developable:
    """Point = base(t) + a * direction(t); the panel is lower_a(t) <= a <= upper_a(t)."""

    def space(self, t, edge):
        return self.place(self.base(t) + self.reach(t, edge) * self.direction(t))

    def place(self, p):
        return self.rotation @ p + self.shift

    rotation = np.eye(3)
    shift = np.zeros(3)

    def reach(self, t, edge):
        return (self.lower_a if edge == "lower" else self.upper_a)(t)


class Cylinder(Developable):
    """Directrix: circle of radius r in the plane z = 0, P = (r sin t, r cos t, 0).
    Generators along the unit vector g.  Edges: cuts by the planes z = m x + c."""

    def __init__(self, r, g, t0, t1, lower_plane, upper_plane):
        self.r, self.t0, self.t1 = r, t0, t1
        self.g = np.array(g, float) / np.linalg.norm(g)
        self.lower_plane, self.upper_plane = lower_plane, upper_plane

    def base(self, t):
        return np.array([self.r * math.sin(t), self.r * math.cos(t), 0.0])

    def direction(self, t):
        return self.g

    def cut(self, t, plane):
        m, c = plane
        return (m * self.r * math.sin(t) + c) / (self.g[2] - m * self.g[0])

    def lower_a(self, t):
        return self.cut(t, self.lower_plane)

    def upper_a(self, t):
        return self.cut(t, self.upper_plane)

    def first(self, t):
        return np.array([self.r * math.cos(t), -self.r * math.sin(t), 0.0])

    def across(self, t):
        p = self.first(t)
        return math.sqrt(p @ p - (p @ self.g) ** 2)

    def flat(self, t, edge):
        return np.array([integral(self.across, self.t0, t), self.base(t) @ self.g + self.reach(t, edge)])

    def edge_length(self, edge):
        """Plane cut: |P' + a' g|."""
        m, _ = self.lower_plane if edge == "lower" else self.upper_plane
        k = m * self.r / (self.g[2] - m * self.g[0])

        def speed(t):
            d = self.first(t) + k * math.cos(t) * self.g
            return math.sqrt(d @ d)
        return integral(speed, self.t0, self.t1)

    def area(self):
        return integral(lambda t: (self.upper_a(t) - self.lower_a(t)) * self.across(t), self.t0, self.t1)

    def radius(self, t, edge):
        second = np.array([-self.r * math.sin(t), -self.r * math.cos(t), 0.0])
        return self.across(t) ** 3 / abs(np.cross(self.first(t), second) @ self.g)

    def turning(self):
        return integral(lambda t: self.across(t) / self.radius(t, "lower"), self.t0, self.t1)


class Cone(Developable):
    """Apex at the origin; directrix circle P = (d + r sin t, e + r cos t, h).
    Lower edge: P times a constant (a circle).  Upper edge: cut by the plane z = m x + c."""

    def __init__(self, r, d, e, h, t0, t1, lower_scale, upper_plane):
        self.r, self.d, self.e, self.h, self.t0, self.t1 = r, d, e, h, t0, t1
        self.lower_scale, self.upper_plane = lower_scale, upper_plane

    def base(self, t):
        return np.zeros(3)

    def direction(self, t):
        return np.array([self.d + self.r * math.sin(t), self.e + self.r * math.cos(t), self.h])

    def first(self, t):
        return np.array([self.r * math.cos(t), -self.r * math.sin(t), 0.0])

    def lower_a(self, t):
        return self.lower_scale

    def upper_a(self, t):
        m, c = self.upper_plane
        return c / (self.h - m * (self.d + self.r * math.sin(t)))

    def upper_a_rate(self, t):
        m, c = self.upper_plane
        return c * m * self.r * math.cos(t) / (self.h - m * (self.d + self.r * math.sin(t))) ** 2

    def psi_rate(self, t):
        p, q = self.direction(t), self.first(t)
        length = math.sqrt(p @ p)
        length_rate = (p @ q) / length
        return math.sqrt(q @ q - length_rate ** 2) / length

    def flat(self, t, edge):
        psi = integral(self.psi_rate, self.t0, t)
        rho = self.reach(t, edge) * np.linalg.norm(self.direction(t))
        return rho * np.array([math.sin(psi), math.cos(psi)])

    def edge_length(self, edge):
        if edge == "lower":
            return self.lower_scale * self.r * (self.t1 - self.t0)

        def speed(t):
            d = self.upper_a(t) * self.first(t) + self.upper_a_rate(t) * self.direction(t)
            return math.sqrt(d @ d)
        return integral(speed, self.t0, self.t1)

    def area(self):
        def rate(t):
            p = self.direction(t)
            return 0.5 * (self.upper_a(t) ** 2 - self.lower_a(t) ** 2) * (p @ p) * self.psi_rate(t)
        return integral(rate, self.t0, self.t1)

    def radius(self, t, edge):
        p, q = self.direction(t), self.first(t)
        second = np.array([-self.r * math.sin(t), -self.r * math.cos(t), 0.0])
        w = np.linalg.norm(np.cross(p, q))
        return self.reach(t, edge) * w ** 3 / ((p @ p) * abs(np.cross(q, second) @ p))

    def turning(self):
        def rate(t):
            width = self.psi_rate(t) * np.linalg.norm(self.direction(t)) * self.lower_scale
            return width / self.radius(t, "lower")
        return integral(rate, self.t0, self.t1)


class HelixTangents(Developable):
    """Tangents of the left-handed helix (a cos t, -a sin t, b t), from a distance u1
    (lower edge, constant) to u0 + u_rate * t (upper edge) past the point of tangency."""

    def __init__(self, a, b, t0, t1, u1, u0, u_rate, heel):
        self.a, self.b, self.t0, self.t1 = a, b, t0, t1
        self.c = math.hypot(a, b)
        self.u1, self.u0, self.u_rate = u1, u0, u_rate
        self.kappa = a / self.c ** 2
        self.tau = b / self.c ** 2
        # Stand the panel up like a boat's side: chord of the lower edge along +x, middle
        # ruling in the x-z plane, then lean the top outward by `heel`.
        x = self.raw(t1, "lower") - self.raw(t0, "lower")
        x /= np.linalg.norm(x)
        z = self.direction(0.5 * (t0 + t1))
        z = z - (z @ x) * x
        z /= np.linalg.norm(z)
        lean = np.array([[1, 0, 0], [0, math.cos(heel), math.sin(heel)], [0, -math.sin(heel), math.cos(heel)]])
        self.rotation = lean @ np.array([x, np.cross(z, x), z])

    def raw(self, t, edge):
        return self.base(t) + self.reach(t, edge) * self.direction(t)

    def base(self, t):
        return np.array([self.a * math.cos(t), -self.a * math.sin(t), self.b * t])

    def direction(self, t):
        return np.array([-self.a * math.sin(t), -self.a * math.cos(t), self.b]) / self.c

    def lower_a(self, t):
        return self.u1

    def upper_a(self, t):
        return self.u0 + self.u_rate * t

    def flat(self, t, edge):
        angle = self.kappa * self.c * (t - self.t0)
        u = self.reach(t, edge)
        # mirrored, so that u runs the way of x when v runs up the rulings
        return np.array([-math.cos(angle) / self.kappa + u * math.sin(angle),
                         math.sin(angle) / self.kappa + u * math.cos(angle)])

    def edge_length(self, edge):
        """d/dt (H + u T) = (c + u') T + u kappa c N."""
        rate = 0.0 if edge == "lower" else self.u_rate
        return integral(lambda t: math.hypot(self.c + rate, self.reach(t, edge) * self.kappa * self.c),
                        self.t0, self.t1)

    def area(self):
        return integral(lambda t: 0.5 * self.kappa * self.c * (self.upper_a(t) ** 2 - self.u1 ** 2),
                        self.t0, self.t1)

    def radius(self, t, edge):
        return self.reach(t, edge) * self.kappa / self.tau

    def turning(self):
        return self.tau * self.c * (self.t1 - self.t0)


# ------------------------------------------------------------------- the panels
def panels():
    out = []

    s = Cylinder(5800.0, (0, 0, 1), -26 * RAD, 15 * RAD, (-0.03, 60.0), (0.025, 560.0))
    out.append(("upright_cylinder", s,
                "Vertical circular cylinder, radius 5800, axis along z; edges are its cuts by the planes "
                "z = -0.03 x + 60 and z = 0.025 x + 560 (x from the axis); from -26 to 15 degrees."))

    half = 35 * RAD
    slant = 8000.0
    s = Cone(slant * math.sin(half), 0.0, 0.0, slant * math.cos(half), -30 * RAD, 20 * RAD, 1.0,
             (-0.04, 8500.0 * math.cos(half)))
    out.append(("right_cone", s,
                "Right circular cone, half angle 35 degrees, apex below, axis along z; lower edge the circle at "
                "slant 8000, upper edge the cut by z = -0.04 x + 8500 cos 35 (from the apex); -30 to 20 degrees."))

    s = Cone(4400.0, -1500.0, 1200.0, 6000.0, -29 * RAD, 24 * RAD, 1.0, (0.03, 6420.0))
    out.append(("oblique_cone", s,
                "Oblique circular cone, apex below and off the axis; directrix a circle of radius 4400 centred "
                "(-1500, 1200, 6000) from the apex; lower edge that circle, upper edge the cut by "
                "z = 0.03 x + 6420; -29 to 24 degrees."))

    s = Cylinder(5000.0, (0.35, 0.30, 1.0), -25 * RAD, 22 * RAD, (0.02, 40.0), (-0.03, 500.0))
    out.append(("oblique_cylinder", s,
                "Circle of radius 5000 in a level plane, generators along (0.35, 0.30, 1), not square to it; edges "
                "are the cuts by z = 0.02 x + 40 and z = -0.03 x + 500 (from the circle's centre); "
                "-25 to 22 degrees."))

    a, b, t1 = 870.0, 1220.0, 0.80
    s = HelixTangents(a, b, 0.0, t1, 8000.0, 8600.0, -180.0 / t1, 15 * RAD)
    out.append(("helix_tangents", s,
                "Tangent developable of a left-handed helix, radius 870, rise 1220 per radian, through 0.80 radian; "
                "lower edge at a constant 8000 along the tangents, upper edge from 8600 to 8420, linear in the "
                "angle; turned to stand like a boat's side that leans out 15 degrees."))

    for _, s, _ in out:
        s.shift = np.zeros(3)
        first = s.space(s.t0, "lower")
        s.shift = np.array([200.0, 300.0, 250.0]) - first
    return out


# --------------------------------------------------------------------- the work
class Fit:
    """Chebyshev fit of a vector function on [t0, t1]; used for checks and even spacing."""

    def __init__(self, f, t0, t1):
        self.t0, self.t1 = t0, t1
        k = np.arange(DEGREE + 1)
        nodes = np.cos(math.pi * (k + 0.5) / (DEGREE + 1))
        values = np.array([f(0.5 * (t0 + t1) + 0.5 * (t1 - t0) * z) for z in nodes])
        c = np.polynomial.chebyshev.chebfit(nodes, values, DEGREE)
        self.c = c[:24]                       # the rest is rounding noise
        tail = np.abs(c[20:]).max()
        assert tail < 1e-9, tail
        self.dc = cheb.chebder(self.c) * 2.0 / (t1 - t0)

    def z(self, t):
        return (2.0 * t - self.t0 - self.t1) / (self.t1 - self.t0)

    def __call__(self, t):
        return cheb.chebval(self.z(t), self.c).T

    def rate(self, t):
        return cheb.chebval(self.z(t), self.dc).T


def gauss(a, b, n):
    x, w = np.polynomial.legendre.leggauss(n)
    return 0.5 * (a + b) + 0.5 * (b - a) * x, 0.5 * (b - a) * w


def length_of(fit, a, b, n=40):
    t, w = gauss(a, b, n)
    return float(np.sum(w * np.linalg.norm(fit.rate(t), axis=1)))


def evenly(fit, count):
    total = length_of(fit, fit.t0, fit.t1)
    ts = [fit.t0]
    for i in range(1, count - 1):
        goal = total * i / (count - 1)
        ts.append(brentq(lambda t: length_of(fit, fit.t0, t, 24) - goal, fit.t0, fit.t1, xtol=1e-13))
    return ts + [fit.t1]


def shoelace(points):
    x, y = points[:, 0], points[:, 1]
    return 0.5 * abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))


def digits(value, n):
    if isinstance(value, (list, tuple, np.ndarray)):
        return [digits(v, n) for v in value]
    return float(f"{float(value):.{n}g}") + 0.0


def close(name, a, b, tolerance):
    assert abs(a - b) <= tolerance, f"{name}: {a!r} against {b!r}, differ by {abs(a - b):.3e}"
    return abs(a - b)


def self_test():
    """The general functions against tables for unit-sized surfaces."""
    turn = 2 * math.pi
    # oblique cone, apex above the rim of a unit base; the table's angle starts where the slant is longest
    c = Cone(1.0, 0.0, 1.0, 2.0, 0.0, math.pi, 1.0, (0.0, 1.0))
    for at, want in ((0.25, 0.277851060506), (0.5, 0.561231435177), (0.75, 0.877141320532), (1.0, 1.25262267567)):
        close("psi", integral(c.psi_rate, 0, at * math.pi), want, 6e-12)
    c.upper_plane = (0.0, 1e-30)
    close("oblique cone area", 2 * abs(c.area()), 7.30506706416, 1e-11)
    # right cone
    c = Cone(1.0, 0.0, 0.0, 2.0, 0.0, math.pi, 1.0, (0.0, 1.0))
    close("right cone psi", integral(c.psi_rate, 0, math.pi), 1.40496294621, 1e-11)
    # cut cylinders against complete elliptic integrals
    for r, m in ((1.0, 1.0), (1.0, 0.5), (2.0, 0.25)):
        s = Cylinder(r, (0, 0, 1), 0.0, turn, (m, 0.0), (m, 1.0))
        a = r * math.sqrt(1 + m * m)
        close("perimeter", s.edge_length("lower"), 4 * a * ellipe(1 - (r / a) ** 2), 1e-11)
    # helix
    h = HelixTangents(1.0, 1.0, 0.0, math.pi / 2, 1.0, 3.0, 0.0, 0.0)
    close("helix edge", h.edge_length("lower"), 2.48364706645, 1e-11)
    close("helix edge", h.edge_length("upper"), 4.0047605611, 1e-10)
    close("helix area", h.area(), 4.44288293816, 1e-11)


def work(name, s, definition):
    t0, t1 = s.t0, s.t1
    space = {e: Fit(lambda t, e=e: s.space(t, e), t0, t1) for e in ("lower", "upper")}

    # one flat frame: origin at the first lower point, u along the lower chord
    o, q = s.flat(t0, "lower"), s.flat(t1, "lower")
    ux = (q - o) / np.linalg.norm(q - o)
    turn = np.array([ux, [-ux[1], ux[0]]])

    def flat(t, edge):
        return turn @ (s.flat(t, edge) - o)
    assert flat(t0, "upper")[1] > 0 and flat(t1, "upper")[1] > 0
    plane = {e: Fit(lambda t, e=e: flat(t, e), t0, t1) for e in ("lower", "upper")}

    check = {}
    # lengths of edges: closed form, space fit, flat fit
    edges = {e: s.edge_length(e) for e in ("lower", "upper")}
    check["edge_length_mm"] = max(
        max(close("space " + e, length_of(space[e], t0, t1), edges[e], 2e-9),
            close("flat " + e, length_of(plane[e], t0, t1), edges[e], 2e-9)) for e in edges)
    # rulings keep their length; the first fundamental forms agree at 3 places on each of 41 rulings
    worst_ruling = worst_form = worst_warp = 0.0
    for t in np.linspace(t0, t1, 41):
        lo, up, dlo, dup = (space["lower"](t), space["upper"](t), space["lower"].rate(t), space["upper"].rate(t))
        flo, fup, fdlo, fdup = (plane["lower"](t), plane["upper"](t), plane["lower"].rate(t), plane["upper"].rate(t))
        r, fr = up - lo, fup - flo
        worst_ruling = max(worst_ruling, abs(np.linalg.norm(s.space(t, "upper") - s.space(t, "lower"))
                                             - np.linalg.norm(flat(t, "upper") - flat(t, "lower"))))
        for w in (0.0, 0.5, 1.0):
            d, fd = (1 - w) * dlo + w * dup, (1 - w) * fdlo + w * fdup
            scale = np.linalg.norm(d), np.linalg.norm(r)
            worst_form = max(worst_form, abs(d @ d - fd @ fd) / scale[0] ** 2,
                             abs(d @ r - fd @ fr) / (scale[0] * scale[1]))
        triple = np.dot(np.cross(dlo, dup), r)
        worst_warp = max(worst_warp, abs(triple) / (np.linalg.norm(dlo) * np.linalg.norm(dup) * np.linalg.norm(r)))
    assert worst_ruling < 1e-9 and worst_form < 1e-10 and worst_warp < 1e-11, (worst_ruling, worst_form, worst_warp)
    check.update(ruling_length_mm=worst_ruling, first_form_relative=worst_form, coplanarity=worst_warp)
    # area: closed form, surface integral in space, shoelace over the flat outline (extrapolated)
    area = s.area()
    tt, wt = gauss(t0, t1, 40)
    ww, www = gauss(0.0, 1.0, 8)
    lo, up, dlo, dup = space["lower"](tt), space["upper"](tt), space["lower"].rate(tt), space["upper"].rate(tt)
    surface = sum(c * np.sum(wt * np.linalg.norm(np.cross((1 - w) * dlo + w * dup, up - lo), axis=1))
                  for w, c in zip(ww, www))

    def outline_area(n):
        t = np.linspace(t0, t1, n + 1)
        return shoelace(np.vstack([[flat(v, "lower") for v in t], [flat(v, "upper") for v in t[::-1]]]))
    coarse, fine = outline_area(300), outline_area(600)
    extrapolated = fine + (fine - coarse) / 3.0
    check["area_surface_relative"] = close("area in space", surface / area, 1.0, 1e-11)
    check["area_shoelace_relative"] = close("area of outline", extrapolated / area, 1.0, 1e-10)
    # turning of the normal, against the angle summed between normals
    t = np.linspace(t0, t1, 4001)
    n = np.cross(space["lower"].rate(t), space["upper"](t) - space["lower"](t))
    n /= np.linalg.norm(n, axis=1)[:, None]
    summed = np.sum(2 * np.arcsin(0.5 * np.linalg.norm(np.diff(n, axis=0), axis=1)))
    turning = s.turning()
    close("turning", turning, summed, 1e-6)
    # principal radius, against the turning of the normal per width across the rulings
    for edge in ("lower", "upper"):
        for i in (0, 1000, 2500, 4000 - 1):
            middle = 0.5 * (t[i] + t[i + 1])
            r = space["upper"](middle) - space["lower"](middle)
            r /= np.linalg.norm(r)
            d = (space[edge](t[i + 1]) - space[edge](t[i]))
            width = np.linalg.norm(d - (d @ r) * r)
            number = width / (2 * math.asin(0.5 * np.linalg.norm(n[i + 1] - n[i])))
            exact = s.radius(middle, edge)
            assert abs(number / exact - 1) < 1e-6, (edge, number, exact)

    # evenly spaced points of each edge, with their flat positions
    sample = {}
    for e in ("lower", "upper"):
        ts = evenly(space[e], EDGE_POINTS)
        pts = np.array([s.space(v, e) for v in ts])
        assert np.all(np.diff(pts[:, 0]) > 0), "x must increase"
        sample[e] = (pts, np.array([flat(v, e) for v in ts]))
        # how well a cubic spline through these points follows the exact edge
        chord = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(pts, axis=0), axis=1))])
        spline = CubicSpline(chord, pts)
        dense = spline(np.linspace(0, chord[-1], 4001))
        worst = 0.0
        for i in range(0, 4001, 7):
            p = dense[i]
            guess = np.interp(np.linspace(0, chord[-1], 4001)[i], chord, ts)
            for _ in range(4):
                v = space[e].rate(guess)
                guess += np.dot(p - space[e](guess), v) / np.dot(v, v)
            worst = max(worst, np.linalg.norm(p - space[e](guess)))
        check["spline_" + e + "_mm"] = worst
        assert worst < 1e-4, worst

    rulings, widths = [], []
    for t in np.linspace(t0, t1, RULINGS):
        lo, up = s.space(t, "lower"), s.space(t, "upper")
        widths.append(np.linalg.norm(up - lo))
        rulings.append({
            "lower": digits(lo, 15), "upper": digits(up, 15),
            "flat_lower": digits(flat(t, "lower"), 13), "flat_upper": digits(flat(t, "upper"), 13),
            "length_mm": digits(widths[-1], 13),
            "radius_lower_mm": digits(s.radius(t, "lower"), 12), "radius_upper_mm": digits(s.radius(t, "upper"), 12),
        })
    assert 300 <= min(widths) and max(widths) <= 700, widths
    assert 20 <= turning / RAD <= 60, turning / RAD
    assert all(3900 <= v <= 4300 for v in edges.values()), edges
    extent = np.vstack([sample["lower"][0], sample["upper"][0]])
    print(f"{name:17s} edges {edges['lower']:9.3f} {edges['upper']:9.3f}  rulings {min(widths):.1f}..{max(widths):.1f}"
          f"  turning {turning / RAD:.2f} deg  area {area:.1f}  checks "
          + " ".join(f"{k}={v:.1e}" for k, v in check.items()))
    print(" " * 17, "extent", np.round(extent.min(0), 1), np.round(extent.max(0), 1))
    return {
        "name": name, "definition": definition,
        "lower_mm": digits(edges["lower"], 13), "upper_mm": digits(edges["upper"], 13),
        "bow_mm": digits(widths[0], 13), "stern_mm": digits(widths[-1], 13),
        "area_mm2": digits(area, 13), "turning_deg": digits(turning / RAD, 12),
        "rulings": rulings,
        "lower": digits(sample["lower"][0], 15), "upper": digits(sample["upper"][0], 15),
        "flat_lower": digits(sample["lower"][1], 13), "flat_upper": digits(sample["upper"][1], 13),
        "check": {k: digits(v, 2) for k, v in check.items()},
    }


def write_json(path, data):
    """Indented, but with each innermost list on one line."""
    text = json.dumps(data, indent=1)
    text = re.sub(r"\[\s+([^\[\]{}]*?)\s+\]", lambda m: "[" + re.sub(r"\s*\n\s*", " ", m.group(1)) + "]", text)
    Path(path).write_text(text + "\n")


def main():
    here = Path(__file__).resolve().parent
    parser = argparse.ArgumentParser(description="Write exact developable test panels.")
    parser.add_argument("-o", "--output", default=here / "closed_forms.json", type=Path)
    args = parser.parse_args()
    self_test()
    data = {
        "about": "Exactly developable panels with exact flat shapes; mm, degrees. Written by closed_forms.py.",
        "panels": [work(*p) for p in panels()],
    }
    write_json(args.output, data)


if __name__ == "__main__":
    main()
