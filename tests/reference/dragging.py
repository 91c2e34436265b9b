"""A day at the loft: ducks are dragged in a real window for as long as asked, and its memory
and its keeping of unsaved work are watched.

    python3 tests/reference/dragging.py PROGRAM [--minutes 60]

Needs xvfb and xdotool. Every round pulls ducks of the sheer and the chine about in plan, asks
another question and comes back, and undoes what was pulled; every minute it rests a while with
what was pulled, and prints resident memory (MB) and how long ago unsaved work was kept. Fails
(exit 1) where the window goes away, where memory of the last third is on the mean more than 8 %
above that of the second, or where work that changed was not kept within 30 s.
"""

import argparse
import os
import pathlib
import random
import signal
import subprocess
import sys
import tempfile
import time

DISPLAY = ":97"
# Ducks of the demonstration hull in plan, in the strip of a window of 1280 x 800, and the
# questions in the rail.
DUCKS = [(587, 683), (482, 697), (691, 671)]
UNDO = (714, 24)
PULLS = 6
# Longer than the window waits before it keeps changed work, seconds.
REST = 14
QUESTIONS = [93, 172, 252, 333, 413]


def xdo(*words):
    subprocess.run(["xdotool", *map(str, words)], check=True, env=ENV, timeout=30)


def memory(pid):
    for line in pathlib.Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1]) / 1024
    raise RuntimeError("no VmRSS")


def kept_ago(folder):
    """Seconds since anything under the folder of unsaved work was written."""
    times = [p.stat().st_mtime for p in folder.rglob("*.autosave")]
    return time.time() - max(times) if times else None


def pull(at, by):
    xdo("mousemove", *at, "mousedown", 1)
    for _ in range(6):
        time.sleep(0.08)
        xdo("mousemove_relative", "--", 0, by)
    xdo("mouseup", 1)


def main():
    args = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    args.add_argument("program")
    args.add_argument("--minutes", type=float, default=60)
    args = args.parse_args()
    home = pathlib.Path(tempfile.mkdtemp(prefix="dragging-"))
    (home / "preferences.ron").write_text("(toured: true)")
    ENV.update(DISPLAY=DISPLAY, CHINEWRIGHT_CONFIG=str(home), XDG_DATA_HOME=str(home))
    server = subprocess.Popen(
        ["Xvfb", DISPLAY, "-screen", "0", "1280x800x24"],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )
    time.sleep(2)
    boat = home / "dragged.ron"
    subprocess.run([args.program, "start", "reed-skiff", "-o", boat], check=True, stdout=subprocess.DEVNULL)
    window = subprocess.Popen(
        [args.program, boat], cwd=home, env=ENV, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    try:
        time.sleep(12)
        return watch(args, window, home)
    finally:
        window.send_signal(signal.SIGTERM)
        server.terminate()


def watch(args, window, home):
    chance = random.Random(4)
    begun, told = time.time(), 0
    seen, faults, pulls = [], [], 0
    while time.time() - begun < 60 * args.minutes:
        xdo("mousemove", 56, QUESTIONS[0], "click", 1)
        time.sleep(0.5)
        for k in range(PULLS):
            pull(DUCKS[k % len(DUCKS)], chance.choice([-4, -3, 3, 4]))
        pulls += PULLS
        xdo("mousemove", 56, chance.choice(QUESTIONS), "click", 1)
        time.sleep(0.5)
        if window.poll() is not None:
            print(f"FAILED: the window went away with {window.returncode}")
            return 1
        minute = int((time.time() - begun) / 60)
        if minute > told:
            told = minute
            time.sleep(REST)
            seen.append(memory(window.pid))
            ago = kept_ago(home)
            print(f"minute {minute}: {seen[-1]:.0f} MB, kept {ago and round(ago)} s ago", flush=True)
            if ago is None or ago > 30:
                faults.append(f"minute {minute}: work was not kept")
        xdo("mousemove", 56, QUESTIONS[0], "click", 1)
        for _ in range(PULLS):
            xdo("mousemove", *UNDO, "click", 1)
            time.sleep(0.3)
        time.sleep(0.5)
    third = max(1, len(seen) // 3)
    before, after = seen[third:2 * third] or seen[:1], seen[-third:]
    grown = sum(after) / len(after) / (sum(before) / len(before)) - 1
    print(f"{pulls} pulls in {told} minutes; memory of the last third against the second: {100 * grown:+.1f} %")
    if grown > 0.08:
        faults.append("memory grows")
    for f in faults:
        print("FAILED:", f)
    return 1 if faults else 0


ENV = dict(os.environ)
if __name__ == "__main__":
    sys.exit(main())
