// Three months of a record as a careful grower would keep it, made from the model with the noise of kits, bucket, tape
// and thermometer. The loop that it is made from is not quite the loop that is described: a little more shade, other
// wind.
#pragma once

#include <fmt/core.h>

#include <cmath>
#include <functional>
#include <random>

#include "model/simulate/simulate.h"
#include "record/phrase.h"
#include "record/when.h"
#include "tests/loop_file.h"

namespace leat::tests {

/// One phrase as it was typed.
struct Noted {
  record::Moment at = 0;
  std::string phrase;
  std::string instrument{};
};

/// How a grower keeps it, and how far the loop is from its description.
struct Habits {
  double shade = 0.15;       ///< more than described, of all vessels
  double shelter = 1.3;      ///< times the wind that is described
  double thermometer = 0.1;  ///< spread of a reading, K
  double skips = 0.0;        ///< share of the rounds that are not noted
  bool notes_air = true;
};

class Faithful {
  Habits habits_;
  model::Loop truth_;
  model::Weather weather_;
  model::Plumbing plumbing_{truth_};
  model::Settled running_ = model::settle(truth_, plumbing_, model::levels_at_rest(truth_), model::Setting{});
  model::Forcing forcing_{truth_.site, weather_};
  model::Equations equations_{truth_, plumbing_, running_, forcing_};
  model::Trajectory run_;
  mutable std::mt19937_64 random_;

  static model::Loop read(const std::string& text) {
    Problems problems;
    model::Loop loop = model::make_loop(model::read_description(text, "loop.toml", problems), problems);
    EXPECT_TRUE(problems.empty()) << problems.text();
    return loop;
  }
  static model::Loop slightly_other(model::Loop loop, const Habits& habits) {
    loop.site.wind_shelter = std::min(1.0, loop.site.wind_shelter * habits.shelter);
    for (model::Vessel& v : loop.vessels) v.shade = std::clamp(v.shade + habits.shade, 0.0, 1.0);
    return loop;
  }
  static model::Weather weather_of(const model::Loop& loop, CivilDate first, int days) {
    Problems problems;
    model::WeatherSources sources;
    const std::string file = "examples/weather/seattle-daily-2012-2015.csv";
    sources.daily = model::read_daily_record(slurp(std::string(LEAT_ROOT) + "/" + file), file, "", problems);
    EXPECT_TRUE(problems.empty()) << problems.text();
    return model::assemble_weather(loop.site.place, sources, first, days);
  }
  std::size_t hour_index(record::Moment at) const {
    return static_cast<std::size_t>((1e-3 * static_cast<double>(at) - run_.hours.front().seconds) / 3600.0);
  }

 public:
  model::Loop described;
  std::string text;  ///< of the described loop's file
  CivilDate first;
  int days;
  std::vector<Noted> noted;

  /// The loop of the examples.
  static std::string first_loop() { return slurp(std::string(LEAT_ROOT) + "/examples/first-loop/loop.toml"); }
  /// The same without beds to take nitrogen, so that its books show.
  static std::string without_plants(int fish, const std::string& nitrate) {
    std::string text = first_loop();
    const std::size_t from = text.find("[planting.lettuce]"), to = text.find("[water]");
    text.erase(from, to - from);
    const auto put = [&text](const std::string& what, const std::string& instead) {
      const std::size_t at = text.find(what);
      ASSERT_NE(at, std::string::npos) << what;
      text.replace(at, what.size(), instead);
    };
    put("count = 60", fmt::format("count = {}", fish));
    put("18 mg/L as N", nitrate + " as N");
    return text;
  }

  Faithful(CivilDate first_day, int how_many, std::uint64_t seed, const std::string& loop_text = first_loop(),
           Habits habits = {})
      : habits_(habits),
        truth_(slightly_other(read(loop_text), habits)),
        weather_(weather_of(truth_, first_day, how_many)),
        random_(seed),
        described(read(loop_text)),
        text(loop_text),
        first(first_day),
        days(how_many) {
    model::RunOptions options;
    options.hold_alkalinity = truth_.water.alkalinity;
    options.resow = true;
    const Instant from = forcing_.start();
    run_ = model::simulate(truth_, equations_, from, {from.seconds + 86400.0 * days}, options);
    EXPECT_TRUE(run_.finished) << run_.said;
    for (int d = 0; d < days; ++d) note_day(d);
  }
  Faithful(const Faithful&) = delete;

