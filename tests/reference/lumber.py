"""Least cost of cutting sticks from boards, by mixed integer programming.

Writes lumber.json: lists of pieces and boards with the least cost of boards from which all can
be cut, for three kinds of instances:

* a published one: 13 widths from rolls of 5600, 73 rolls at least (the worked example of the
  encyclopaedia article "Cutting stock problem"), solved here again;
* bin packing by the generators of Falkenauer, Journal of Heuristics 2 (1996), as the
  OR-Library names them: "u", sizes even from 20 to 100 in bins of 150, and "t", triplets that
  fill bins of 1000 without waste, whose optimum is a third of their number by construction
  (own draws from a seed; the OR-Library's files are not copied);
* lists as a boat has them: kinds of sticks, several lengths with prices, some of them few, a saw
  cut, and boards wide enough for several sticks side by side, ripped first and crosscut then.

Every instance is one integer programme over a graph whose nodes are places along a board (Valério
de Carvalho, Annals of Operations Research 86, 1999), given to HiGHS through
scipy.optimize.milp. Each answer is decomposed into boards and added up before it is written;
one that does not add up stops the script. Where two minutes leave a gap between bound and answer,
both are written.
"""

import argparse
import itertools
import json
import math
import random
from pathlib import Path

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import lil_matrix


