#!/usr/bin/env python3
"""Mark the parts of a build pack's sheets out from the printed pages alone, by other people's readers.

Independent truth: pymupdf reads the words of each sheets/sheet-N*.pdf, ezdxf the rings on the layer
CUT of its DXF, shapely measures between them; a batten is scipy's natural cubic spline over the
chords between its nails, which knows nothing of the program's own.

Checked of every part whose figures are on the page: each corner and place on a curve lies on one
ring of its own; marked straight from corner to corner, with a batten through what stands in
brackets and a compass where a radius is given, the edge keeps to that ring, and the ring to it, by
half a millimetre and the rounding of figures; a batten by no more than the page says.
Parts that the page sends to their patterns: those patterns are in the pack.

Run:  python sheet_pages.py PACK_DIR…          (packs in millimetres)
Exit code 0 when all is well, 1 on a failure, 2 on bad usage.  Needs ezdxf, numpy, pymupdf, scipy, shapely.
"""
import argparse
import math
import re
import sys
from pathlib import Path

import ezdxf
import numpy as np
import pymupdf
from scipy.interpolate import CubicSpline
from shapely.geometry import LineString, Point, Polygon

STRAIGHT = 0.5                       # mm: what an edge without brackets may be out
WHOLE, HALF = math.hypot(0.5, 0.5), math.hypot(0.25, 0.25)   # rounding, mm
BATTEN = 0.15                        # mm: between a spline and a strip of wood
FIGURE = r"(-?\d+(?:\.\d)?) · (-?\d+(?:\.\d)?)"
STEP = re.compile(rf"\(radius (\d+(?:\.\d)?) from {FIGURE}\)|\({FIGURE}\)|(?:(?:[A-Z]|\d+\.\d+): )?{FIGURE}")
SENT = re.compile(r"By their full-size patterns, laid on by the corners that are given here: ([\d, to]+) \(([^)]*)\)")


def lines_of(pdf):
    """The words of all pages, line by line: those of one height together, from the left."""
    out = []
    for page in pymupdf.open(pdf):
        rows = {}
        for block in page.get_text("dict")["blocks"]:
            for line in block.get("lines", []):
                for span in line["spans"]:
                    key = round(span["origin"][1] * 2)
                    rows.setdefault(key, []).append((span["origin"][0], span["text"]))
        out += [" ".join(t for _, t in sorted(rows[k])) for k in sorted(rows)]
    return [re.sub(r"\s+", " ", line).strip() for line in out]


def numbers(words):
    out = set()
    for run in words.split(", "):
        ends = [int(n) for n in run.split(" to ")]
        out |= set(range(ends[0], ends[-1] + 1))
    return out


def parts_of(lines):
    """Steps of each part by its number, as they stand in the table."""
    begun, own, out = False, None, {}
    for line in lines:
        if line.startswith("no. part"):
            begun, own = True, None
            continue
        if not begun:
            continue
        row = re.match(r"(\d+) [a-z]", line)
        if row:
            own = int(row.group(1))
            out[own] = []
        found = list(STEP.finditer(line))
        if own is None or not found:
            continue
        # Words under a row have no figures of this kind; what stands before the first is the name.
        for m in found:
            g = m.groups()
            if g[0]:
                out[own].append(("round", float(g[1]), float(g[2]), float(g[0])))
            elif g[3]:
                out[own].append(("curve", float(g[3]), float(g[4])))
            else:
                out[own].append(("corner", float(g[5]), float(g[6])))
    return out


def batten(nails):
    nails = np.array(nails)
    at = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(nails, axis=0).T))])
    spline = CubicSpline(at, nails, bc_type="natural")
    return [tuple(p) for p in spline(np.linspace(0.0, at[-1], 40 * len(nails)))]


