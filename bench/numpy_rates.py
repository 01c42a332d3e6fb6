"""The level rates of the smallest loop, written once more in NumPy from the same equations, beside the compiled ones.

Only the moving water: pump curve, one full pipe (Darcy-Weisbach, Colebrook's factor bridged between Re 2000 and 4000),
one overflow, two levels. Not the living model: its hundred and more states are not written twice. What is compared: the
rates at random levels, and the time of one call, each called as SciPy would call it.

usage: numpy_rates.py LIBRARY LOOP
"""
import ctypes
import datetime
import platform
import subprocess
import sys
import time

import numpy as np

CALLS, ROUNDS = 4000, 5
NAMES = "sump tank sump_area tank_area shutoff fall exponent bore length roughness losses end rim standpipe weir g nu".split()


def pointer(a):
    return a.ctypes.data_as(ctypes.POINTER(ctypes.c_double))


class NumPy:
    """As ours: the flow of the last call is where the next one's Newton steps start."""

    def __init__(self, numbers):
        self.__dict__.update(zip(NAMES, numbers))
        self.sump, self.tank = int(self.sump), int(self.tank)
        self.q = 1e-4
        self.area = 0.25 * np.pi * self.bore**2
        self.at_high = self.colebrook(4000.0)
        # Weir and orifice of the rim cross here.
        self.crossing = 0.25 * 0.60 / self.weir * np.sqrt(2.0 * self.g) * self.standpipe

    def colebrook(self, re):
        """Factor and its slope, by Newton on x = 1/sqrt(f)."""
        a, b, x = self.roughness / self.bore / 3.7, 2.51 / re, 8.0
        for _ in range(20):
            inside = a + b * x
            step = (x + 2.0 * np.log10(inside)) / (1.0 + 2.0 / np.log(10.0) * b / inside)
            x -= step
            if abs(step) < 1e-14 * x:
                break
        c = 2.0 / np.log(10.0) / (a + b * x)
        return x**-2, -2.0 * x**-3 * c * b * x / re / (1.0 + c * b)

    def factor(self, re):
        if re >= 4000.0:
            return self.colebrook(re)
        f0, d0 = 64.0 / 2000.0, -64.0 / 2000.0
        f1, d1 = self.at_high[0], 2000.0 * self.at_high[1]
        s = (re - 2000.0) / 2000.0
        square, cube = 3.0 * (f1 - f0) - 2.0 * d0 - d1, d0 + d1 - 2.0 * (f1 - f0)
        return f0 + s * (d0 + s * (square + s * cube)), (d0 + s * (2.0 * square + s * 3.0 * cube)) / 2000.0

    def loss(self, q):
        v = q / self.area
        speed, ratio = abs(v), self.length / self.bore
        re = speed * self.bore / self.nu
        if re <= 2000.0:
            linear = 64.0 * self.nu * ratio / self.bore
            return (linear + self.losses * speed) * v / (2 * self.g), (linear + 2 * self.losses * speed) / (2 * self.g * self.area)
        f, slope = self.factor(re)
        total = f * ratio + self.losses
        return total * speed * v / (2 * self.g), (2 * total + re * slope * ratio) * speed / (2 * self.g * self.area)

    def pumped(self, up, down):
        q = self.q
        for _ in range(50):
            loss, slope = self.loss(q)
            miss = up + self.shutoff - self.fall * np.sign(q) * abs(q) ** self.exponent - down - loss
            step = miss / (slope + self.fall * self.exponent * abs(q) ** (self.exponent - 1.0))
            q += step
            if abs(step) < 1e-14 * abs(q):
                break
        self.q = q
        return max(q, 0.0)

    def rates(self, t, y):
        sump, tank = y[self.sump], y[self.tank]
        q = self.pumped(sump, max(self.end, tank))
        h = max(tank - self.rim, 0.0)
        if h < self.crossing:
            over = self.weir * np.pi * self.standpipe * h * np.sqrt(h)
        else:
            over = 0.60 * 0.25 * np.pi * self.standpipe**2 * np.sqrt(2.0 * self.g * h)
        d = np.empty(2)
        d[self.sump], d[self.tank] = (over - q) / self.sump_area, (q - over) / self.tank_area
        return d


def main():
    lib = ctypes.CDLL(sys.argv[1])
    lib.leat_water_open.restype = ctypes.c_void_p
    handle = ctypes.c_void_p(lib.leat_water_open(sys.argv[2].encode()))
    if not handle.value:
        sys.exit("the loop could not be read")
    numbers, start = np.zeros(len(NAMES)), np.zeros(2)
    if not lib.leat_water_plain_loop(handle, pointer(numbers)):
        sys.exit("this loop has more in it than is written here")
    lib.leat_water_start(handle, pointer(start))
    mine = NumPy(numbers)

    def compiled(t, y):
        d = np.empty(2)
        y = np.ascontiguousarray(y)
        lib.leat_water_rates(handle, pointer(y), pointer(d))
        return d

    # A walk of small steps, as an integrator takes them, below and above the rim.
    random = np.random.default_rng(1)
    levels = np.empty((CALLS, 2))
    levels[:, mine.sump] = start[mine.sump] - 0.05 + np.cumsum(random.normal(0.0, 3e-5, CALLS))
    levels[:, mine.tank] = mine.rim + 0.012 * np.sin(np.linspace(0.0, 40.0, CALLS)) + 0.008
    times, found = {}, {}
    for _ in range(ROUNDS):
        for name, ask in (("NumPy", mine.rates), ("compiled, called from Python", compiled)):
            clock = time.thread_time()
            found[name] = np.array([ask(0.0, y) for y in levels])
            times.setdefault(name, []).append(time.thread_time() - clock)
        clock = time.thread_time()
        lib.leat_water_rates_many(handle, pointer(levels), CALLS, pointer(start))
        times.setdefault("compiled, called from compiled code", []).append(time.thread_time() - clock)
    apart = np.abs(found["NumPy"] - found["compiled, called from Python"]).max() / np.abs(found["NumPy"]).max()
    # Our table of Colebrook's factor is within 1e-7 of the formula.
    if not apart < 1e-6:
        sys.exit(f"the rates differ: {apart:.1e}")
    each = {name: 1e6 * sorted(t)[ROUNDS // 2] / CALLS for name, t in times.items()}
    compiler = subprocess.run(["g++", "--version"], capture_output=True, text=True).stdout.splitlines()[0]
    processor = next((line.split(":")[1].strip() for line in open("/proc/cpuinfo") if line.startswith("model name")), platform.machine())
    load = open("/proc/loadavg").read().split()[0]
    print(f"# {datetime.date.today()}: level rates of {sys.argv[2]}\n\n{CALLS} calls; {processor}, load {load}, {compiler}, NumPy {np.__version__}. Processor time, medians of {ROUNDS} interleaved rounds. The rates differ by {apart:.1e} of the largest at most.\n")
    print("| rates | microseconds a call | ratio |\n|---|---|---|")
    best = each["compiled, called from compiled code"]
    for name, t in each.items():
        print(f"| {name} | {t:.2f} | {t / best:.1f} |")


main()
