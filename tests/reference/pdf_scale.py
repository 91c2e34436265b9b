#!/usr/bin/env python3
"""Measure the full-size PDFs of a build pack.

Independent truth: the PDF operators themselves (ISO 32000), run here over what pypdf
reads, with a point of 25.4/72 mm; and the same cut line in NAME.dxf (ezdxf) and
NAME.svg (lxml).  Nothing that a PDF says about itself in words is believed, except
the names of its tiles (column letters from the left, row numbers from the top).

The cut lines are the strokes half a millimetre wide.  One that is open is half of what is
the same on both sides: it is completed by its mirror image about the line through its ends.
Each then is laid, corner on corner, on a closed LWPOLYLINE of layer CUT of the DXF and on a
path in <g id="CUT"> of the SVG: width, height, perimeter and the greatest distance between
the two outlines (a mirrored pattern would pass the first three).
NAME-a4.pdf, NAME-letter.pdf: the same, and page sizes; the cut lines one and the same on
every tile but for a shift; registration crosses 5 mm inside the corners of the printed
window; shared crosses of neighbouring tiles as far apart on their pages as the cut lines
are shifted.  Then the tiles are taped together by their crosses alone: what they show of
the cut lines must lie on them, none of it between tiles, and the tiles that show one cut
line must hang together by their crosses.
Every full-size page of either: a check bar of 100 mm (4 in on Letter) below the window, with ticks at its ends.
A roll of several pages (longer than readers open) is tiled like paper and checked as such.

Run:  python pdf_scale.py PACK_DIR
Exit code 0 when all is well, 1 on a failure, 2 on bad usage.
Needs pypdf, lxml, numpy, shapely, ezdxf.  Writes nothing.
"""
import argparse
import itertools
import re
import sys
from pathlib import Path

import ezdxf
import ezdxf.units
import numpy as np
import shapely
from lxml import etree
from pypdf import PdfReader
from pypdf.generic import ContentStream

SVG = "{http://www.w3.org/2000/svg}"
POINT_MM = 25.4 / 72
PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
SIZE_TOL = 0.05           # mm: cut line of one file against that of another
PAGE_TOL = 0.02           # mm: page sizes, check bars, crosses, shifts
BAR = 100.0               # mm
BAR_INCHES = 101.6        # mm: 4 in, on Letter paper
CROSS_INSET = 5.0         # mm from the sides of the window
CUT_WIDTH = 0.5           # mm: of the cut lines and nothing else
CURVE_STEPS = 32          # a Bezier arc as so many chords
SQUARE = 1e-3             # mm: how level or upright a straight line must be


# ---- the PDF ------------------------------------------------------------------------

class Stroke:
    """One stroked subpath, mm from the lower left corner of the page."""
    __slots__ = ("points", "closed", "clip", "width")

    def __init__(self, points, closed, clip, width):
        self.points, self.closed, self.clip, self.width = points, closed, clip, width


def matrix(six):
    a, b, c, d, e, f = (float(v) for v in six)
    return np.array([[a, b, 0.0], [c, d, 0.0], [e, f, 1.0]])      # row vectors, as in the standard


