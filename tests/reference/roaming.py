"""A window used for all it has: starters opened one after another, the window made larger and
smaller, text larger and smaller, every question asked; its memory is watched.

    python3 tests/reference/roaming.py PROGRAM [--minutes 24]

Needs xvfb and xdotool. Prints resident memory (MB) every minute. Fails (exit 1) where the window
goes away, or where memory of the last third is on the mean more than 8 % above that of the second.
"""

import argparse
import subprocess
import sys
import time

from real_window import QUESTIONS, grown, opened

STARTERS = ["reed-skiff", "warden", "mere-dory", "sluice-pram"]
SIZES = [(1280, 800), (1000, 700), (800, 600), (1600, 1000)]


def chord(window, *keys):
    """Keys one after another, each as long as a hand holds it."""
    for key in keys[:-1]:
        window.xdo("keydown", key)
        time.sleep(0.15)
    window.xdo("key", keys[-1])
    time.sleep(0.15)
    for key in reversed(keys[:-1]):
        window.xdo("keyup", key)


def open_file(window, boat):
    """Opens a boat by a typed path, as no desktop serves a dialog here."""
    chord(window, "ctrl", "o")
    time.sleep(0.6)
    window.xdo("type", "--delay", "15", boat)
    window.xdo("key", "Return")
    time.sleep(1.5)


def watch(window, boats, minutes):
    found = ["xdotool", "search", "--onlyvisible", "--name", "chinewright"]
    wid = subprocess.run(found, check=True, env=window.env, capture_output=True, text=True).stdout.split()[0]
    begun, told, seen, rounds = time.time(), 0, [], 0
    while time.time() - begun < 60 * minutes:
        window.xdo("windowfocus", wid)
        open_file(window, boats[rounds % len(boats)])
        window.xdo("windowsize", wid, *SIZES[rounds % len(SIZES)])
        time.sleep(0.8)
        for key in ["plus", "plus", "minus", "0"]:
            chord(window, "ctrl", key)
            time.sleep(0.3)
        for number in range(1, len(QUESTIONS) + 1):
            chord(window, "alt", str(number))
            time.sleep(0.7)
        rounds += 1
        if window.gone() is not None:
            print(f"FAILED: the window went away with {window.gone()}")
            return 1
        minute = int((time.time() - begun) / 60)
        if minute > told:
            told = minute
            seen.append(window.memory())
            print(f"minute {minute}: {seen[-1]:.0f} MB after {rounds} boats", flush=True)
    rise = 100 * grown(seen)
    print(f"{rounds} boats in {told} minutes; memory of the last third against the second: {rise:+.1f} %")
    if rise > 8:
        print("FAILED: memory grows")
    return 1 if rise > 8 else 0


def main():
    args = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    args.add_argument("program")
    args.add_argument("--minutes", type=float, default=24)
    args = args.parse_args()
    with opened(args.program, ":96", STARTERS[0], screen="1600x1000") as window:
        boats = []
        for name in STARTERS:
            boats.append(window.home / f"{name}.ron")
            subprocess.run([args.program, "start", name, "-o", boats[-1]], check=True, stdout=subprocess.DEVNULL)
        return watch(window, boats, args.minutes)


if __name__ == "__main__":
    sys.exit(main())
