#!/usr/bin/env python3
"""Save and pack onto a full disk.

Independent truth: a tmpfs of a few MiB, filled by this script until so many bytes are left;
the system itself then refuses the program's writes, in the middle of a file or between files.
Every command must end with a sentence that names the file and says that no space is left
(exit code 1, no panic), leave what stood there byte for byte, and leave nothing of its own.
With room again it must do what was asked.

Needs root to mount; without, says SKIPPED and ends with 77.  Unmounts what it mounted.

Run:  python full_disk.py PROGRAM
Exit code 0 when all is well, 1 on a failure, 2 on bad usage, 77 if skipped.
"""
import argparse
import os
import pathlib
import subprocess
import sys
import tempfile

SIZE = 24 << 20
PAGE = 4096
# Left on the disk, from nothing at all to nearly what a pack takes.
ROOM_PAGES = [0, 1, 2, 5, 20, 100, 300, 700]


def tree(folder):
    return {p.relative_to(folder).as_posix(): p.read_bytes()
            for p in sorted(folder.rglob("*")) if p.is_file() and p.name != "ballast"}


def fill(folder, pages):
    """Takes all room but so many pages."""
    ballast = folder / "ballast"
    ballast.unlink(missing_ok=True)
    # Pages of a tmpfs: folders and names take none, a file's bytes take whole ones.
    free = os.statvfs(folder)
    room = free.f_bavail * free.f_frsize // PAGE - pages
    with open(ballast, "wb") as f:
        f.write(bytes(max(room, 0) * PAGE))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("program", type=pathlib.Path)
    program = parser.parse_args().program.resolve()
    with tempfile.TemporaryDirectory() as work:
        disk = pathlib.Path(work) / "disk"
        disk.mkdir()
        mount = ["mount", "-t", "tmpfs", "-o", f"size={SIZE}", "chinewright-full-disk", str(disk)]
        mounted = subprocess.run(mount, capture_output=True, text=True)
        if mounted.returncode:
            print(f"SKIPPED: no small disk can be mounted here ({mounted.stderr.strip()}); run as root")
            return 77
        try:
            return check(program, disk)
        finally:
            subprocess.run(["umount", str(disk)], check=True)


def check(program, disk):
    def run(*words):
        return subprocess.run([program, *words], cwd=disk, capture_output=True, text=True)

    run("start", "sluice-pram", "-o", "boat.ron")
    run("pack", "boat.ron", "-o", "pack", "--paper", "roll")
    run("mesh", "boat.ron", "-o", "boat.stl")
    run("start", "reed-skiff", "-o", "skiff.ron")
    asked = [
        (["start", "warden", "-o", "boat.ron", "--force"], "boat.ron"),
        (["start", "warden", "-o", "new.ron"], "new.ron"),
        (["mesh", "skiff.ron", "-o", "boat.stl"], "boat.stl"),
        (["pack", "skiff.ron", "-o", "pack", "--paper", "roll"], "pack"),
        (["pack", "skiff.ron", "-o", "other/pack", "--paper", "roll"], "other/pack"),
    ]
    before, bad, refused, done = tree(disk), 0, 0, 0
    folders = {p for p in disk.rglob("*") if p.is_dir()}
    for words, named in asked:
        for pages in ROOM_PAGES:
            fill(disk, pages)
            result = run(*words)
            (disk / "ballast").unlink()
            there, told = tree(disk), result.stderr.strip()
            case = f"{' '.join(words)} with {pages * PAGE // 1024} KiB left"
            if result.returncode in (0, 3):
                # There was room: put back what stood there.
                done += 1
                restore(disk, before)
                continue
            refused += 1
            faults = []
            if there != before:
                differ = sorted(n for n in there.keys() | before.keys() if there.get(n) != before.get(n))
                faults.append(f"not as it was: {', '.join(differ)[:300]}")
            new = [str(p.relative_to(disk)) for p in disk.rglob("*") if p.is_dir() and p not in folders]
            faults += [f"left over: {n}" for n in new]
            if result.returncode != 1 or "panicked" in told:
                faults.append(f"exit {result.returncode}")
            last = told.splitlines()[-1] if told else ""
            if named not in last or "No space left" not in last:
                faults.append(f"says {told!r}")
            for fault in faults:
                bad += 1
                print(f"FAIL {case}: {fault}")
            if faults:
                restore(disk, before)
        # With room again it does what was asked.
        result = run(*words)
        if result.returncode not in (0, 3):
            bad += 1
            print(f"FAIL {' '.join(words)} with room again: {result.stderr.strip()}")
        restore(disk, before)
    if refused < 3 * len(asked):
        bad += 1
        print(f"FAIL only {refused} runs met a full disk")
    print(f"{refused} runs on a full disk, {done} that had room, {bad} faults; said last: {told_last(run, disk, asked)}")
    return 1 if bad else 0


def told_last(run, disk, asked):
    fill(disk, 0)
    said = run(*asked[0][0]).stderr.strip()
    (disk / "ballast").unlink()
    return said


def restore(disk, before):
    for p in sorted(disk.rglob("*"), reverse=True):
        if p.is_dir() and not any(p.iterdir()):
            p.rmdir()
        elif p.is_file() and p.relative_to(disk).as_posix() not in before:
            p.unlink()
    for name, data in before.items():
        (disk / name).write_bytes(data)


if __name__ == "__main__":
    sys.exit(main())