  record::Moment at(int day, double hour) const {
    return record::moment_of(described.site.place.clock, first.plus_days(day), hour);
  }
  double normal(double sd) const { return std::normal_distribution<double>(0.0, sd)(random_); }
  model::BodyState<double> body(record::Moment when, std::size_t vessel = 0) const {
    const std::size_t h = std::min(hour_index(when), run_.hours.size() - 1);
    return equations_.body(vessel, run_.states[h], run_.pH[h][vessel]);
  }
  double warm(record::Moment when) const {
    const std::size_t h = std::min(hour_index(when), run_.hours.size() - 2);
    const double share = 1e-3 * static_cast<double>(when) / 3600.0 - run_.hours[h].seconds / 3600.0;
    const auto at_hour = [&](std::size_t i) {
      return equations_.body(0, run_.states[i], run_.pH[i][0]).temperature.celsius();
    };
    return at_hour(h) * (1.0 - share) + at_hour(h + 1) * share;
  }
  /// What has gone into an account of the outside on one day.
  double on_day(int day, int account) const {
    const auto i = static_cast<std::size_t>(account);
    const std::size_t from = hour_index(at(day, 0.0)),
                      to = std::min(hour_index(at(day + 1, 0.0)), run_.hours.size() - 1);
    return run_.states[to][i] - run_.states[from][i];
  }

  /// The phrases as entries, in the order of time.
  std::vector<record::Entry> entries() const {
    Problems problems;
    const auto description = model::read_description(text, "loop.toml", problems);
    std::vector<Noted> all = noted;
    std::stable_sort(all.begin(), all.end(), [](const Noted& a, const Noted& b) { return a.at < b.at; });
    std::vector<record::Entry> made;
    auto context = record::context_of(description, described.site.place.clock, 0);
    for (const Noted& n : all) {
      context.now = n.at;
      for (const auto& u : record::read_phrase(n.phrase, context)) {
        EXPECT_TRUE(u.doubt.empty()) << n.phrase << ": " << u.doubt;
        for (record::Entry e : u.entries) {
          e.number = static_cast<std::int64_t>(made.size()) + 1;
          if (e.kind == record::Kind::reading && e.instrument.empty()) e.instrument = n.instrument;
          if (!e.extreme.empty() && e.from == e.to) {
            for (auto r = context.resets.rbegin(); r != context.resets.rend() && !e.since; ++r)
              if (r->what == e.what && r->where == e.where && r->at < e.from) e.since = r->at;
            context.resets.push_back({e.what, e.where, e.from});
          }
          made.push_back(std::move(e));
        }
      }
    }
    return made;
  }
  void note(record::Moment when, const std::string& phrase, const std::string& instrument = "") {
    noted.push_back({when, phrase, instrument});
  }
  /// Changes what was noted from a day on; an empty phrase takes it out.
  void change(int from_day, const std::function<std::string(const Noted&)>& how) {
    for (Noted& n : noted)
      if (n.at >= at(from_day, 0.0)) n.phrase = how(n);
    std::erase_if(noted, [](const Noted& n) { return n.phrase.empty(); });
  }

 private:
  static constexpr double kOffset = 0.4;  ///< of the thermometer

  double shown(double celsius) const {
    return std::round(10.0 * (celsius + kOffset + normal(habits_.thermometer))) / 10.0;
  }
  /// A colour chart: the nearest step to what is there, seen with an error of a fifth of it.
  double on_chart(double value, std::initializer_list<double> steps) const {
    const double seen = std::max(0.0, value * (1.0 + normal(0.2)));
    double best = *steps.begin();
    for (const double step : steps)
      if (std::abs(step - seen) < std::abs(best - seen)) best = step;
    return best;
  }

  void look_at_thermometer(record::Moment when, record::Moment since) {
    double low = 1e9, high = -1e9;
    for (record::Moment t = since; t <= when; t += 1'800'000) {
      low = std::min(low, warm(t));
      high = std::max(high, warm(t));
    }
    const double now = shown(warm(when));
    note(when,
         fmt::format("min {:.1f} max {:.1f} now {:.1f}", std::min(now, shown(low)), std::max(now, shown(high)), now));
  }

  void note_air(int day) {
    const auto& today = weather_.days[static_cast<std::size_t>(day)];
    const auto& before = weather_.days[static_cast<std::size_t>(std::max(0, day - 1))];
    const double low = today.low.celsius() + normal(0.4),
                 high = std::max(low + 0.5, before.high.celsius() + normal(0.4));
    note(at(day, 7.4), fmt::format("air min {:.1f} max {:.1f}", low, high));
  }

