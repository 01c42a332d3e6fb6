// Charts, fetched only where they are shown.
import uPlot from "uplot";
import { W } from "./words";

export interface Series { label: string; unit: string; days: number[]; low: (number | null)[]; high: (number | null)[]; band?: { name: string; low: number[]; high: number[] } }
/// Several lines over time, to be moved by hand: `times` in seconds since 1970.
export interface Lines { label: string; times: number[]; lines: { name: string; values: (number | null)[] }[]; dots?: boolean }

function axes(label: string): uPlot.Axis[] {
  const style = getComputedStyle(document.body);
  const ink = style.color, grid = style.getPropertyValue("--line").trim();
  const axis = { stroke: ink, grid: { stroke: grid, width: 1 }, ticks: { stroke: grid, width: 1 }, font: "14px sans-serif", labelFont: "14px sans-serif" };
  return [{ ...axis, space: 70 }, { ...axis, label, size: 60 }];
}
const when = (v: number | null) => v === null ? "–" : new Date(v * 1000).toISOString().slice(0, 10);

function draw(into: HTMLElement, s: Series): HTMLCanvasElement {
  // Okabe and Ito's blue and vermilion, told apart by all; the line of the lows is dashed as well.
  const plot = new uPlot({
    width: Math.max(280, into.clientWidth), height: 240, legend: { show: true }, scales: { x: { time: true } },
    series: [{ label: W.day, value: (_u, v) => when(v) },
      { label: W.high, stroke: "#D55E00", width: 2 }, { label: W.low, stroke: "#0072B2", width: 2, dash: [8, 4] },
      ...(s.band ? [{ label: `${s.band.name} ↑`, stroke: "#56B4E9", width: 1 }, { label: `${s.band.name} ↓`, stroke: "#56B4E9", width: 1 }] : [])],
    bands: s.band ? [{ series: [3, 4], fill: "rgba(86, 180, 233, .22)" }] : [],
    axes: axes(`${s.label}${s.unit ? `, ${s.unit}` : ""}`),
    tzDate: (t) => uPlot.tzDate(new Date(t * 1000), "Etc/UTC"),
  }, [s.days, s.high, s.low, ...(s.band ? [s.band.high, s.band.low] : [])], into);
  return plot.ctx.canvas;
}

// Okabe and Ito's set, each with a dash of its own.
const inks = ["#0072B2", "#D55E00", "#009E73", "#CC79A7", "#E69F00", "#56B4E9"], dashes = [[], [8, 4], [2, 3], [12, 3, 2, 3], [5, 5], [1, 4]];

/// Shows another stretch of time: a share of what is shown to the side, or narrower and wider about a place.
function move(plot: uPlot, by: number, zoom = 1, about = 0.5): void {
  const { min, max } = plot.scales.x!, times = plot.data[0], first = times[0]!, last = times[times.length - 1]!;
  const span = Math.min(Math.max((max! - min!) * zoom, 3600), Math.max(last - first, 3600));
  const from = Math.min(Math.max(min! + (max! - min!) * about - span * about + by * span, first), last - span);
  plot.setScale("x", { min: from, max: from + span });
}
function pannable(plot: uPlot): void {
  const over = plot.over;
  let at: number | undefined, due = 0, frame = 0;
  const paint = () => { frame = 0; move(plot, due); due = 0; };  // one change a frame, however often the hand moves
  over.style.touchAction = "pan-y";
  over.tabIndex = 0;
  over.setAttribute("role", "application");
  over.setAttribute("aria-label", W.moveHint);
  over.addEventListener("pointerdown", (e) => { at = e.clientX; over.setPointerCapture(e.pointerId); });
  over.addEventListener("pointermove", (e) => {
    if (at === undefined) return;
    due += (at - e.clientX) / over.clientWidth;
    at = e.clientX;
    frame ||= requestAnimationFrame(paint);
  });
  for (const end of ["pointerup", "pointercancel"]) over.addEventListener(end, () => { at = undefined; });
  over.addEventListener("wheel", (e) => { e.preventDefault(); move(plot, 0, e.deltaY > 0 ? 1.25 : 0.8, e.offsetX / over.clientWidth); }, { passive: false });
  over.addEventListener("keydown", (e) => {
    const act = { ArrowLeft: [-0.2, 1], ArrowRight: [0.2, 1], "+": [0, 0.8], "-": [0, 1.25] }[e.key];
    if (act) { e.preventDefault(); move(plot, act[0]!, act[1]); }
  });
}
function lines(into: HTMLElement, s: Lines): uPlot {
  const plot = new uPlot({
    width: Math.max(280, into.clientWidth), height: 260, legend: { show: true }, scales: { x: { time: true } },
    cursor: { drag: { x: false, y: false } }, axes: axes(s.label),
    series: [{ label: W.day, value: (_u, v) => v === null ? "–" : new Date(v * 1000).toISOString().slice(0, 16).replace("T", " ") },
      ...s.lines.map((l, i) => ({ label: l.name, stroke: inks[i % 6]!, dash: dashes[i % 6]!, width: 2, spanGaps: true, points: { show: s.dots === true } }))],
  }, [s.times, ...s.lines.map((l) => l.values)], into);
  pannable(plot);
  return plot;
}
Object.assign(window, { leatDraw: draw, leatLines: lines });