def rip_ways(width, kerf, widths):
    """Sets of strips that one board gives, none inside another."""
    most = [int((width + kerf) // (w + kerf)) for w in widths]
    ways = [
        n
        for n in itertools.product(*(range(m + 1) for m in most))
        if sum(n) and sum(k * (w + kerf) for k, w in zip(n, widths)) <= width + kerf
    ]
    inside = lambda a, b: a != b and all(x <= y for x, y in zip(a, b))
    return [a for a in ways if not any(inside(a, b) for b in ways)]


def graph(room, sizes):
    """Places that pieces can end at, and arcs (from, to, kind)."""
    ends, arcs = {0}, set()
    order = sorted(range(len(sizes)), key=lambda k: -sizes[k])
    for k in order:
        frontier = sorted(ends)
        while frontier:
            more = set()
            for p in frontier:
                q = p + sizes[k]
                if q <= room:
                    arcs.add((p, q, k))
                    if q not in ends:
                        more.add(q)
            ends |= more
            frontier = sorted(more)
    return sorted(ends), sorted(arcs)


def solve(case, seconds=120):
    kerf = case["kerf"]
    widths = sorted({p["width"] for p in case["pieces"]})
    variables, cost, integer_top = [], [], []

    def variable(c, top):
        variables.append(None)
        cost.append(c)
        integer_top.append(top)
        return len(variables) - 1

    rows = []  # (coefficients, low, high)
    cover = [dict() for _ in case["pieces"]]
    for b in case["boards"]:
        ways = rip_ways(b["width"], kerf, widths)
        top = b["count"] if b["count"] is not None else sum(p["count"] for p in case["pieces"])
        used = [variable(b["price"], top) for _ in ways]
        if b["count"] is not None:
            rows.append(({v: 1 for v in used}, -np.inf, b["count"]))
        room = math.floor(b["length"] - 2 * case["trim"] + kerf + 1e-9)
        for s, w in enumerate(widths):
            kinds = [i for i, p in enumerate(case["pieces"]) if p["width"] == w]
            sizes = [math.ceil(case["pieces"][i]["length"] + kerf - 1e-9) for i in kinds]
            ends, arcs = graph(room, sizes)
            flow = {}
            for p, q, k in arcs:
                v = variable(0, 10_000)
                flow[(p, q, k)] = v
                cover[kinds[k]][v] = 1
            waste = {p: variable(0, 10_000) for p in ends}
            for p in ends:
                row = {waste[p]: -1}
                for (a, c, _), v in flow.items():
                    if a == p:
                        row[v] = row.get(v, 0) - 1
                    if c == p:
                        row[v] = row.get(v, 0) + 1
                if p == 0:
                    for u, way in zip(used, ways):
                        if way[s]:
                            row[u] = way[s]
                rows.append((row, 0, 0))
    for i, p in enumerate(case["pieces"]):
        rows.append((cover[i], p["count"], np.inf))
    a = lil_matrix((len(rows), len(variables)))
    for r, (row, _, _) in enumerate(rows):
        for v, c in row.items():
            a[r, v] = c
    result = milp(
        cost,
        constraints=LinearConstraint(a.tocsr(), [r[1] for r in rows], [r[2] for r in rows]),
        integrality=np.ones(len(variables)),
        bounds=Bounds(0, integer_top),
        options={"time_limit": seconds, "mip_rel_gap": 0.0},
    )
    if result.x is None:
        return None
    x = np.round(result.x)
    assert np.abs(x - result.x).max() < 1e-5
    for row, low, high in rows:
        total = sum(c * x[v] for v, c in row.items())
        assert low - 1e-6 <= total <= high + 1e-6
    least = float(np.dot(cost, x))
    if result.status != 0 or abs(least - result.mip_dual_bound) > 1e-6 * max(1, least):
        return {"cost": least, "bound": float(result.mip_dual_bound), "proved": False}
    return {"cost": least, "bound": least, "proved": True}


def published():
    widths = [1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200]
    counts = [22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20]
    return {
        "name": "13 widths from rolls of 5600",
        "optimum_published": 73,
        "kerf": 0,
        "trim": 0,
        "pieces": [{"length": w, "width": 40, "count": c} for w, c in zip(widths, counts)],
        "boards": [{"length": 5600, "width": 40, "price": 1.0, "count": None}],
    }


def bins(name, sizes, capacity, optimum):
    kinds = sorted(set(sizes), reverse=True)
    return {
        "name": name,
        "optimum_published": optimum,
        "kerf": 0,
        "trim": 0,
        "pieces": [{"length": s, "width": 40, "count": sizes.count(s)} for s in kinds],
        "boards": [{"length": capacity, "width": 40, "price": 1.0, "count": None}],
    }


def triplets(rng, count):
    out = []
    for _ in range(count // 3):
        first = rng.randint(380, 490)
        rest = 1000 - first
        second = rng.randint(250, rest // 2)
        out += [first, second, rest - second]
    return out


def boat(rng, name, kinds, widths, limited):
    pieces = []
    for _ in range(kinds):
        pieces.append(
            {
                "length": rng.randint(25, 240) * 10 if rng.random() < 0.4 else rng.randint(250, 2300),
                "width": rng.choice(widths),
                "count": rng.randint(1, 4),
            }
        )
    lengths = rng.sample([2400, 3000, 3600, 4200, 4800], 3)
    boards = []
    for length in sorted(lengths):
        for width in {max(widths), rng.choice([140, 184])}:
            price = round(length * width * 1e-4 * rng.uniform(0.9, 1.15), 2)
            count = rng.randint(2, 6) if limited and rng.random() < 0.5 else None
            boards.append({"length": length, "width": width, "price": price, "count": count})
    return {
        "name": name,
        "optimum_published": None,
        "kerf": 3,
        "trim": 10,
        "pieces": pieces,
        "boards": boards,
    }


def main():
    args = argparse.ArgumentParser()
    args.add_argument("-o", default=Path(__file__).with_name("lumber.json"))
    out = Path(args.parse_args().o)
    rng = random.Random(14)
    cases = [published()]
    cases += [bins(f"u120 draw {i}", [rng.randint(20, 100) for _ in range(120)], 150, None) for i in range(3)]
    cases += [bins(f"t60 draw {i}", triplets(rng, 60), 1000, 20) for i in range(3)]
    for i in range(6):
        cases.append(boat(rng, f"one section, {3 + 2 * i} kinds", 3 + 2 * i, [38], i % 2 == 1))
    for i in range(6):
        widths = [38, 64] if i < 3 else [32, 45, 89]
        cases.append(boat(rng, f"ripped, {4 + 2 * i} kinds", 4 + 2 * i, widths, i % 2 == 1))
    for case in cases:
        answer = solve(case)
        case["answer"] = answer
        print(case["name"], answer, flush=True)
        if case["optimum_published"] is not None:
            assert answer["cost"] == case["optimum_published"], "not the published optimum"
    out.write_text(json.dumps(cases, indent=1) + "\n")


if __name__ == "__main__":
    main()
