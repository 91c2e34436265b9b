"""Sags and snap-through of a plywood bay, by methods that the program does not use.

1. A clamped orthotropic plate under even pressure: Ritz with 8 x 8 clamped polynomials, the
   stiffness against twisting counted (the program crosses two built-in strips and counts none).
2. A built-in shallow arch under even pressure on its outer side: beam-column finite differences,
   its thrust found from how much shorter it grows, followed through the first limit point; the
   sidewise (antisymmetric) buckling where the arch's tangent stiffness loses its rank.

Lengths mm, forces N; strips are one mm wide.
"""

import json
import sys

import numpy as np
from numpy.polynomial import polynomial as P
from scipy.optimize import brentq


def plate(a, b, dx, dy, twist, p, terms=8):
    """Deflection in the middle. `twist` is H of D_x w_xxxx + 2 H w_xxyy + D_y w_yyyy = p."""

    def basis(length):
        # ((x/l)(1 - x/l))^2 (2x/l - 1)^(2k): clamped, even about the middle.
        out = []
        for k in range(terms):
            q = P.polymul(P.polypow([0, 1, -1], 2), P.polypow([-1, 2], 2 * k))
            out.append(q)
        return out

    fs = basis(1.0)

    def inner(i, j, m, n):
        q = P.polymul(P.polyder(fs[i], m) if m else fs[i], P.polyder(fs[j], n) if n else fs[j])
        return P.polyval(1.0, P.polyint(q))

    i0 = np.array([[inner(i, j, 0, 0) for j in range(terms)] for i in range(terms)])
    i1 = np.array([[inner(i, j, 1, 1) for j in range(terms)] for i in range(terms)])
    i2 = np.array([[inner(i, j, 2, 2) for j in range(terms)] for i in range(terms)])
    load = np.array([P.polyval(1.0, P.polyint(f)) for f in fs])
    k = (
        dx * b / a**3 * np.kron(i2, i0)
        + dy * a / b**3 * np.kron(i0, i2)
        + 2 * twist / (a * b) * np.kron(i1, i1)
    )
    c = np.linalg.lstsq(k, p * a * b * np.kron(load, load), rcond=1e-14)[0]
    mid = np.array([P.polyval(0.5, f) for f in fs])
    return float(np.kron(mid, mid) @ c)


def arch(length, rise, bending, pushed, n=401):
    """(deflections of the middle, pressures, first critical pressure, whether sidewise)."""
    h = length / (n - 1)
    m = n - 2
    x = np.linspace(0, length, n)
    # Fourth differences of a built-in beam: slopes at the ends are nothing.
    d4 = np.zeros((m, m))
    d2 = np.zeros((m, m))
    for i in range(m):
        for off, v in [(-2, 1), (-1, -4), (0, 6), (1, -4), (2, 1)]:
            if 0 <= i + off < m:
                d4[i, i + off] += v / h**4
            elif i + off in (-2, m + 1):
                d4[i, 0 if i + off < 0 else m - 1] += v / h**4
        for off, v in [(-1, 1), (0, -2), (1, 1)]:
            if 0 <= i + off < m:
                d2[i, i + off] += v / h**2
    curved = 8 * rise / length**2  # minus the second derivative of the parabola
    ones = np.ones(m)

    def shape(thrust):
        """w per unit pressure, and w from the thrust on the arch's own curve."""
        k = bending * d4 + thrust * d2
        return np.linalg.solve(k, np.c_[ones, -thrust * curved * ones]).T

    def shortening(w):
        full = np.r_[0, w, 0]
        slope = np.gradient(full, h)
        return (curved * np.trapezoid(full, x) - 0.5 * np.trapezoid(slope**2, x)) / length

    # For a thrust the pressure is the root of a quadratic: pushed * shortening(w) = thrust.
    out = []
    sidewise_thrust = 80.76 * bending / length**2
    for thrust in np.linspace(0.002, 0.998, 500) * sidewise_thrust:
        u, v = shape(thrust)
        f = lambda q: pushed * shortening(q * u + v) - thrust
        qs = np.linspace(0, 1.5, 3001) * 100 * bending * 16 * rise / length**4
        a0, a1, a2 = f(0.0), f(1.0), f(2.0)
        c2 = 0.5 * (a2 - 2 * a1 + a0)
        c1 = a1 - a0 - c2
        for q in np.roots([c2, c1, a0]):
            if abs(q.imag) < 1e-12 and q.real > 0:
                w = q.real * u + v
                out.append((float(w[m // 2]), float(q.real)))
    out.sort()
    path = [o for o in out if o[0] > 0]
    # The first branch rises until its limit or until the thrust reaches the sidewise one.
    c = [p[0] for p in path]
    q = [p[1] for p in path]
    top = len(q) - 1
    for i in range(1, len(q)):
        if q[i] < q[i - 1] or c[i] - c[i - 1] > 0.2 * rise:
            top = i - 1
            break
    return c[: top + 1], q[: top + 1]


def main():
    out = {"plates": [], "arches": []}
    for a, b, dx, dy, twist in [
        (500, 500, 1e5, 1e5, 1e5),  # even in both directions: 0.00126 p a^4 / D
        (574, 690, 119448, 36882, 2 * 620 * 18.0),
        (574, 230, 119448, 36882, 2 * 620 * 18.0),
        (450, 900, 403137, 124476, 2 * 620 * 60.75),
        (600, 300, 124476, 403137, 2 * 620 * 60.75),
    ]:
        out["plates"].append(
            {"a": a, "b": b, "dx": dx, "dy": dy, "sag_per_pressure": plate(a, b, dx, dy, twist, 1.0)}
        )
    for length, radius, t in [(500, 2500, 6), (500, 4000, 6), (600, 6000, 6), (450, 3000, 9)]:
        rise = length**2 / (8 * radius)
        bending, pushed = 6639 * t**3 / 12, 5128 * t
        c, q = arch(length, rise, bending, pushed)
        rows = [[c[i], q[i]] for i in range(0, len(c), max(1, len(c) // 6))]
        out["arches"].append(
            {"length": length, "radius": radius, "bending": bending, "pushed": pushed,
             "path": rows, "highest": max(q)}
        )
    json.dump(out, sys.stdout, indent=1)


if __name__ == "__main__":
    main()