class Plotter:
    """Runs the path, clip and matrix operators of a page; everything else leaves no path."""

    def __init__(self, page, reader):
        self.reader = reader
        box, crop = page.mediabox, page.cropbox
        self.problems = []
        if int(page.get("/Rotate", 0)) % 360:
            self.problems.append("the page is rotated")
        if any(abs(float(p) - float(q)) > 1e-3 for p, q in zip(box, crop)):
            self.problems.append("its CropBox is not its MediaBox")
        unit = float(page.get("/UserUnit", 1.0)) * POINT_MM
        self.width, self.height = float(box.width) * unit, float(box.height) * unit
        to_mm = matrix((unit, 0, 0, unit, -float(box.left) * unit, -float(box.bottom) * unit))
        self.strokes = []
        contents = page.get_contents()
        if contents is not None:
            self.run(contents, page.get("/Resources"), to_mm, shapely.box(0, 0, self.width, self.height), 0)

    def run(self, stream, resources, ctm, clip, depth):
        if depth > 12:
            raise ValueError("form XObjects nested too deep")
        stack, path, clipping, pen = [], [], False, 1.0
        start = None                      # of the open subpath, user space of its making

        def at(x, y):
            return tuple((np.array([float(x), float(y), 1.0]) @ ctm)[:2])

        def here():
            """The open subpath, ready for another point (after h, a new one from its start)."""
            if not path or path[-1][1]:
                if start is None:
                    raise ValueError("a path continues without a current point")
                path.append([[start], False])
            return path[-1][0]

        for args, op in ContentStream(stream, self.reader).operations:
            if op == b"q":
                stack.append((ctm, clip, pen))
            elif op == b"Q":
                ctm, clip, pen = stack.pop()
            elif op == b"w":
                pen = float(args[0])
            elif op == b"cm":
                ctm = matrix(args) @ ctm
            elif op == b"m":
                start = at(*args)
                path.append([[start], False])
            elif op == b"l":
                here().append(at(*args))
            elif op in (b"c", b"v", b"y"):
                points = here()
                knots = [at(*args[i:i + 2]) for i in range(0, len(args), 2)]
                if op == b"v":
                    knots.insert(0, points[-1])
                elif op == b"y":
                    knots.append(knots[-1])
                p = np.array([points[-1], *knots])
                t = np.linspace(0, 1, CURVE_STEPS + 1)[1:, None]
                curve = (1 - t) ** 3 * p[0] + 3 * t * (1 - t) ** 2 * p[1] + 3 * t * t * (1 - t) * p[2] + t ** 3 * p[3]
                points.extend(map(tuple, curve))
            elif op == b"h":
                if path:
                    path[-1][1] = True
            elif op == b"re":
                x, y, w, h = (float(v) for v in args)
                start = at(x, y)
                path.append([[start, at(x + w, y), at(x + w, y + h), at(x, y + h)], True])
            elif op in (b"W", b"W*"):
                clipping = True
            elif op in (b"S", b"s", b"B", b"B*", b"b", b"b*", b"f", b"F", b"f*", b"n"):
                if op in (b"s", b"b", b"b*") and path:
                    path[-1][1] = True
                if op in (b"S", b"s", b"B", b"B*", b"b", b"b*"):
                    for points, closed in path:
                        if len(points) > 1:
                            p = np.array(points)
                            if len(p) > 3 and np.hypot(*(p[0] - p[-1])) < 1e-9:
                                p, closed = p[:-1], True
                            scale = abs(np.linalg.det(ctm[:2, :2])) ** 0.5
                            self.strokes.append(Stroke(p, closed, clip, pen * scale))
                if clipping:
                    rings = [shapely.Polygon(points) for points, _ in path if len(points) > 2]
                    clip = clip.intersection(shapely.union_all(rings))
                path, clipping, start = [], False, None
            elif op == b"Do":
                form = resources["/XObject"][args[0]].get_object()
                if form.get("/Subtype") == "/Form":
                    inner = matrix(form.get("/Matrix", (1, 0, 0, 1, 0, 0))) @ ctm
                    x0, y0, x1, y1 = (float(v) for v in form["/BBox"])
                    corners = np.array([[x0, y0, 1], [x1, y0, 1], [x1, y1, 1], [x0, y1, 1]]) @ inner
                    self.run(form, form.get("/Resources", resources), inner,
                             clip.intersection(shapely.Polygon(corners[:, :2])), depth + 1)


