#!/usr/bin/env python3
"""Pack and report the same boats with two builds of the program and compare every file.

For work on speed: what was computed before must be what is computed after.  All starters, and
random hulls from a folder if one is given, are packed (roll paper) and reported (text and JSON)
by both programs.  Every file must be the same byte for byte, but for three kinds:

  report.json and the report on standard output as JSON print every digit that a number has.
  They must hold the same keys and words, and numbers alike to a share of FIGURES: sums taken in
  another order differ in the sixteenth figure, iterations in what they were to be found to
  (floating, a billionth of the volume and a hundred-thousandth of a millimetre).  How many
  numbers differ at all, and the greatest share, is printed.

  a .dxf has lines of its own for numbers, to the twelfth decimal of a millimetre where they are
  not rounded before: those may differ by DRAWN_MM.  Such files are counted.

  the manifest, which carries checksums of both: those rows are left out.

The hulls are written by
  CHINEWRIGHT_HULLS=FOLDER cargo test --release --no-default-features -- --ignored write_the_random_hulls

Run:  python unchanged.py PROGRAM_BEFORE PROGRAM_AFTER [--hulls FOLDER] [--every N] [--count N]
      [--reports-only]
Prints what differs, hull by hull, and the totals.  Exit code 0 when nothing does, 1 otherwise,
2 on bad usage.  Needs nothing but Python.  Writes to a temporary folder.
"""
import argparse
import json
import pathlib
import subprocess
import sys
import tempfile

FIGURES = 1e-6            # share of a number; nothing that people read has more than five figures
DRAWN_MM = 1e-8           # a hundredth of a nanometre
NOTHING = 1e-6            # what this small is rounding: trims, heels and offsets of nothing
MIRRORED = 1e-6           # heel (degrees) of an upright boat: both sheers are first to flood
FORMATS = {"text": [], "json": ["--json"]}


def run(program, *words, cwd):
    """Exit code, standard output and standard error of the program."""
    done = subprocess.run([program, *map(str, words)], cwd=cwd, capture_output=True, timeout=300)
    return done.returncode, done.stdout, done.stderr


class Numbers:
    """Compares two JSON values; keeps the greatest difference of numbers."""

    def __init__(self):
        self.count, self.differ, self.most, self.where = 0, 0, 0.0, ""
        self.drawings = 0

    def same(self, a, b, path=""):
        """Where two values differ by more than rounding, as paths."""
        if isinstance(a, dict) and isinstance(b, dict):
            if a.keys() != b.keys():
                return [f"{path}: keys {sorted(a.keys() ^ b.keys())}"]
            if "first_to_flood" in a and a["first_to_flood"] and abs(a["heel_deg"] or 0.0) < MIRRORED:
                # Upright, either side is; which, rounding says.
                a, b = ({**c, "first_to_flood": [abs(x) for x in c["first_to_flood"]]} for c in (a, b))
            return [d for k in a for d in self.same(a[k], b[k], f"{path}.{k}")]
        if isinstance(a, list) and isinstance(b, list):
            if path.endswith(".waterline"):
                # Where it turns across the stern places are equally far aft, to rounding.
                a, b = (sorted(c, key=lambda p: (round(p[0], 6), p[1])) for c in (a, b))
            if len(a) != len(b):
                return [f"{path}: {len(a)} and {len(b)} long"]
            return [d for i, (x, y) in enumerate(zip(a, b)) for d in self.same(x, y, f"{path}[{i}]")]
        if isinstance(a, float) and isinstance(b, float):
            self.count += 1
            if a == b:
                return []
            self.differ += 1
            share = abs(a - b) / max(abs(a), abs(b))
            if abs(a - b) <= NOTHING:
                return []
            if share > self.most:
                self.most, self.where = share, path
            return [] if share <= FIGURES else [f"{path}: {a!r} and {b!r}"]
        return [] if type(a) is type(b) and a == b else [f"{path}: {a!r} and {b!r}"]


def tree(folder):
    """Bytes of every file of a pack by its name."""
    out = {}
    for path in folder.rglob("*"):
        if path.is_file():
            name, data = path.relative_to(folder).as_posix(), path.read_bytes()
            out[name] = data
    return out


