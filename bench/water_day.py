"""A day of moving water, every switch at its moment, under other integrators and under our own run, in one go.

The peers get the project's compiled level rates and event functions (and, where it is said, its slopes) through a C
interface. SciPy's solve_ivp runs from switch to switch: one terminal event, the largest of all that have rested, ends
each call. Timers, rests and the turns of sequencing valves are followed here.

A solver's error is the largest difference from the reference (our run at 1e-11 m a step), over all events: of the time
of an event, and of any level at that time; and of any level at the end. Equal tolerance is not equal accuracy, so ours
runs at the loosest tolerance whose errors are all at most the peer's.

usage: water_day.py LIBRARY LOOP HOURS
"""
import ctypes
import datetime
import math
import platform
import subprocess
import sys
import time

import numpy as np
import scipy
from scipy.integrate import solve_ivp

FLOWING = 1e-6
STARTS, STOPS, TURNS, STAYS, SPILL_BEGINS, SPILL_ENDS = 0, 1, 7, 8, 11, 12
ROUNDS = 3


def pointer(a):
    return a.ctypes.data_as(ctypes.POINTER(ctypes.c_double))


class Day:
    def __init__(self, library, loop, hours):
        self.lib = ctypes.CDLL(library)
        self.lib.leat_water_open.restype = ctypes.c_void_p
        self.lib.leat_water_valve_inflow.restype = ctypes.c_double
        self.handle = ctypes.c_void_p(self.lib.leat_water_open(loop.encode()))
        if not self.handle.value:
            sys.exit("the loop could not be read")
        sizes = (ctypes.c_int * 4)()
        self.lib.leat_water_sizes(self.handle, sizes)
        self.n, self.switches, pumps, valves = sizes
        self.span = 3600.0 * hours
        self.timers = [self._numbers(self.lib.leat_water_timer, p, 3) for p in range(pumps)]
        self.valves = [self._numbers(self.lib.leat_water_valve, v, 5) for v in range(valves)]
        if any(v[3] == 0 for v in self.valves):
            sys.exit("a valve whose disc needs a head to fall is not followed here")

    def _numbers(self, ask, index, count):
        a = np.zeros(count)
        ask(self.handle, index, pointer(a))
        return a

    # ---- what the peers are given

    def rates(self, t, y):
        d = np.empty(self.n)
        y = np.ascontiguousarray(y)
        if self.lib.leat_water_rates(self.handle, pointer(y), pointer(d)):
            d[:] = np.nan
        self.calls += 1
        return d

    def slopes(self, t, y):
        j = np.empty((self.n, self.n))
        y = np.ascontiguousarray(y)
        self.lib.leat_water_slopes(self.handle, pointer(y), pointer(j))
        return j

    def due(self, t, y):
        g = np.empty(self.switches)
        y = np.ascontiguousarray(y)
        self.lib.leat_water_due(self.handle, pointer(y), pointer(g))
        g[t < self.rested] = -1.0
        return g

    # ---- timers

    def is_off(self, p, t):
        on, period, begins = self.timers[p]
        return on > 0.0 and (t - begins < -1e-6 or math.fmod(t - begins + 1e-6, period) >= on)

    def next_edge(self, p, t):
        on, period, begins = self.timers[p]
        if on == 0.0:
            return math.inf
        phase = (t - begins) % period
        if period - phase < 1e-6:
            phase = 0.0
        return t + (on if phase < on - 1e-6 else period) - phase

    def set_timers(self, t, y, silent=False):
        for p in range(len(self.timers)):
            off = self.is_off(p, t)
            if off != self.off[p]:
                self.off[p] = off
                self.lib.leat_water_set_timer(self.handle, p, int(off), pointer(y))
                if not silent:
                    self.events.append((STOPS if off else STARTS, t, y.copy()))

    # ---- sequencing valves

    def inflow(self, v, y):
        return self.lib.leat_water_valve_inflow(self.handle, v, pointer(y))

    def turn_valves(self, t, y):
        for v, (_, lift_time, drop_time, outlets, _) in enumerate(self.valves):
            memory = self.memory[v]
            flows = self.inflow(v, y) > FLOWING
            if flows == memory["flowing"]:
                continue
            memory["flowing"] = flows
            if not flows:
                memory["lifted"] = memory["lifted_for"] > 0.0 and memory["lifted_for"] >= lift_time
                memory["stopped"], memory["lifted_for"] = t, 0.0
                continue
            if memory["stopped"] is None:
                continue
            moves = memory["lifted"] and t - memory["stopped"] >= drop_time
            if moves:
                memory["turn"] = (memory["turn"] + 1) % int(outlets)
                self.lib.leat_water_turn(self.handle, v, memory["turn"])
            self.events.append((TURNS if moves else STAYS, t, y.copy()))

    def lift_valves(self, s):
        for v, valve in enumerate(self.valves):
            if self.memory[v]["flowing"]:
                ends = [np.ascontiguousarray(s.y[:, k]) for k in range(1, len(s.t))]
                self.memory[v]["lifted_for"] += sum(b - a for a, b, y in zip(s.t, s.t[1:], ends) if self.inflow(v, y) >= valve[0])

    # ---- the day

    def scipy(self, method, relative, absolute, with_slopes):
        y = np.zeros(self.n)
        self.lib.leat_water_start(self.handle, pointer(y))
        self.off, self.events, self.calls = [False] * len(self.timers), [], 0
        self.memory = [dict(flowing=False, lifted_for=0.0, lifted=False, stopped=None, turn=int(v[4])) for v in self.valves]
        self.rested = np.full(self.switches, -1e300)
        extra = dict(jac=self.slopes) if with_slopes else {}

        def flips(t, levels):
            return self.due(t, levels).max()

        flips.terminal, flips.direction = True, 1.0
        clock = time.thread_time()
        t = 0.0
        self.set_timers(t, y, silent=True)
        self.turn_valves(t, y)
        while t < self.span:
            flipped = self.due(t, y).max() > 0.0
            if not flipped:
                stop = min([self.span] + [self.next_edge(p, t) for p in range(len(self.timers))])
                s = solve_ivp(self.rates, (t, stop), y, method=method, rtol=relative, atol=absolute, events=flips, **extra)
                if not s.success:
                    sys.exit(f"{method}: {s.message}")
                self.lift_valves(s)
                t, y, flipped = s.t[-1], np.ascontiguousarray(s.y[:, -1]), s.status == 1
            if flipped:
                which = int(np.argmax(self.due(t, y)))
                what = self.lib.leat_water_flip(self.handle, which, ctypes.c_double(t))
                self.lib.leat_water_rested(self.handle, pointer(self.rested))
                self.events.append((what, t, y.copy()))
            else:
                self.set_timers(t, y)
            self.turn_valves(t, y)
        return time.thread_time() - clock, y, self.events, self.calls

    def ours(self, tolerance, with_levels=False):
        end, room = np.zeros(self.n), 20000
        events = np.zeros((room, 2 + self.n)) if with_levels else np.zeros((1, 2 + self.n))
        counts = (ctypes.c_long * 2)()
        clock = time.thread_time()
        good = self.lib.leat_water_run(self.handle, ctypes.c_double(self.span), ctypes.c_double(tolerance), int(with_levels), pointer(end), pointer(events), len(events), counts)
        seconds = time.thread_time() - clock
        if not good or counts[1] > room:
            sys.exit("our run failed")
        # Spills are seen beside the run, not events of it.
        seen = [(int(e[0]), e[1], e[2:]) for e in events[: counts[1]] if int(e[0]) not in (SPILL_BEGINS, SPILL_ENDS)]
        return seconds, end, seen, counts[0]


