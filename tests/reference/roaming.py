"""A window used for all it has: starters opened one after another, the window made larger and
smaller, text larger and smaller, every question asked; its memory is watched.

    python3 tests/reference/roaming.py PROGRAM [--minutes 24]

Needs xvfb and xdotool. Prints resident memory (MB) every minute. Fails (exit 1) where the window
goes away, or where memory of the last third is on the mean more than 8 % above that of the second.
"""

import argparse
import os
import pathlib
import signal
import subprocess
import sys
import tempfile
import time

import dragging
from dragging import QUESTIONS, memory, xdo

STARTERS = ["reed-skiff", "warden", "mere-dory", "sluice-pram"]
SIZES = [(1280, 800), (1000, 700), (800, 600), (1600, 1000)]


def chord(*keys):
    """Keys one after another, each as long as a hand holds it."""
    for key in keys[:-1]:
        xdo("keydown", key)
        time.sleep(0.15)
    xdo("key", keys[-1])
    time.sleep(0.15)
    for key in reversed(keys[:-1]):
        xdo("keyup", key)


def opened(boat):
    """Opens a boat by a typed path, as no desktop serves a dialog here."""
    chord("ctrl", "o")
    time.sleep(0.6)
    xdo("type", "--delay", "15", str(boat))
    xdo("key", "Return")
    time.sleep(1.5)


def main():
    args = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    args.add_argument("program")
    args.add_argument("--minutes", type=float, default=24)
    args = args.parse_args()
    home = pathlib.Path(tempfile.mkdtemp(prefix="roaming-"))
    (home / "preferences.ron").write_text("(toured: true)")
    env = dragging.ENV
    env.update(DISPLAY=":96", CHINEWRIGHT_CONFIG=str(home), XDG_DATA_HOME=str(home))
    env.pop("DBUS_SESSION_BUS_ADDRESS", None)
    boats = []
    for name in STARTERS:
        boats.append(home / f"{name}.ron")
        subprocess.run([args.program, "start", name, "-o", boats[-1]], check=True, stdout=subprocess.DEVNULL)
    server = subprocess.Popen(
        ["Xvfb", ":96", "-screen", "0", "1600x1000x24"],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )
    time.sleep(2)
    window = subprocess.Popen(
        [args.program, boats[0]], cwd=home, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    try:
        time.sleep(12)
        return watch(args, window, boats)
    finally:
        window.send_signal(signal.SIGTERM)
        server.terminate()


def watch(args, window, boats):
    found = ["xdotool", "search", "--onlyvisible", "--name", "chinewright"]
    wid = subprocess.run(found, check=True, env=dragging.ENV, capture_output=True, text=True).stdout.split()[0]
    begun, told, seen, rounds = time.time(), 0, [], 0
    while time.time() - begun < 60 * args.minutes:
        xdo("windowfocus", wid)
        opened(boats[rounds % len(boats)])
        xdo("windowsize", wid, *SIZES[rounds % len(SIZES)])
        time.sleep(0.8)
        for key in ["plus", "plus", "minus", "0"]:
            chord("ctrl", key)
            time.sleep(0.3)
        for number in range(1, len(QUESTIONS) + 1):
            chord("alt", str(number))
            time.sleep(0.7)
        rounds += 1
        if window.poll() is not None:
            print(f"FAILED: the window went away with {window.returncode}")
            return 1
        minute = int((time.time() - begun) / 60)
        if minute > told:
            told = minute
            seen.append(memory(window.pid))
            print(f"minute {minute}: {seen[-1]:.0f} MB after {rounds} boats", flush=True)
    third = max(1, len(seen) // 3)
    before, after = seen[third:2 * third] or seen[:1], seen[-third:]
    grown = sum(after) / len(after) / (sum(before) / len(before)) - 1
    print(f"{rounds} boats in {told} minutes; memory of the last third against the second: {100 * grown:+.1f} %")
    if grown > 0.08:
        print("FAILED: memory grows")
    return 1 if grown > 0.08 else 0


if __name__ == "__main__":
    sys.exit(main())
