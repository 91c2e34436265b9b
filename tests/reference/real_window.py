"""The program's window on a screen of its own, pressed and read as a hand and an eye would.

Needs xvfb and xdotool. Used by `dragging.py` and `roaming.py`.
"""

import contextlib
import os
import pathlib
import signal
import subprocess
import tempfile
import time

# The questions in the rail of a window of 1280 x 800, points from its top at x = 56.
QUESTIONS = [93, 172, 252, 333, 413]
RAIL = 56


class Window:
    """A window that runs in `home`, where it keeps preferences and unsaved work."""

    def __init__(self, env, home, process):
        self.env, self.home, self.process = env, home, process

    def xdo(self, *words):
        subprocess.run(["xdotool", *map(str, words)], check=True, env=self.env, timeout=30)

    def ask(self, question):
        """Presses the question at this height in the rail."""
        self.xdo("mousemove", RAIL, question, "click", 1)
        time.sleep(0.5)

    def memory(self):
        """What is resident of it, MB."""
        for line in pathlib.Path(f"/proc/{self.process.pid}/status").read_text().splitlines():
            if line.startswith("VmRSS:"):
                return int(line.split()[1]) / 1024
        raise RuntimeError("no VmRSS")

    def unsaved(self):
        """Whether its title says that the boat has changed."""
        said = subprocess.run(
            ["xdotool", "search", "--name", "chinewright", "getwindowname"],
            env=self.env, timeout=30, capture_output=True, text=True,
        )
        return "not saved" in said.stdout

    def kept_ago(self):
        """Seconds since anything under its folder of unsaved work was written, or None."""
        times = [p.stat().st_mtime for p in self.home.rglob("*.autosave")]
        return time.time() - max(times) if times else None

    def gone(self):
        """What it ended with, or None while it runs."""
        return self.process.poll()


@contextlib.contextmanager
def opened(program, display, starter, screen="1280x800"):
    """A window on `display` with a boat saved from `starter`."""
    home = pathlib.Path(tempfile.mkdtemp(prefix="real-window-"))
    (home / "preferences.ron").write_text("(toured: true)")
    env = dict(os.environ, DISPLAY=display, CHINEWRIGHT_CONFIG=str(home), XDG_DATA_HOME=str(home))
    # Without a desktop that serves dialogs paths are typed.
    env.pop("DBUS_SESSION_BUS_ADDRESS", None)
    quiet = dict(stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    server = subprocess.Popen(["Xvfb", display, "-screen", "0", f"{screen}x24"], **quiet)
    time.sleep(2)
    boat = home / "boat.ron"
    subprocess.run([program, "start", starter, "-o", boat], check=True, stdout=subprocess.DEVNULL)
    process = subprocess.Popen([program, boat], cwd=home, env=env, **quiet)
    try:
        time.sleep(12)
        yield Window(env, home, process)
    finally:
        process.send_signal(signal.SIGTERM)
        server.terminate()


def grown(seen):
    """By what share memory of the last third is on the mean above that of the second."""
    third = max(1, len(seen) // 3)
    before, after = seen[third:2 * third] or seen[:1], seen[-third:]
    return sum(after) / len(after) / (sum(before) / len(before)) - 1