class Tile:
    """A full-size page: its cut line, window, straight marks and crosses."""

    def __init__(self, plot, where):
        self.plot, self.where = plot, where
        self.cuts = [s for s in plot.strokes if abs(s.width - CUT_WIDTH) < 0.02]
        if not self.cuts:
            raise ValueError(f"{where}: no cut line, {CUT_WIDTH} mm wide")
        cut = self.cuts[0]
        self.cut, self.clip = np.vstack([s.points for s in self.cuts]), cut.clip
        self.window = np.array(cut.clip.bounds)          # left, foot, right, head
        x0, y0, x1, y1 = self.window
        self.square = abs(cut.clip.area - (x1 - x0) * (y1 - y0)) < 1e-3
        straight = [s.points for s in plot.strokes if len(s.points) == 2 and not s.closed]
        self.level = [p for p in straight if abs(p[0, 1] - p[1, 1]) < SQUARE]
        self.upright = [p for p in straight if abs(p[0, 0] - p[1, 0]) < SQUARE]
        self.crosses = self.find_crosses()

    def find_crosses(self):
        found = []
        for a in self.level:
            arm = abs(a[1, 0] - a[0, 0])
            for b in self.upright:
                if 1 < arm < 25 and abs(abs(b[1, 1] - b[0, 1]) - arm) < PAGE_TOL \
                        and np.abs(a.mean(0) - b.mean(0)).max() < PAGE_TOL:
                    found.append(np.array([b[:, 0].mean(), a[:, 1].mean()]))
        return found

    def corner_crosses(self):
        """{(east, north): place} with 0 or 1 each, and the worst distance from 5 mm inside."""
        x0, y0, x1, y1 = self.window
        places, worst = {}, 0.0
        for east, north in itertools.product((0, 1), (0, 1)):
            want = np.array([x1 - CROSS_INSET if east else x0 + CROSS_INSET,
                             y1 - CROSS_INSET if north else y0 + CROSS_INSET])
            if self.crosses:
                nearest = min(self.crosses, key=lambda c: np.abs(c - want).max())
                places[east, north] = nearest
                worst = max(worst, np.abs(nearest - want).max())
        return places, worst

    @property
    def bar_long(self):
        size = sorted((self.plot.width, self.plot.height))
        letter = all(abs(a - b) < 0.1 for a, b in zip(size, PAPERS["letter"]))
        return BAR_INCHES if letter else BAR

    def bar(self):
        """Length of the check bar, below the window, and whether its ends are ticked; or None."""
        near = [p for p in self.level
                if 0 < p[0, 1] < self.window[1] and abs(abs(p[1, 0] - p[0, 0]) - self.bar_long) < 0.1 * BAR
                and p[:, 0].min() > 0 and p[:, 0].max() < self.plot.width]
        if not near:
            return None
        p = min(near, key=lambda p: abs(abs(p[1, 0] - p[0, 0]) - self.bar_long))
        ticked = all(any(abs(u[0, 0] - x) <= PAGE_TOL and u[:, 1].min() < y < u[:, 1].max() for u in self.upright)
                     for x, y in p)
        return abs(p[1, 0] - p[0, 0]), ticked


def completed(stroke):
    """A cut line closed; an open one is half of it, about the line through its ends."""
    p = stroke.points
    if stroke.closed:
        return p
    a, b = p[0], p[-1]
    along = (b - a) / np.hypot(*(b - a))
    normal = np.array([-along[1], along[0]])
    mirrored = p - 2 * np.outer((p - a) @ normal, normal)
    return np.vstack([p, mirrored[-2:0:-1]])


# ---- the other two files -------------------------------------------------------------

def rings_of(outlines, what):
    outlines = [o for o in outlines if len(o) > 2]
    if not outlines:
        raise ValueError(f"{what}: no closed cut line")
    return outlines


def dxf_cut(path):
    doc = ezdxf.readfile(path)
    scale = ezdxf.units.conversion_factor(doc.units, ezdxf.units.MM)
    found = []
    for line in doc.modelspace().query('LWPOLYLINE[layer=="CUT"]'):
        if line.closed:
            if line.has_arc:
                raise ValueError(f"{path.name}: the cut line has arcs, which this check cannot measure")
            found.append(scale * np.array(list(line.get_points("xy")), float))
    return rings_of(found, path.name)


def svg_cut(path):
    root = etree.parse(path, etree.XMLParser(resolve_entities=False, no_network=True)).getroot()
    sizes = [re.fullmatch(r"\s*([0-9.eE+-]+)\s*mm\s*", root.get(k, "")) for k in ("width", "height")]
    if not all(sizes):
        raise ValueError(f"{path.name}: width and height are not in mm")
    box = [float(v) for v in re.split(r"[\s,]+", root.get("viewBox", "").strip())]
    scale = np.array([float(s.group(1)) / box[i + 2] for i, s in enumerate(sizes)])
    found = []
    for group in root.iter(SVG + "g"):
        if group.get("id") != "CUT":
            continue
        for element in group.iter(SVG + "path"):
            if any(e.get("transform") for e in (element, *element.iterancestors())):
                raise ValueError(f"{path.name}: the cut line has a transform, which this check cannot read")
            found += [o * scale * (1, -1) for o in svg_rings(element.get("d", ""), path.name)]
    return rings_of(found, path.name)