def errors(run, reference):
    """Seconds of an event, metres at an event, metres at the end."""
    if [e[0] for e in run[2]] != [e[0] for e in reference[2]]:
        return math.inf, math.inf, math.inf
    when = max(abs(a[1] - b[1]) for a, b in zip(run[2], reference[2]))
    levels = max(np.abs(a[2] - b[2]).max() for a, b in zip(run[2], reference[2]))
    return when, levels, np.abs(run[1] - reference[1]).max()


def main():
    day = Day(sys.argv[1], sys.argv[2], float(sys.argv[3]))
    reference = day.ours(1e-11, True)
    peers = [
        ("SciPy LSODA", "LSODA", 1e-8, 1e-8, False),
        ("SciPy BDF", "BDF", 1e-7, 1e-7, False),
        ("SciPy BDF, our slopes", "BDF", 1e-7, 1e-7, True),
        ("SciPy Radau, our slopes", "Radau", 1e-6, 1e-6, True),
    ]
    tolerances = [1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9]
    times = {name: [] for name, *_ in peers} | {tolerance: [] for tolerance in tolerances}
    found = {}
    # In turn, so that whatever else the machine does falls on all.
    for _ in range(ROUNDS):
        for name, *what in peers:
            found[name] = day.scipy(*what)
            times[name].append(found[name][0])
            for tolerance in tolerances:
                times[tolerance].append(day.ours(tolerance)[0])
    ours = {tolerance: errors(day.ours(tolerance, True), reference) for tolerance in tolerances}
    wrong = {name: errors(run, reference) for name, run in found.items()}
    # The same events in the same order, and the same levels, or the ratios mean nothing.
    for name, e in list(wrong.items()) + list(ours.items()):
        if not max(e[1:]) < 1e-3:
            sys.exit(f"the answers differ, {name}: {max(e[1:]):.2e} m")
    compiler = subprocess.run(["g++", "--version"], capture_output=True, text=True).stdout.splitlines()[0]
    processor = next((line.split(":")[1].strip() for line in open("/proc/cpuinfo") if line.startswith("model name")), platform.machine())
    load = open("/proc/loadavg").read().split()[0]
    print(f"# {datetime.date.today()}: moving water\n\n{day.span / 3600:g} h of {sys.argv[2]}: {day.n} levels, {len(reference[2])} events; {processor}, load {load}, {compiler}, NumPy {np.__version__}, SciPy {scipy.__version__}. Processor time, medians of {ROUNDS} interleaved rounds.\n")
    print("| solver, tolerance | seconds | rates asked | event times within | levels at events within | levels at the end within | ours at no larger error | ratio |\n|---|---|---|---|---|---|---|---|")
    for name, _, relative, *_ in peers:
        e = wrong[name]
        fit = next((k for k in tolerances if all(a <= b for a, b in zip(ours[k], e))), tolerances[-1])
        s, own = sorted(times[fit])[len(times[fit]) // 2], ours[fit]
        seconds = sorted(times[name])[len(times[name]) // 2]
        print(f"| {name}, {relative:g} | {seconds:.2f} | {found[name][3]} | {e[0]:.1e} s | {e[1]:.1e} m | {e[2]:.1e} m | {1e3 * s:.2f} ms at {fit:g}: {own[0]:.1e} s, {own[1]:.1e} m, {own[2]:.1e} m | {seconds / s:.0f} |")
    usual = sorted(times[1e-7])[len(times[1e-7]) // 2]
    print(f"\nOur usual tolerance, 1e-7: {1e3 * usual:.2f} ms; {ours[1e-7][0]:.1e} s, {ours[1e-7][1]:.1e} m, {ours[1e-7][2]:.1e} m.")


main()