def marked(steps):
    """The edge as it is marked, and its curves by themselves."""
    corners = [i for i, s in enumerate(steps) if s[0] == "corner"]
    ring, curves = [], []
    for k, i in enumerate(corners):
        to = corners[k + 1] if k + 1 < len(corners) else len(steps)
        a, b = steps[i][1:3], steps[corners[(k + 1) % len(corners)]][1:3]
        between = steps[i + 1:to]
        if not between:
            ring.append(a)
        elif between[0][0] == "round":
            _, x, y, r = between[0]
            u, v = math.atan2(a[1] - y, a[0] - x), math.atan2(b[1] - y, b[0] - x)
            turn = (v - u + math.pi) % (2 * math.pi) - math.pi
            ring.append(a)
            ring += [(x + r * math.cos(u + turn * j / 16), y + r * math.sin(u + turn * j / 16)) for j in range(1, 16)]
        else:
            line = batten([a] + [s[1:3] for s in between] + [b])
            curves.append(line)
            ring += line[:-1]
    return ring, curves


def check_sheet(pack, dxf, fail):
    rings = [Polygon([(p[0], p[1]) for p in e.get_points()])
             for e in ezdxf.readfile(dxf).modelspace().query('LWPOLYLINE[layer=="CUT"]')]
    pdfs = [p for p in dxf.parent.glob(f"{dxf.stem}*.pdf") if re.fullmatch(rf"{dxf.stem}(-\w+)?", p.stem)]
    lines = lines_of(pdfs[0])
    text = " ".join(lines)
    sent = SENT.search(text)
    by_pattern = numbers(sent.group(1)) if sent else set()
    for name in sent.group(2).split(", ") if sent else []:
        if not list(pack.glob(f"{name}*.pdf")):
            fail(f"no pattern {name}")
    strays = re.search(r"it strays (\d+\.\d+) mm at most", text)
    strays = float(strays.group(1)) if strays else 0.0
    parts = {n: s for n, s in parts_of(lines).items() if n not in by_pattern}
    if len(parts) + len(by_pattern) != len(rings):
        fail(f"{len(parts)} parts on the page and {len(by_pattern)} by patterns, {len(rings)} are cut")
    left = list(range(len(rings)))
    for n, steps in sorted(parts.items()):
        places = [Point(s[1:3]) for s in steps if s[0] != "round"]
        far = lambda i: max(rings[i].exterior.distance(p) for p in places)
        at = min(left, key=far)
        left.remove(at)
        edge = rings[at].exterior
        halves = any(s[0] == "curve" for s in steps)
        rounding = HALF if halves else WHOLE
        if far(at) > rounding + 0.01:
            fail(f"part {n}: a figure is {far(at):.2f} mm off its edge")
        ring, curves = marked(steps)
        off = LineString(ring + ring[:1]).hausdorff_distance(edge.segmentize(5.0))
        if off > max(STRAIGHT + rounding, strays + BATTEN) + 0.01:
            fail(f"part {n}: marked out it is {off:.2f} mm off")
        for line in curves:
            off = max(edge.distance(Point(p)) for p in line)
            if off > strays + BATTEN:
                fail(f"part {n}: a batten is {off:.2f} mm off, the page says {strays} mm")
    return len(parts), len(by_pattern)


def main():
    parser = argparse.ArgumentParser(description="Mark out the parts of a pack's sheets from its pages.")
    parser.add_argument("packs", type=Path, nargs="+", metavar="PACK_DIR")
    args = parser.parse_args()
    failures, whole, sent = [], 0, 0
    for pack in args.packs:
        if not pack.is_dir():
            print(f"{pack}: not a folder", file=sys.stderr)
            return 2
        for dxf in sorted((pack / "sheets").glob("sheet-*.dxf")):
            try:
                done = check_sheet(pack, dxf, lambda m, d=dxf: failures.append(f"{d}: {m}"))
                whole, sent = whole + done[0], sent + done[1]
            except Exception as error:          # whatever a reader throws, the page is bad
                failures.append(f"{dxf}: cannot be read: {type(error).__name__}: {error}")
    for failure in failures:
        print("   FAIL " + failure)
    print(f"{whole} parts from their pages, {sent} by patterns: " + ("all well" if not failures else f"{len(failures)} failure(s)"))
    return 1 if failures or not whole else 0


if __name__ == "__main__":
    sys.exit(main())
