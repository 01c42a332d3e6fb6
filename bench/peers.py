"""The example's own compiled rates under other integrators, in one run.

Every solver gets the same rates (through a C interface), the same hourly weather, the same meals as jumps at which it
restarts, and reports every hour. Errors are measured against CVODES at 1e-10: root mean square over all inner states and
hours of the difference over (typical size + value). Equal tolerance is not equal accuracy, so the tolerance of our own
one-step integrator is the cheapest whose error is at most 1.05 times the peer's.

usage: peers.py LIBRARY LOOP DAILY DAYS
"""
import ctypes
import datetime
import os
import platform
import shutil
import subprocess
import sys
import tempfile
import time

import numpy as np
import scipy
from scipy.integrate import solve_ivp

TOLERANCES = [1e-2, 5e-3, 2e-3, 1e-3, 5e-4, 2e-4, 1e-4, 3e-5, 1e-5, 3e-6]
MEAL_KG = 0.030


class Problem:
    def __init__(self, library, loop, daily, days):
        self.lib = ctypes.CDLL(library)
        self.lib.leat_open.restype = ctypes.c_void_p
        self.lib.leat_run_cvodes.restype = ctypes.c_double
        self.lib.leat_run_lanes.restype = ctypes.c_double
        self.handle = ctypes.c_void_p(self.lib.leat_open(loop.encode(), daily.encode(), 2015, 3, 10, days))
        if not self.handle.value:
            sys.exit("the loop or the weather could not be read")
        self.n = self.lib.leat_size(self.handle)
        self.hours = 24 * days
        self.opened = [os.path.abspath(library), loop, daily, str(days)]
        nominal, outside = np.zeros(self.n), np.zeros(self.n)
        self.lib.leat_scales(self.handle, self._p(nominal), self._p(outside))
        self.nominal, self.inner = nominal, outside == 0.0

    @staticmethod
    def _p(a):
        return a.ctypes.data_as(ctypes.POINTER(ctypes.c_double))

    def start(self):
        y = np.zeros(self.n)
        self.lib.leat_start(self.handle, self._p(y))
        return y

    def rates(self, t, y):
        d = np.empty(self.n)
        y = np.ascontiguousarray(y)
        if self.lib.leat_rates(self.handle, ctypes.c_double(t), self._p(y), self._p(d)):
            d[:] = np.nan
        return d

    def cvodes(self, relative, dense):
        out, steps = np.zeros((self.hours, self.n)), ctypes.c_long()
        seconds = self.lib.leat_run_cvodes(self.handle, self.hours, ctypes.c_double(relative), int(dense), ctypes.c_double(MEAL_KG), self._p(out), ctypes.byref(steps))
        if seconds < 0:
            sys.exit("CVODES failed")
        return seconds, out, steps.value

    def lanes(self, relative, lanes, each_hour):
        out, steps = np.zeros((self.hours, self.n)), ctypes.c_long()
        seconds = self.lib.leat_run_lanes(self.handle, self.hours, ctypes.c_double(relative), lanes, int(each_hour), ctypes.c_double(MEAL_KG), self._p(out), ctypes.byref(steps))
        if seconds < 0:
            sys.exit("the one-step integrator failed")
        return seconds / lanes, out, steps.value

    def scipy(self, method, relative):
        out, y, steps = np.zeros((self.hours, self.n)), self.start(), 0
        absolute = np.where(self.inner, 0.01 * relative * self.nominal, 1e30)
        clock = time.process_time()
        last = 0
        # One call between meals; the hours are read from its dense output.
        for stop in [h for h in range(6, self.hours, 12)] + [self.hours]:
            hours = np.arange(last + 1, stop + 1)
            s = solve_ivp(self.rates, (3600.0 * last, 3600.0 * stop), y, method=method, rtol=relative, atol=absolute, t_eval=3600.0 * hours)
            if not s.success:
                sys.exit(f"{method}: {s.message}")
            out[last:stop] = s.y.T
            steps += s.nfev
            y = s.y[:, -1].copy()
            self.lib.leat_feed(self.handle, self._p(y), ctypes.c_double(MEAL_KG))
            last = stop
        return time.process_time() - clock, out, steps

    def desolve(self, relative):
        """By R, in a process of its own, which tells its own time. Nothing where R or deSolve is absent."""
        with tempfile.NamedTemporaryFile() as file:
            here = os.path.dirname(os.path.abspath(__file__))
            r = subprocess.run(["Rscript", os.path.join(here, "desolve.R"), *self.opened, str(relative), str(MEAL_KG), file.name], capture_output=True, text=True)
            if r.returncode != 0:
                sys.exit(f"deSolve: {r.stderr}")
            seconds, calls = r.stdout.split()
            return float(seconds), np.fromfile(file.name).reshape(self.hours, self.n), int(calls)

    @staticmethod
    def has_desolve():
        return shutil.which("Rscript") is not None and subprocess.run(["Rscript", "-e", "library(deSolve)"], capture_output=True).returncode == 0

    def error(self, out, reference):
        scale = self.nominal[self.inner] + np.abs(reference[:, self.inner])
        return float(np.sqrt(np.mean(((out[:, self.inner] - reference[:, self.inner]) / scale) ** 2)))