def compare(programs, document, work, numbers, packs):
    """What differs for one document."""
    faults = []
    for name, words in FORMATS.items():
        a, b = (run(p, "report", document, *words, cwd=work) for p in programs)
        if name == "json" and a[1] and b[1]:
            faults += [f"report {d}" for d in numbers.same(json.loads(a[1]), json.loads(b[1]))]
            a, b = (a[0], b"", a[2]), (b[0], b"", b[2])
        faults += [f"report, {name}: {what}" for what, x, y in
                   zip(("exit code", "standard output", "standard error"), a, b) if x != y]
    if not packs:
        return faults, 2
    folders = [work / side for side in ("before", "after")]
    codes = [run(p, "pack", document, "-o", f, "--paper", "roll", cwd=work)[0]
             for p, f in zip(programs, folders)]
    if codes[0] != codes[1]:
        faults.append(f"pack: exit codes {codes}")
    before, after = (tree(f) if f.exists() else {} for f in folders)
    rounded = {n for n in before.keys() & after.keys()
               if before[n] != after[n] and n.endswith(".dxf") and rounding(before[n], after[n])}
    numbers.drawings += len(rounded)
    for side in (before, after):
        rows = side.get("manifest.json", b"").splitlines(keepends=True)
        left_out = [f'"{n}"'.encode() for n in rounded | {"report.json"}]
        side["manifest.json"] = b"".join(r for r in rows if not any(n in r for n in left_out))
    for name in sorted((before.keys() | after.keys()) - rounded):
        if name not in before or name not in after:
            faults.append(f"{name}: only {'after' if name in after else 'before'}")
        elif name == "report.json":
            differ = Numbers().same(json.loads(before[name]), json.loads(after[name]))
            faults += [f"{name} {d}" for d in differ]
        elif before[name] != after[name]:
            faults.append(f"{name}: {first_difference(before[name], after[name])}")
    return faults, 2 + len(before)


def rounding(a, b):
    """Whether two drawings differ in numbers only, and by next to nothing."""
    a, b = a.split(), b.split()
    try:
        return len(a) == len(b) and all(
            x == y or abs(float(x) - float(y)) <= DRAWN_MM for x, y in zip(a, b))
    except ValueError:
        return False


def first_difference(a, b):
    """The first lines that differ."""
    for x, y in zip(a.splitlines(), b.splitlines()):
        if x != y:
            return f"{x[:120]!r} and {y[:120]!r}"
    return f"{len(a)} and {len(b)} bytes"


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("before", type=pathlib.Path)
    parser.add_argument("after", type=pathlib.Path)
    parser.add_argument("--hulls", type=pathlib.Path)
    parser.add_argument("--every", type=int, default=8)
    parser.add_argument("--count", type=int, default=64)
    parser.add_argument("--reports-only", action="store_true")
    args = parser.parse_args()
    programs = [p.resolve() for p in (args.before, args.after)]
    if not all(p.is_file() for p in programs):
        print("no such program", file=sys.stderr)
        return 2
    numbers, files, bad, boats = Numbers(), 0, 0, 0
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        starters = [line.split()[0] for line in
                    run(programs[0], "start", cwd=folder)[1].decode().splitlines() if line.strip()]
        documents = []
        for name in starters:
            run(programs[0], "start", name, "-o", f"{name}.ron", cwd=folder)
            documents.append(folder / f"{name}.ron")
        if args.hulls:
            documents += sorted(args.hulls.resolve().glob("*.ron"))[::args.every][:args.count]
        for document in documents:
            with tempfile.TemporaryDirectory(dir=folder) as work:
                faults, count = compare(programs, document, pathlib.Path(work), numbers,
                                        not args.reports_only)
            files, boats, bad = files + count, boats + 1, bad + bool(faults)
            for fault in faults[:12]:
                print(f"DIFFERS {document.stem}: {fault}", flush=True)
            if len(faults) > 12:
                print(f"DIFFERS {document.stem}: and {len(faults) - 12} more", flush=True)
    print(f"{boats} boats, {files} files, {bad} boats differ; of {numbers.count} numbers in the "
          f"reports {numbers.differ} are not the same to the last bit, by a share of "
          f"{numbers.most:.1e} at most {numbers.where}; {numbers.drawings} drawings in which a "
          f"number differs by {DRAWN_MM} mm or less")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