def svg_rings(d, name):
    """Closed subpaths of straight lines."""
    words = re.findall(r"[A-Za-z]|[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?", d)
    rings, points, at, start, command, i = [], [], np.zeros(2), np.zeros(2), "", 0
    while i < len(words):
        if words[i].isalpha():
            command, i = words[i], i + 1
            if command in "Zz":
                rings.append(np.array(points))
                at, points = start, [start]
                continue
        kind = command.upper()
        base = at if command.islower() else np.zeros(2)
        if kind in ("M", "L"):
            at, i = base + (float(words[i]), float(words[i + 1])), i + 2
        elif kind == "H":
            at, i = np.array([base[0] + float(words[i]), at[1]]), i + 1
        elif kind == "V":
            at, i = np.array([at[0], base[1] + float(words[i])]), i + 1
        else:
            raise ValueError(f"{name}: path command {command!r}, which this check cannot read")
        if kind == "M":
            start, points, command = at, [], "l" if command == "m" else "L"
        points.append(at)
    return rings


# ---- the checks ------------------------------------------------------------------------

def figures(outline):
    low, high = outline.min(0), outline.max(0)
    sides = np.diff(outline, axis=0, append=outline[:1])
    return np.array([*(high - low), np.hypot(sides[:, 0], sides[:, 1]).sum()])


def differences(a, b):
    """Width, height, perimeter and outline of `a` against `b`, mm."""
    ring = [shapely.LinearRing(o - o.min(0)) for o in (a, b)]
    return [*(figures(a) - figures(b)), ring[0].hausdorff_distance(ring[1])]


def check_size(tile, others, fail):
    """Every cut line of the page against a ring of each other file, each ring used once."""
    cuts = sorted(((completed(c), c.closed) for c in tile.cuts), key=lambda o: -shapely.Polygon(o[0]).area)
    print(f"   {len(cuts)} cut lines, {sum(not c.closed for c in tile.cuts)} of them halves; the first "
          "{:.3f} x {:.3f} mm, {:.3f} mm round".format(*figures(cuts[0][0])))
    for name, rings in others.items():
        left, worst = list(rings), np.zeros(4)
        for cut, closed in cuts:
            if not left:
                fail(f"{name} has fewer cut lines")
                break
            nearest = min(left, key=lambda r: sum(map(abs, differences(cut, r))))
            left = [r for r in left if r is not nearest]
            d = differences(cut, nearest)
            worst = np.maximum(worst, np.abs(d))
            for what, value in zip(("width", "height", "perimeter", "outline"), d):
                # A half doubles what its file rounds; a whole outline does not.
                if not abs(value) < (SIZE_TOL if closed else 2 * SIZE_TOL):
                    fail(f"{what} of a cut line is {value:+.3f} mm off {name}")
        if left:
            fail(f"{len(left)} cut lines of {name} are not on paper")
        print(f"   worst against {name}: width {worst[0]:.4f}, height {worst[1]:.4f}, "
              f"perimeter {worst[2]:.4f}, outline {worst[3]:.4f} mm")


def check_bars(tiles, fail):
    worst, found = 0.0, 0
    for tile in tiles:
        bar = tile.bar()
        if bar is None:
            fail(f"{tile.where}: no {tile.bar_long:g} mm check bar below the window")
            continue
        length, ticked = bar
        if not ticked:
            fail(f"{tile.where}: the check bar's ticks are not at its ends")
        found += 1
        worst = max(worst, abs(length - tile.bar_long))
        if not abs(length - tile.bar_long) <= PAGE_TOL:
            fail(f"{tile.where}: the check bar is {length:.3f} mm long")
    print(f"   check bars: {found} of {len(tiles)}, worst {worst:.4f} mm off")


