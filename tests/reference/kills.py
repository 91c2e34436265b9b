#!/usr/bin/env python3
"""Kill the program in the middle of packing, many times, and look at what it leaves.

Independent truth: the manifests' BLAKE3 hashes are not used; each state is compared byte by
byte with the two packs made undisturbed.  Before every run the folder holds boat A with a
stranger's file; the run packs boat B and is killed after a random while.  The folder must
then be A whole or B whole, or stand beside its place (between the two renames); the next
run, undisturbed, must leave B whole, the stranger's file as it was, and nothing beside it.

Run:  python kills.py PROGRAM [--times N] [--seed S]
Exit code 0 when all is well, 1 on a failure, 2 on bad usage.  Writes to a temporary folder.
"""
import argparse
import pathlib
import random
import shutil
import subprocess
import sys
import tempfile
import time

MINE = b"measured by hand\n"


def tree(folder):
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("program", type=pathlib.Path)
    parser.add_argument("--times", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    chance = random.Random(args.seed)
    program = args.program.resolve()
    with tempfile.TemporaryDirectory() as work:
        work = pathlib.Path(work)

        def run(*words, **kind):
            return subprocess.run([program, *words], cwd=work, capture_output=True, **kind)

        packs = {}
        for boat in ("sluice-pram", "reed-skiff"):
            run("start", boat, "-o", f"{boat}.ron", check=True)
            begun = time.monotonic()
            run("pack", f"{boat}.ron", "-o", f"whole-{boat}", "--paper", "roll")
            took = time.monotonic() - begun
            packs[boat] = tree(work / f"whole-{boat}")
        old, new = packs["sluice-pram"], packs["reed-skiff"]
        counts = {"old": 0, "new": 0, "between": 0}
        folder = work / "pack"
        for k in range(args.times):
            for left in work.glob(".pack.*"):
                shutil.rmtree(left)
            shutil.rmtree(folder, ignore_errors=True)
            shutil.copytree(work / "whole-sluice-pram", folder)
            (folder / "frames" / "mine.txt").write_bytes(MINE)
            child = subprocess.Popen([program, "pack", "reed-skiff.ron", "-o", "pack", "--paper", "roll"],
                                     cwd=work, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            # Most of its time it computes: of three kills two come late, while it writes.
            low = 0.7 if chance.random() < 0.67 else 0.0
            time.sleep(took * chance.uniform(low, 1.15))
            child.kill()
            child.wait()
            if not folder.exists():
                counts["between"] += 1
                if not (work / ".pack.chinewright-old").is_dir():
                    print(f"FAIL kill {k}: the folder is gone")
                    return 1
            else:
                there = tree(folder)
                whole = [all(there.get(n) == b for n, b in p.items()) for p in (old, new)]
                if whole[0] == whole[1]:
                    print(f"FAIL kill {k}: neither the old nor the new alone")
                    return 1
                counts["old" if whole[0] else "new"] += 1
            run("pack", "reed-skiff.ron", "-o", "pack", "--paper", "roll")
            there = tree(folder)
            if there.pop("frames/mine.txt", None) != MINE or there != new or list(work.glob(".pack.*")):
                print(f"FAIL kill {k}: the next run did not mend it")
                return 1
        print(f"{args.times} kills: {counts}: all well")
    return 0


if __name__ == "__main__":
    sys.exit(main())
