"""The steady state of a loop by SciPy's fsolve and by our own solve, from the same start, in one go.

fsolve gets the project's compiled residuals in two forms: every level, head and flow unknown and nothing solved within;
and levels only, the network solved within by our own solver at each call. Its error, and ours, is the largest difference
of any flow of a pump, pipe or overflow from ours polished by fsolve to the last digit, over the largest flow.

usage: water_steady.py LIBRARY LOOP
"""
import ctypes
import datetime
import platform
import subprocess
import sys
import time

import numpy as np
import scipy
from scipy.optimize import fsolve

ROUNDS, ABOVE = 7, 0.02


def pointer(a):
    return a.ctypes.data_as(ctypes.POINTER(ctypes.c_double))


class Steady:
    def __init__(self, library, loop):
        self.lib = ctypes.CDLL(library)
        self.lib.leat_steady_open.restype = ctypes.c_void_p
        self.handle = ctypes.c_void_p(self.lib.leat_steady_open(loop.encode()))
        if not self.handle.value:
            sys.exit("the loop could not be read")
        sizes = (ctypes.c_int * 3)()
        self.lib.leat_steady_sizes(self.handle, sizes)
        self.n, self.heads, self.links = sizes
        self.size = sum(sizes)

    def start(self):
        x = np.zeros(self.size)
        self.lib.leat_steady_start(self.handle, ctypes.c_double(ABOVE), pointer(x))
        return x

    def residual(self, ask):
        def f(x):
            x, r = np.ascontiguousarray(x), np.empty(len(x))
            if ask(self.handle, pointer(x), pointer(r)):
                r[:] = np.nan
            return r

        return f

    def fsolve(self, everything):
        x = self.start()
        ask = self.lib.leat_steady_all if everything else self.lib.leat_steady_levels
        x = x if everything else x[: self.n]
        clock = time.thread_time()
        found, info, good, said = fsolve(self.residual(ask), x, xtol=1e-10, maxfev=200 * (len(x) + 1), full_output=True)
        seconds = time.thread_time() - clock
        return seconds, found[: self.n].copy(), info["nfev"], np.abs(info["fvec"]).max(), good == 1, said

    def ours(self):
        x, steps = self.start(), ctypes.c_int()
        clock = time.thread_time()
        good = self.lib.leat_steady_settle(self.handle, pointer(x), ctypes.byref(steps))
        seconds = time.thread_time() - clock
        if not good:
            sys.exit("our solve failed")
        return seconds, x[: self.n].copy(), steps.value

    def flows(self, levels):
        out = np.zeros(4 * self.size)
        return out[: self.lib.leat_steady_flows(self.handle, pointer(np.ascontiguousarray(levels)), pointer(out))].copy()

    def polished(self, levels):
        self.start()
        return fsolve(self.residual(self.lib.leat_steady_levels), levels, xtol=1e-13)


def main():
    s = Steady(sys.argv[1], sys.argv[2])
    forms = {"fsolve, levels, heads and flows unknown": True, "fsolve, levels unknown, our network within": False}
    times, found = {name: [] for name in forms} | {"ours": []}, {}
    for _ in range(ROUNDS):
        for name, everything in forms.items():
            found[name] = s.fsolve(everything)
            times[name].append(found[name][0])
            found["ours"] = s.ours()
            times["ours"].append(found["ours"][0])
    best = s.flows(s.polished(found["ours"][1]))
    error = {name: np.abs(s.flows(f[1]) - best).max() / np.abs(best).max() for name, f in found.items()}
    level = {name: np.abs(f[1] - found["ours"][1]).max() for name, f in found.items()}
    median = {name: sorted(t)[len(t) // 2] for name, t in times.items()}
    for name in found:
        if not error[name] < 1e-6:
            sys.exit(f"the answers differ, {name}: {error[name]:.1e} of the largest flow")
    compiler = subprocess.run(["g++", "--version"], capture_output=True, text=True).stdout.splitlines()[0]
    processor = next((line.split(":")[1].strip() for line in open("/proc/cpuinfo") if line.startswith("model name")), platform.machine())
    load = open("/proc/loadavg").read().split()[0]
    print(f"# {datetime.date.today()}: steady water\n\n{s.n} vessels, {s.heads} unknown heads, {s.links} pumps and pipes; {processor}, load {load}, {compiler}, NumPy {np.__version__}, SciPy {scipy.__version__}. Processor time, medians of {ROUNDS} interleaved rounds.\n")
    print("| solver | unknowns | ms | residuals asked or steps | flows within, of the largest | levels from ours | ratio |\n|---|---|---|---|---|---|---|")
    for name, everything in forms.items():
        f = found[name]
        print(f"| {name}{'' if f[4] else ' (gave up)'} | {s.size if everything else s.n} | {1e3 * median[name]:.1f} | {f[2]} | {error[name]:.1e} | {level[name]:.1e} m | {median[name] / median['ours']:.1f} |")
    print(f"| ours | {s.n} | {1e3 * median['ours']:.2f} | {found['ours'][2]} | {error['ours']:.1e} | | 1 |")


main()
