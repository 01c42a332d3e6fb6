#include "answers/starter.h"

#include <fmt/core.h>

#include <cmath>

#include "answers/starter_pump.h"
#include "base/units/parse.h"
#include "model/loop/loop.h"

namespace leat::answers {
namespace {

std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += static_cast<unsigned char>(c) < ' ' ? ' ' : c;
  }
  return out + "\"";
}

/// Writes the file line by line and remembers what was guessed.
class Writing {
  std::string path_;

 public:
  Starter out;

  void heading(const std::string& path, const std::string& what = "") {
    path_ = path;
    out.text += fmt::format("\n[{}]{}\n", path, what.empty() ? "" : "   # " + what);
  }
  void line(const std::string& text) { out.text += text + "\n"; }
  void fixed(const std::string& key, const std::string& value) { line(key + " = " + value); }
  /// What was said, or a guess that is marked as one.
  void value(const std::string& key, const std::string& said, const std::string& guess, const std::string& why,
             const std::string& better, bool bare = false) {
    const std::string v = said.empty() ? guess : said;
    if (bare && !said.empty() && std::holds_alternative<Unreadable>(read_number(said)))
      out.problems.add(
          {path_ + "." + key, 0, 0, "", fmt::format("{} is no plain number; write such as {}", quoted(said), guess)});
    const std::string written = fmt::format("{} = {}", key, bare ? v : quoted(v));
    line(said.empty() ? fmt::format("{:<26} # guessed: {}", written, why) : written);
    if (said.empty()) out.guesses.push_back({path_ + "." + key, v, why, better});
  }
};

/// A measured text in SI, or `otherwise` where it cannot be read; that is told when the whole is read.
double si_or(const std::string& text, double otherwise) {
  const auto read = read_measured(text);
  const auto* m = std::get_if<Measured>(&read);
  return m && m->si > 0.0 && m->si < 1e6 ? m->si : otherwise;
}

std::string litres(double m3) {
  return fmt::format("{:.0f} L", std::round(m3 * 100.0) * 10.0);
}

void place(Writing& w, const StarterRequest& r) {
  w.heading("place");
  w.value("latitude", r.latitude, "50", "nobody said where; south is negative", "say where the loop stands", true);
  w.value("longitude", r.longitude, "0", "nobody said where; west is negative", "say where the loop stands", true);
  if (!r.altitude.empty()) w.fixed("altitude", quoted(r.altitude));
  if (!r.time_zone.empty()) w.fixed("time_zone", quoted(r.time_zone));
}

void vessels(Writing& w, const StarterRequest& r, bool raft, bool gravel) {
  w.heading("tank.main", "the fish tank");
  w.value("volume", r.tank, "1000 L", "a caged cube is the commonest tank",
          "measure the tank: inside length, width and depth");
  w.value("depth", r.depth, "1.0 m", "usual for a tank", "measure the tank: inside length, width and depth");
  w.heading("sump.main", "the lowest vessel, where the pump sits");
  w.value("volume", r.sump, litres(std::max(0.2, 0.3 * si_or(r.tank, 1.0))), "three tenths of the tank",
          "measure the sump: what it holds up to its rim");
  if (raft) {
    w.heading("raft_bed.main");
    w.value("area", r.raft, "2.4 m2", "two boards of 1.2 m by 1.0 m", "measure the beds: length times width");
  }
  if (gravel) {
    w.heading("gravel_bed.main");
    w.value("area", r.gravel, "1.2 m2", "a tray of 1.2 m by 1.0 m", "measure the beds: length times width");
  }
}

void pipe(Writing& w, const std::string& name, const std::string& from, const std::string& to, const std::string& bore,
          const std::string& length, const std::string& rest) {
  w.heading("pipe." + name);
  w.fixed("from", quoted(from));
  w.fixed("to", quoted(to));
  w.value("bore", "", bore, "usual for that", "read the size off the pipe, measure its length, count its elbows");
  w.value("length", "", length, "a loop in one corner of a yard",
          "read the size off the pipe, measure its length, count its elbows");
  w.line(rest);
}

void overflow(Writing& w, const std::string& name, const std::string& from, const std::string& to,
              const std::string& bore) {
  w.heading("overflow." + name);
  w.fixed("from", quoted(from));
  w.fixed("to", quoted(to));
  w.value("standpipe_bore", "", bore, "usual for that", "read the size off the standpipes");
}

void plumbing(Writing& w, bool raft, bool gravel, const std::string& largest, const std::string& why) {
  w.heading("pump.main");
  w.value("shut_off_head", "", "3 m", "a small yard pump; it stands on its label",
          "read head and flow off the pump's label");
  w.value("largest_flow", "", largest, why, "read head and flow off the pump's label");
  if (gravel) {
    w.heading("junction.manifold");
    pipe(w, "riser", "pump.main", "junction.manifold", "27 mm", "2 m", "fittings = [\"entry\", \"2 x elbow\"]");
    pipe(w, "gravel", "junction.manifold", "gravel_bed.main", "20 mm", "4 m",
         "losses = 30                # a valve, half shut");
  }
  pipe(w, "tank", gravel ? "junction.manifold" : "pump.main", "tank.main", "27 mm", gravel ? "3 m" : "5 m",
       gravel ? "fittings = [\"2 x elbow\", \"exit\"]" : "fittings = [\"entry\", \"4 x elbow\", \"exit\"]");
  overflow(w, "tank", "tank.main", raft ? "raft_bed.main" : "sump.main", "68 mm");
  if (raft) overflow(w, "raft", "raft_bed.main", "sump.main", "68 mm");
  if (gravel) overflow(w, "gravel", "gravel_bed.main", "sump.main", "45 mm");
}

