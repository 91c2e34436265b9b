"""A day at the loft: ducks are dragged in a real window for as long as asked, and its memory
and its keeping of unsaved work are watched.

    python3 tests/reference/dragging.py PROGRAM [--minutes 60]

Needs xvfb and xdotool. Every round pulls ducks of the sheer and the chine about in plan, asks
another question and comes back, and undoes what was pulled. Every minute it rests a while with
what was pulled and prints resident memory (MB) and how long ago unsaved work was kept. Fails
(exit 1) where the window goes away, where memory of the last third is on the mean more than 8 %
above that of the second, or where its title says for 30 s on end that she is not saved and
nothing is kept. (Beside builds that take the processor the window may be behind the hand by
some seconds: what counts is what it has seen.)
"""

import argparse
import random
import sys
import time

from real_window import QUESTIONS, grown, opened

# Ducks of the demonstration hull in plan, in the strip of a window of 1280 x 800.
DUCKS = [(587, 683), (482, 697), (691, 671)]
UNDO = (714, 24)
PULLS = 6
# Longer than the window waits before it keeps changed work, seconds.
REST = 14
# Changed work that was not kept for so long is a fault, seconds.
TOO_LONG = 30
FAULT, UNSEEN = "not kept", "saw no pull"
# Of so many rests at least the window must have seen what was pulled.
MOST_SEEN = 0.8


def pull(window, at, by):
    window.xdo("mousemove", *at, "mousedown", 1)
    for _ in range(6):
        time.sleep(0.08)
        window.xdo("mousemove_relative", "--", 0, by)
    window.xdo("mouseup", 1)


def kept(window):
    """Rests with what was pulled. How long ago it was kept (s) once it is; `FAULT` where the
    title says for `TOO_LONG` on end that she is not saved, and nothing is kept; `UNSEEN` where
    it says for as long that she is saved: a window that gets no frame sees no pull."""
    since = {True: time.time(), False: time.time()}
    time.sleep(REST)
    while True:
        unsaved, ago = window.unsaved(), window.kept_ago()
        since[not unsaved] = time.time()
        if unsaved and ago is not None and ago < TOO_LONG:
            return ago
        if time.time() - since[unsaved] > TOO_LONG:
            return FAULT if unsaved else UNSEEN
        time.sleep(0.5)


def watch(window, minutes):
    chance = random.Random(4)
    begun, told = time.time(), 0
    seen, faults, pulls = [], [], 0
    rests = unseen = 0
    while time.time() - begun < 60 * minutes:
        window.ask(QUESTIONS[0])
        for k in range(PULLS):
            pull(window, DUCKS[k % len(DUCKS)], chance.choice([-4, -3, 3, 4]))
        pulls += PULLS
        window.ask(chance.choice(QUESTIONS))
        if window.gone() is not None:
            print(f"FAILED: the window went away with {window.gone()}")
            return 1
        minute = int((time.time() - begun) / 60)
        if minute > told:
            told = minute
            answer = kept(window)
            seen.append(window.memory())
            rests += 1
            unseen += answer == UNSEEN
            words = answer if isinstance(answer, str) else f"kept {answer:.0f} s ago"
            print(f"minute {minute}: {seen[-1]:.0f} MB, {words}", flush=True)
            if answer == FAULT:
                faults.append(f"minute {minute}: work was not kept")
        window.ask(QUESTIONS[0])
        for _ in range(PULLS):
            window.xdo("mousemove", *UNDO, "click", 1)
            time.sleep(0.3)
        time.sleep(0.5)
    rise = 100 * grown(seen)
    print(f"{pulls} pulls in {told} minutes; memory of the last third against the second: {rise:+.1f} %")
    if rise > 8:
        faults.append("memory grows")
    if unseen > (1 - MOST_SEEN) * rests:
        faults.append(f"the window saw no pull before {unseen} of {rests} rests")
    for f in faults:
        print("FAILED:", f)
    return 1 if faults else 0


def main():
    args = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    args.add_argument("program")
    args.add_argument("--minutes", type=float, default=60)
    args = args.parse_args()
    with opened(args.program, ":97", "reed-skiff") as window:
        return watch(window, args.minutes)


if __name__ == "__main__":
    sys.exit(main())