def main():
    library, loop, daily, days = sys.argv[1], sys.argv[2], sys.argv[3], int(sys.argv[4])
    p = Problem(library, loop, daily, days)
    _, reference, _ = p.cvodes(1e-10, False)
    compiler = subprocess.run(["g++", "--version"], capture_output=True, text=True).stdout.splitlines()[0]
    load = open("/proc/loadavg").read().split()[0]
    flags = open("/proc/cpuinfo").read()
    width = "AVX-512" if "avx512f" in flags else "AVX2" if "avx2" in flags else "SSE2"
    print(f"# {datetime.date.today()}\n\n{days} days of {loop}, {p.n} states; {platform.machine()}, {width}, load {load}, {compiler}, NumPy {np.__version__}, SciPy {scipy.__version__}. Processor time; each of our own the least of six runs, taken between the peers.\n")
    peers = [
        ("SciPy BDF, rtol 1e-6", lambda: p.scipy("BDF", 1e-6)),
        ("SciPy LSODA, rtol 1e-6", lambda: p.scipy("LSODA", 1e-6)),
        ("CVODES, dense, differences, rtol 1e-6", lambda: p.cvodes(1e-6, True)),
        ("CVODES + KLU, exact slopes, rtol 1e-4", lambda: p.cvodes(1e-4, False)),
        ("CVODES + KLU, exact slopes, rtol 1e-5", lambda: p.cvodes(1e-5, False)),
        ("CVODES + KLU, exact slopes, rtol 1e-6", lambda: p.cvodes(1e-6, False)),
    ]
    if p.has_desolve():
        peers.insert(2, ("deSolve lsoda, rtol 1e-6", lambda: p.desolve(1e-6)))
        peers.insert(3, ("deSolve lsoda, rtol 1e-4", lambda: p.desolve(1e-4)))
    # Stopped at each hour, or its hours read between its steps: whichever takes less at no larger error.
    ways = [(r, each_hour) for r in TOLERANCES for each_hour in (False, True)]
    rows, alone, eight = [], {}, {}
    for name, run in peers:
        for table, lanes in [(alone, 1), (eight, 8)]:
            for way in ways:
                seconds, out, _ = p.lanes(way[0], lanes, way[1])
                if way not in table or seconds < table[way][0]:
                    table[way] = (seconds, p.error(out, reference))
        seconds, out, steps = run()
        rows.append((name, seconds, p.error(out, reference), steps))
    print("| peer | seconds | rms error | steps or calls | one run of ours at no larger error | ratio | one of eight in lanes | ratio |\n|---|---|---|---|---|---|---|---|")
    for name, seconds, error, steps in rows:
        cells = []
        for table in (alone, eight):
            fit = min((w for w in ways if table[w][1] <= 1.05 * error), key=lambda w: table[w][0], default=None)
            if fit is None:
                cells.append("none as good | - ")
                continue
            s, e = table[fit]
            cells.append(f"{1e3 * s:.1f} ms, {e:.2e} (rtol {fit[0]:g}{', each hour' if fit[1] else ''}) | {seconds / s:.1f}")
        print(f"| {name} | {seconds:.4f} | {error:.2e} | {steps} | {' | '.join(cells)} |")
    # The answers agree, or the ratios mean nothing.
    worst = max(r[2] for r in rows)
    if not worst < 1e-3:
        sys.exit(f"the answers differ: {worst:.2e}")


main()