  void note_meals(int day) {
    const double fed = 1e3 * run_.days[static_cast<std::size_t>(day)].fed_kg[0];
    for (const double hour : {8.5, 16.5}) {
      const double grams = std::round(0.5 * fed + normal(2.0));
      note(at(day, hour), grams > 0.5 ? fmt::format("fed {:.0f} g", grams) : "not fed");
    }
  }

  /// What evaporates, transpires and rains since the last time is made good once it is worth a can.
  double owed_ = 0.0;
  void note_top_up(int day) {
    owed_ += 1e3 * (on_day(day, equations_.layout().outside.air_water) +
                    on_day(day, equations_.layout().outside.plant_water) +
                    on_day(day, equations_.layout().outside.rain_water));
    if (owed_ < 10.0) return;
    note(at(day, 17.7), fmt::format("topped up {:.0f} L", owed_ + normal(0.03 * owed_)));
    owed_ = 0.0;
  }

  double base_owed_ = 0.0;
  void note_base(int day) {
    const auto& out = equations_.layout().outside;
    // As potassium bicarbonate, whatever it was.
    base_owed_ -= 100.1 * (on_day(day, out.dosed_potassium) + 2.0 * on_day(day, out.dosed_calcium));
    if (base_owed_ < 10.0) return;
    note(at(day, 9.0), fmt::format("dosed {:.0f} g potassium bicarbonate", base_owed_));
    base_owed_ = 0.0;
  }

  void note_tests(int day) {
    const record::Moment when = at(day, 8.0);
    const auto b = body(when);
    const auto mg = [](Concentration<> c, double mass) { return mass * c.si(); };
    note(when, fmt::format("ph {:.1f}", std::round((b.pH.si() + normal(0.1)) / 0.2) * 0.2), "drop kit");
    note(when, fmt::format("nh4 {:g} as N", on_chart(mg(b.ammonia, 14.007), {0, 0.25, 0.5, 1, 2, 4, 8})), "drop kit");
    note(when, fmt::format("no2 {:g} as NO2", on_chart(mg(b.nitrite, 46.0), {0, 0.25, 0.5, 1, 2, 4, 8})), "drop kit");
    note(when, fmt::format("no3 {:g} as NO3", on_chart(mg(b.nitrate, 62.0), {0, 5, 10, 20, 40, 80, 160})), "drop kit");
    note(when, fmt::format("kh {:.0f} drops", std::ceil(mg(b.alkalinity, 50.04) / 17.85 + normal(0.2))), "drop kit");
    note(when, fmt::format("flow 10 L in {:.0f} s at sump", 18.0 * std::exp(normal(0.05))));
    note(at(day, 15.0), fmt::format("lid {:.0f} cm", 45.0 + normal(3.0)));
  }

  bool skipped() const { return std::uniform_real_distribution<double>(0.0, 1.0)(random_) < habits_.skips; }

  void note_day(int day) {
    const double minutes = std::abs(normal(0.2));
    if (!skipped()) look_at_thermometer(at(day, 7.2 + minutes), day == 0 ? at(0, 0.0) : at(day - 1, 17.5));
    if (!skipped()) look_at_thermometer(at(day, 17.5), at(day, 7.2 + minutes));
    if (habits_.notes_air) note_air(day);
    note_meals(day);
    note_top_up(day);
    note_base(day);
    if (day % 7 == 2) note_tests(day);
    note(at(day, 7.3), fmt::format("sump level {:.1f} cm", 38.0 + normal(0.5)));
    note(at(day, 17.6), fmt::format("sump level {:.1f} cm", 36.5 + normal(0.5)));
    // 3 % in 117 days.
    if (std::uniform_real_distribution<double>(0.0, 1.0)(random_) < described.fish[0].count * 0.03 / 117.0)
      note(at(day, 7.25), "1 dead");
    if (day % 28 == 10) weigh(day);
  }

  void weigh(int day) {
    const double mean =
        1e3 * run_.states[hour_index(at(day, 10.0))][static_cast<std::size_t>(equations_.layout().fish[0].biomass)] /
        60.0;
    double sum = 0.0;
    for (int i = 0; i < 12; ++i) sum += mean * (1.0 + normal(0.2));
    note(at(day, 10.0), fmt::format("weighed 12 fish {:.0f} g together", sum));
  }
};

}  // namespace leat::tests