def named(reader, tiles, first, fail):
    """{(column, row): tile}, columns from the left and rows from the top, by the words of each page."""
    grid = {}
    for number, tile in enumerate(tiles, first):
        found = re.search(r"\btile ([A-Z]+)(\d+)\b", reader.pages[number].extract_text())
        if not found:
            fail(f"{tile.where}: no name of a tile")
            continue
        column = 0
        for letter in found.group(1):
            column = 26 * column + ord(letter) - 64
        tile.where += f" (tile {found.group(1)}{found.group(2)})"
        spot = (column, int(found.group(2)))
        if spot in grid:
            fail(f"{tile.where}: the second tile of that name")
        grid[spot] = tile
    return grid


def check_tiles(grid, fail):
    tiles = list(grid.values())
    first = tiles[0]
    # the same polyline, shifted
    spread, shift = 0.0, {}
    for spot, tile in grid.items():
        if tile.cut.shape != first.cut.shape:
            fail(f"{tile.where}: its cut line has other points than that of {first.where}")
            return
        moved = tile.cut - first.cut
        shift[spot] = moved.mean(0)
        off = np.abs(moved - shift[spot]).max()
        spread = max(spread, off)
        if not off <= PAGE_TOL:
            fail(f"{tile.where}: its cut line is not that of {first.where} shifted ({off:.3f} mm)")
    print(f"   cut line on {len(tiles)} tiles: the same but for a shift, to {spread:.4f} mm")
    # crosses
    worst, crosses = 0.0, {}
    for spot, tile in grid.items():
        if not tile.square:
            fail(f"{tile.where}: the window is not a rectangle")
        crosses[spot], off = tile.corner_crosses()
        if len(tile.crosses) != 4:
            fail(f"{tile.where}: {len(tile.crosses)} registration crosses, not 4")
        elif not off <= PAGE_TOL:
            fail(f"{tile.where}: a cross is {off:.3f} mm from {CROSS_INSET:g} mm inside the window's corner")
        worst = max(worst, off)
    w, h = first.window[2:] - first.window[:2]
    print(f"   window {w:.2f} x {h:.2f} mm; crosses {CROSS_INSET:g} mm inside its corners, worst {worst:.4f} mm off")
    if any(len(c) != 4 for c in crosses.values()):
        return
    # neighbours: a shared cross, seen from either page, must be one place on the cut line
    count, worst_of = {"across": 0, "up and down": 0, "corner": 0}, {}
    edges = {spot: [] for spot in grid}
    for (a, ta), (b, tb) in itertools.combinations(grid.items(), 2):
        dc, dr = b[0] - a[0], b[1] - a[1]
        if max(abs(dc), abs(dr)) != 1:
            continue
        kind = "across" if dr == 0 else "up and down" if dc == 0 else "corner"
        count[kind] += 1
        steps = []
        for east, north in itertools.product((0, 1), (0, 1)):
            twin = (east - dc, north + dr)                # rows count downward
            if twin in crosses[b]:
                steps.append(crosses[a][east, north] - crosses[b][twin])
        # page b lies at a step from page a
        off = max(np.abs(step - (shift[a] - shift[b])).max() for step in steps)
        worst_of[kind] = max(worst_of.get(kind, 0.0), off)
        if not off <= PAGE_TOL:
            fail(f"{ta.where} and {tb.where}: the cut line's shift is {off:.3f} mm off that of their shared crosses")
        edges[a].append((b, np.mean(steps, axis=0)))
        edges[b].append((a, -np.mean(steps, axis=0)))
    for kind, n in count.items():
        if n:
            print(f"   neighbours {kind}: {n} pairs, shift against crosses worst {worst_of[kind]:.4f} mm")
    # taped together by the crosses alone, what hangs together
    place, group = {}, {}
    for root in grid:
        if root in place:
            continue
        place[root], group[root], todo = -shift[root], root, [root]
        while todo:
            a = todo.pop(0)
            for b, step in edges[a]:
                if b not in place:
                    place[b], group[b] = place[a] + step, root
                    todo.append(b)
    lines = [shapely.LineString(np.vstack([c.points, c.points[:1]]) if c.closed else c.points) for c in first.cuts]
    target = shapely.union_all(lines)
    away, windows, starts = 0.0, {}, np.cumsum([0, *(len(c.points) for c in first.cuts)])
    for spot, tile in grid.items():
        dx, dy = place[spot]
        windows[spot] = shapely.box(*(tile.window + (dx, dy, dx, dy)))
        for k, c in enumerate(tile.cuts):
            p = tile.cut[starts[k]:starts[k + 1]] + place[spot]
            shown = shapely.LineString(np.vstack([p, p[:1]]) if c.closed else p).intersection(windows[spot])
            if not shown.is_empty:
                away = max(away, shapely.distance(shapely.points(shapely.get_coordinates(shown)), target).max())
    paper = shapely.union_all(list(windows.values()))
    missing = target.difference(paper).length
    print(f"   taped by the crosses: shown cut lines at most {away:.4f} mm off, {missing:.3f} mm of them on no tile")
    if not away < SIZE_TOL:
        fail(f"taped together, a cut line is {away:.3f} mm off")
    if missing > PAGE_TOL:
        fail(f"{missing:.2f} mm of the cut lines are on no tile")
    for line in lines:
        if len({group[spot] for spot, w in windows.items() if line.intersection(w).length > 2 * CROSS_INSET}) > 1:
            fail("tiles of one cut line share no cross")