/// Half way between two temperatures as typed, or "" unless both can be read.
std::string between(const std::string& low, const std::string& high) {
  const auto a = read_measured(low), b = read_measured(high);
  const auto *x = std::get_if<Measured>(&a), *y = std::get_if<Measured>(&b);
  if (!x || !y || !x->temperature_point || !y->temperature_point) return low.empty() ? high : low;
  return fmt::format("{:.1f} degC", 0.5 * (x->si + y->si) - 273.15);
}

/// Whether the lowest was given above the highest.
bool turned_round(const std::string& low, const std::string& high) {
  const auto a = read_measured(low), b = read_measured(high);
  const auto *x = std::get_if<Measured>(&a), *y = std::get_if<Measured>(&b);
  return x && y && x->temperature_point && y->temperature_point && x->si > y->si;
}

void planting(Writing& w, const StarterRequest& r, bool raft) {
  w.heading("planting.first");
  w.fixed("in", raft ? "\"raft_bed.main\"" : "\"gravel_bed.main\"");
  w.value("crop", r.plant, "lettuce", "what most begin with", "say what you grow");
  const double area = raft ? si_or(r.raft, 2.4) : si_or(r.gravel, 1.2);
  w.value("places", "", fmt::format("{:.0f}", std::max(1.0, area * 16.0)),
          "16 places to the square metre (common practice)", "count the places in the beds", true);
}

void living(Writing& w, const StarterRequest& r, bool raft, bool gravel) {
  w.heading("fish.first");
  w.fixed("in", "\"tank.main\"");
  w.value("species", r.fish, "rainbow trout", "nobody said which fish", "say which fish you keep");
  w.value("count", r.count, "40", "a light stock for a caged cube", "count the fish", true);
  w.value("mass", r.mass, "60 g", "fish of half a year", "weigh a bucketful and count it");
  if (raft || gravel) planting(w, r, raft);
  if (const std::string now = between(r.low, r.high); !now.empty()) {
    w.heading("water");
    w.line(fmt::format("{}   # half way between last night's lowest and highest", "temperature = " + quoted(now)));
  } else {
    w.out.guesses.push_back(
        {"water.temperature", "", "taken from the season where it stands", "read a min/max thermometer for one night"});
  }
}

Starter written(const StarterRequest& r, const std::string& largest, const std::string& why) {
  const bool raft = r.raft != "none", gravel = !r.gravel.empty() && r.gravel != "none";
  Writing w;
  w.line("# Your loop. Lines that start with # are notes. Every value carries its unit.");
  w.line("# What nobody said is guessed and marked so: put in what you measure, and take the mark away.");
  w.line(
      "# What is left out altogether is assumed and listed with each answer; `leat words` shows all that may stand "
      "here.");
  w.heading("loop");
  w.fixed("name", quoted(r.name.empty() ? "My loop" : r.name));
  place(w, r);
  vessels(w, r, raft, gravel);
  plumbing(w, raft, gravel, largest, why);
  living(w, r, raft, gravel);
  return w.out;
}

}  // namespace

Starter starter(const StarterRequest& r) {
  const double tank = si_or(r.tank, 1.0);
  Starter out = written(r, fmt::format("{:.0f} L/h", std::max(3.0 * tank * 1000.0, 500.0)),
                        "three times the tank in an hour, without lift");
  const auto read = [](Starter& s) {
    Problems problems;
    const model::Loop loop = model::make_loop(model::read_description(s.text, "", problems), problems);
    for (const Problem& p : problems.all()) s.problems.add({p.path, 0, 0, "", p.said});
    return loop;
  };
  if (out.problems.empty()) read(out);
  if (turned_round(r.low, r.high))
    out.problems.add(
        {"low", 0, 0, "",
         fmt::format("\"{}\" is above --high \"{}\"; the lowest of the night comes first", r.low, r.high)});
  if (r.flow.empty() || !out.problems.empty()) {
    if (r.flow.empty())
      out.guesses.push_back({"pipe.tank.flow", "", "worked out from a guessed pump and guessed pipes",
                             "hold a bucket under the pipe into the tank, and take the time"});
    return out;
  }
  const PumpFound found = pump_that_brings(r.flow, [&](const std::string& largest) {
    Starter s = written(r, largest, "");
    return read(s);
  });
  if (!found.problem.empty())
    out.problems.add({"flow", 0, 0, "", found.problem});
  else
    out = written(r, found.largest, "so that what your bucket met arrives at the tank");
  return out;
}

}  // namespace leat::answers
