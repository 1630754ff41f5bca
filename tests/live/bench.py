"""What the live tests share: a private sound server, a private terminal, takes and counting.

Everything is the test's own: the server and tmux live in a temporary folder and are ended by their own process ids or socket.
"""
import os
import re
import shutil
import subprocess
import sys
import tempfile
import threading
import time

HERE = os.path.dirname(os.path.abspath(__file__))
SERVER = os.path.join(HERE, "sound_server.sh")


class Count:
    """Counts checks and prints each, the last line as `N passed, N failed`."""

    def __init__(self):
        self.passed = self.failed = 0
        self.lock = threading.Lock()  # the rows of the live test count side by side

    def check(self, good, what):
        with self.lock:
            if good:
                self.passed += 1
            else:
                self.failed += 1
            print(("passed: " if good else "FAILED: ") + what, flush=True)
        return good

    def finish(self):
        print(f"{self.passed} passed, {self.failed} failed", flush=True)
        return 0 if self.failed == 0 and self.passed > 0 else 1


class SoundServer:
    """The private PulseAudio of sound_server.sh."""

    def __init__(self, folder):
        self.folder = os.path.join(folder, "sound")
        self.env = None

    def start(self):
        out = subprocess.run([SERVER, "start", self.folder], capture_output=True, text=True, timeout=20)
        if out.returncode != 0:
            raise RuntimeError("the private sound server did not start: " + out.stderr)
        printed = subprocess.run(["bash", "-c", 'eval "$1"; env -0', "env", out.stdout], capture_output=True, timeout=10, check=True)
        self.env = dict(pair.split("=", 1) for pair in printed.stdout.decode().split("\0") if "=" in pair)
        self.env["LC_ALL"] = "C.UTF-8"  # the messages of the playing program are read

    def stop(self):
        subprocess.run([SERVER, "stop", self.folder], timeout=20, check=False)

    def play(self, take):
        """Begins to play a take into the live input; returns the process and the instant at which the server began to take its sound."""
        process = subprocess.Popen(["paplay", "--verbose", "--device=gtr", take], env=self.env, stderr=subprocess.PIPE)
        began = time.monotonic()
        for line in process.stderr:  # unbuffered by the player; the server itself reports the start
            if b"Stream started" in line:
                began = time.monotonic()
                break
        threading.Thread(target=process.stderr.read, daemon=True).start()
        return process, began


class Screen:
    """A terminal in a private tmux."""

    made = 0

    def __init__(self, folder, env, columns, rows):
        Screen.made += 1  # a socket of its own: the server of the screen before may still be ending
        self.tmux = ["tmux", "-f", "/dev/null", "-S", os.path.join(folder, f"tmux{Screen.made}.sock")]
        self.env = dict(env, TERM="xterm-256color", LC_ALL="C.UTF-8", PS1="$ ", ENV="")
        self.env.pop("TMUX", None)
        self.log = None
        self.run("new-session", "-d", "-s", "live", "-x", str(columns), "-y", str(rows), "sh", ";", "set-option", "-g", "window-size", "manual")
        # The picture is asked for some sixty times a second: by one client that stays, as a process each time would keep half a core busy.
        self.asker = subprocess.Popen(self.tmux + ["-C", "attach-session", "-t", "live", "-f", "no-output"], env=self.env, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        self.answer()  # of the attaching itself

    def answer(self):
        """The lines that tmux's control client prints for the oldest command unanswered; none when the server has ended."""
        lines = None
        for line in self.asker.stdout:
            if lines is None:
                lines = [] if line.startswith("%begin ") else None
            elif line.startswith(("%end ", "%error ")):
                return "".join(lines)
            else:
                lines.append(line)
        return ""

    def run(self, *words):
        return subprocess.run(self.tmux + list(words), env=self.env, capture_output=True, text=True, timeout=10, check=False).stdout

    def type(self, text):
        self.run("send-keys", "-t", "live", "-l", text)

    def key(self, name):
        self.run("send-keys", "-t", "live", name)

    def text(self):
        try:
            self.asker.stdin.write("capture-pane -p -t live\n")
            self.asker.stdin.flush()
        except BrokenPipeError:
            return ""
        return self.answer()

    def value(self, name):
        return self.run("display-message", "-p", "-t", "live", "#{" + name + "}").strip()

    def wait(self, pattern, seconds, pause=0.01):
        """The match of a pattern on the screen and when it was seen, or (None, now)."""
        until = time.monotonic() + seconds
        while True:
            found = re.search(pattern, self.text(), re.MULTILINE)
            if found or time.monotonic() > until:
                return found, time.monotonic()
            time.sleep(pause)

    def close(self):
        self.run("kill-server")
        try:
            self.asker.communicate(timeout=5)
        except (subprocess.TimeoutExpired, BrokenPipeError):
            self.asker.kill()


class StampedOutput:
    """What a terminal prints from now on, line by line, each with the instant of its arrival."""

    def __init__(self, folder, screen):
        self.lines = []
        self.fifo = os.path.join(folder, "printed")
        os.mkfifo(self.fifo)
        self.thread = threading.Thread(target=self.read, daemon=True)
        self.thread.start()
        screen.run("pipe-pane", "-O", "-t", "live", "cat > " + self.fifo)

    def read(self):
        with open(self.fifo, "rb", buffering=0) as pipe:
            rest = b""
            while True:
                piece = pipe.read(4096)
                if not piece:
                    return
                now = time.monotonic()
                rest += piece
                while b"\n" in rest:
                    line, rest = rest.split(b"\n", 1)
                    self.lines.append((now, line.decode("utf-8", "replace").strip()))

    def wait(self, place, test, seconds):
        """The first line from `place` on that passes: (place behind it, instant, line), or None."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            while place < len(self.lines):
                instant, line = self.lines[place]
                place += 1
                if test(line):
                    return place, instant, line
            time.sleep(0.002)
        return None


class Folder:
    """A temporary folder, mode 0700, gone at the end."""

    def __enter__(self):
        self.path = tempfile.mkdtemp(prefix="gripline-live-")
        return self.path

    def __exit__(self, *_):
        shutil.rmtree(self.path, ignore_errors=True)


def missing_tools():
    return [tool for tool in ("tmux", "pulseaudio", "pactl", "paplay") if shutil.which(tool) is None]


def fail(what):
    print("FAILED: " + what)
    print("0 passed, 1 failed")
    sys.exit(1)