def check_pdf(path, stem, paper, fail):
    reader = PdfReader(path, strict=True)
    # Pages of the map and of notes come first.
    first = sum(bool(re.search(r"\b(?:page map|notes) · page \d+ of", p.extract_text())) for p in reader.pages)
    plots = [Plotter(page, reader) for page in reader.pages]
    for number, plot in enumerate(plots, 1):
        for problem in plot.problems:
            fail(f"page {number}: {problem}")
        size = (plot.width, plot.height)
        if paper in PAPERS and max(abs(s - p) for s, p in zip(sorted(size), PAPERS[paper])) > PAGE_TOL:
            fail(f"page {number} is {size[0]:.3f} x {size[1]:.3f} mm")
    sizes = sorted({(round(p.width, 2), round(p.height, 2)) for p in plots})
    print(f"   {len(plots)} page{'s' if len(plots) > 1 else ''}" + (" (the first a map)" if first else "")
          + " of " + ", ".join(f"{w:.2f} x {h:.2f} mm" for w, h in sizes))
    tiles = [Tile(plot, f"page {number}") for number, plot in enumerate(plots[first:], first + 1)]
    others = {"DXF": dxf_cut(path.with_name(stem + ".dxf")), "SVG": svg_cut(path.with_name(stem + ".svg"))}
    check_size(tiles[0], others, fail)
    check_bars(tiles, fail)
    if len(tiles) > 1:
        grid = named(reader, tiles, first, fail)
        if len(grid) == len(tiles):
            check_tiles(grid, fail)
    else:
        tile = tiles[0]
        drawn = sum(shapely.LineString(c.points).difference(tile.clip).length for c in tile.cuts)
        if drawn > PAGE_TOL:
            fail(f"{drawn:.2f} mm of the cut line lie outside the printed window")


def main():
    parser = argparse.ArgumentParser(description="Measure the full-size PDFs of a build pack.")
    parser.add_argument("pack", type=Path, metavar="PACK_DIR")
    args = parser.parse_args()
    if not args.pack.is_dir():
        print(f"{args.pack}: not a folder", file=sys.stderr)
        return 2
    failures, number = [], 0
    for path in sorted(args.pack.rglob("*.pdf")):
        match = re.fullmatch(r"(.+)-(roll|a4|letter)", path.stem)
        # A frame put together (frame-3) and the body plan have nothing to cut; its parts (frame-3-parts) have.
        if not match or re.fullmatch(r"frame-\d+|body-plan", match.group(1)):
            continue
        number += 1
        name = path.relative_to(args.pack)
        print(name)

        def fail(message, name=name):
            failures.append(f"{name}: {message}")
            print("   FAIL " + message)
        try:
            check_pdf(path, match.group(1), match.group(2), fail)
        except Exception as error:          # whatever a reader throws, the file is bad
            fail(f"cannot be measured: {type(error).__name__}: {error}")
    if not number:
        failures.append("no -roll.pdf, -a4.pdf or -letter.pdf files")
    print(f"\n{number} PDF files: " + ("all well" if not failures else f"{len(failures)} failure(s)"))
    for failure in failures:
        print("   " + failure)
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
