#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "model/weather/typed_days.h"
#include "model/weather/weather.h"

namespace leat::model {
namespace {

constexpr std::string_view kExample = R"(write such as "tomorrow min 4 max 12 clear light wind rain 2 mm")";
constexpr std::array<std::string_view, 7> kWeekdays = {"monday", "tuesday",  "wednesday", "thursday",
                                                       "friday", "saturday", "sunday"};
constexpr int kMostDaysAhead = 30;

int weekday_of(const std::string& plain) {
  for (std::size_t i = 0; i < kWeekdays.size(); ++i)
    if (plain.size() >= 3 && kWeekdays[i].starts_with(plain)) return static_cast<int>(i) + 1;
  return 0;
}

struct Amount {
  std::string_view unit;  ///< taken when none is said
  double low, high;
  std::string_view above;
};
constexpr Amount kAir{"degC", -60.0, 50.0, R"(in Fahrenheit? write such as "68 degF")"};
constexpr Amount kRain{"mm", 0.0, 500.0, R"(write such as "2 mm")"};
constexpr Amount kWind{"m/s", 0.0, 25.0, R"(in km/h? write such as "20 km/h")"};
constexpr Amount kSun{"MJ/m2/d", 0.0, 45.0, R"(in W/m2? write such as "200 W/m2")"};

bool starts_number(std::string_view text) {
  if (text.starts_with('-') || text.starts_with('+')) text.remove_prefix(1);
  return !text.empty() && ((text.front() >= '0' && text.front() <= '9') || text.front() == '.');
}

/// Reads one typed day from its tokens.
class DayReader {
  const TypedDay& line_;
  std::string_view file_;
  Problems& problems_;
  std::size_t at_ = 0;
  bool has_low_ = false, has_high_ = false, has_wind_ = false;
  WeatherDay day_{};

 public:
  bool bad = false;

  DayReader(const TypedDay& line, std::string_view file, Problems& problems)
      : line_(line), file_(file), problems_(problems) {
    day_.source = DaySource::forecast;
  }

  void complain(const TypedWord& token, std::string_view path, std::string said) {
    problems_.add({std::string(file_), line_.line, token.column, std::string(path), std::move(said)});
    bad = true;
  }

  /// The day that the first word names; without one the day after the last, or today.
  std::optional<CivilDate> date(CivilDate today, const std::optional<CivilDate>& last) {
    const TypedWord& first = line_.words.front();
    const std::string plain = first.plain();
    const CivilDate next = last ? last->plus_days(1) : today;
    if (plain == "today" || plain == "tomorrow") {
      at_ = 1;
      return today.plus_days(plain == "today" ? 0 : 1);
    }
    if (const int weekday = weekday_of(plain); weekday > 0 && plain != "sun") return on_weekday(weekday, next);
    if (plain == "sun" && (line_.words.size() < 2 || !starts_number(line_.words[1].text))) return on_weekday(7, next);
    if (!starts_number(first.text)) return next;
    at_ = 1;
    const auto read = read_date(first.text);
    if (const auto* wrong = std::get_if<Unreadable>(&read)) {
      complain(first, "date", fmt::format("\"{}\" {}", first.text, wrong->wrong));
      return std::nullopt;
    }
    return std::get<CivilDate>(read);
  }

  void check_date(CivilDate date, CivilDate today) {
    const int ahead = date.serial() - today.serial();
    if (ahead < 0)
      complain(line_.words.front(), "date",
               fmt::format(R"("{}" lies before today, {}; what has been belongs in the daily record)",
                           line_.words.front().text, today.text()));
    if (ahead > kMostDaysAhead)
      complain(line_.words.front(), "date",
               fmt::format(R"("{}" is {} days ahead; a forecast reaches at most {}, so check the year)",
                           line_.words.front().text, ahead, kMostDaysAhead));
  }

  WeatherDay read() {
    while (at_ < line_.words.size()) {
      const TypedWord& word = line_.words[at_++];
      take(word, word.plain());
    }
    check_extremes();
    return day_;
  }

 private:
  CivilDate on_weekday(int weekday, CivilDate next) {
    at_ = 1;
    return next.plus_days((weekday - next.weekday() + 7) % 7);
  }

  void take(const TypedWord& word, const std::string& plain) {
    if (plain == "min" || plain == "low") {
      if (const auto si = amount(word, kAir)) day_.low = Temperature<>::from_kelvin(*si), has_low_ = true;
    } else if (plain == "max" || plain == "high") {
      if (const auto si = amount(word, kAir)) day_.high = Temperature<>::from_kelvin(*si), has_high_ = true;
    } else if (plain == "rain") {
      if (const auto si = amount(word, kRain)) day_.rain = Length<>(*si);
    } else if (plain == "sun") {
      if (const auto si = amount(word, kSun)) day_.sun = Flux<>(*si);
    } else if (plain == "wind") {
      take_wind(word);
    } else if (plain == "dry") {
      day_.rain = Length<>(0.0);
    } else if (!take_sky(word, plain) && !take_wind_word(word, plain)) {
      complain(word, "forecast", fmt::format("\"{}\" is no word of a forecast{}", word.text, hint(plain)));
    }
  }

  /// A word is meant only if it begins alike: "gale" is near "calm" in letters only.
  static std::string hint(const std::string& plain) {
    const std::string_view near = nearest_word(plain, {"min", "max", "rain", "dry", "sun", "wind", "clear", "mixed",
                                                       "overcast", "calm", "light", "windy", "today", "tomorrow"});
    if (near.empty() || near.front() != plain.front()) return fmt::format("; {}", kExample);
    return fmt::format("; did you mean \"{}\"?", near);
  }

  bool take_sky(const TypedWord& word, const std::string& plain) {
    std::optional<Sky> sky;
    if (plain == "clear" || plain == "sunny") sky = Sky::clear;
    if (plain == "mixed") sky = Sky::mixed;
    if (plain == "overcast") sky = Sky::overcast;
    if (plain == "cloudy")
      complain(word, "sky", R"("cloudy" may be either; write "mixed" (sun and cloud) or "overcast")");
    if (sky && day_.sky && *day_.sky != *sky)
      complain(word, "sky", fmt::format(R"("{}" is a second word for the sky of one day; keep one)", word.text));
    if (sky) day_.sky = sky;
    return sky || plain == "cloudy";
  }

  bool take_wind_word(const TypedWord& word, const std::string& plain) {
    std::optional<WindWord> wind;
    if (plain == "calm") wind = WindWord::calm;
    if (plain == "light") wind = WindWord::light;
    if (plain == "windy") wind = WindWord::windy;
    if (!wind) return false;
    if (has_wind_) complain(word, "wind", fmt::format(R"("{}" is a second wind for one day; keep one)", word.text));
    day_.wind = wind_of(*wind);
    has_wind_ = true;
    return true;
  }

  /// "wind 4 m/s", "wind light", or the "wind" of "light wind".
  void take_wind(const TypedWord& word) {
    const bool number_follows = at_ < line_.words.size() && starts_number(line_.words[at_].text);
    const bool word_follows =
        at_ < line_.words.size() && !has_wind_ && take_wind_word(line_.words[at_], line_.words[at_].plain());
    if (word_follows) {
      ++at_;
    } else if (number_follows) {
      const bool second = has_wind_;
      if (second) complain(word, "wind", "is said twice for one day; keep one");
      if (const auto si = amount(word, kWind)) day_.wind = Velocity<>(*si), has_wind_ = true;
    } else if (!has_wind_) {
      complain(word, "wind", R"("wind" has neither a number nor a word; write "light wind" or "wind 4 m/s")");
    }
  }

  /// The number and the unit behind a word: "12", "12 degC", "12°C", "2mm".
  std::optional<double> amount(const TypedWord& word, const Amount& kind) {
    if (at_ >= line_.words.size() || !starts_number(line_.words[at_].text)) {
      complain(word, word.plain(),
               fmt::format(R"("{}" has no number behind it; write such as "{} 4")", word.text, word.text));
      return std::nullopt;
    }
    const TypedWord& token = line_.words[at_++];
    const std::size_t digits = std::min(token.text.find_first_not_of("+-.,0123456789"), token.text.size());
    std::string shown = token.text;
    std::string unit = token.text.substr(digits);
    if (unit.empty() && at_ < line_.words.size() && is_unit(line_.words[at_].text)) {
      unit = line_.words[at_++].text;
      shown += ' ' + unit;
    }
    return measured(token, word.plain(), token.text.substr(0, digits), unit, shown, kind);
  }

  static bool is_unit(const std::string& text) {
    return text != "min" && !starts_number(text) && std::holds_alternative<Unit>(read_weather_unit(text));
  }

  std::optional<double> measured(const TypedWord& token, const std::string& path, const std::string& digits,
                                 const std::string& unit_text, const std::string& shown, const Amount& kind) {
    const auto refuse = [&](std::string_view wrong, std::string_view cure) {
      complain(token, path, fmt::format("\"{}\" {}{}{}", shown, wrong, cure.empty() ? "" : "; ", cure));
      return std::nullopt;
    };
    const auto number = read_number(digits);
    if (const auto* wrong = std::get_if<Unreadable>(&number))
      return refuse(wrong->wrong.substr(0, wrong->wrong.find(';')),
                    R"(write a plain number with a point, such as "4.5")");
    const Unit wanted = std::get<Unit>(read_unit(kind.unit));
    const auto unit = unit_text.empty() ? wanted : read_weather_unit(unit_text);
    if (const auto* wrong = std::get_if<Unreadable>(&unit))
      return refuse(wrong->wrong, fmt::format(R"(such as "{} {}")", digits, kind.unit));
    if (std::get<Unit>(unit).dimension != wanted.dimension)
      return refuse(fmt::format("does not measure {}", path),
                    fmt::format(R"(write such as "{} {}")", digits, kind.unit));
    const double si = std::get<double>(number) * std::get<Unit>(unit).scale + std::get<Unit>(unit).offset;
    const double value = (si - wanted.offset) / wanted.scale;
    if (value < kind.low) return refuse(fmt::format("is below {:g} {}", kind.low, kind.unit), "check it");
    if (value > kind.high) return refuse(fmt::format("is above {:g} {}", kind.high, kind.unit), kind.above);
    return si;
  }

  void check_extremes() {
    const TypedWord& first = line_.words.front();
    if (bad) return;
    if (!has_low_ || !has_high_) {
      complain(first, has_low_ ? "max" : "min",
               fmt::format(R"("{}" has no {}; {})", first.text,
                           has_low_    ? "highest"
                           : has_high_ ? "lowest"
                                       : "lowest and no highest",
                           kExample));
    } else if (day_.high < day_.low) {
      complain(first, "min",
               fmt::format("\"{:g}\" is above the max, \"{:g}\"; exchange the two", day_.low.celsius(),
                           day_.high.celsius()));
    }
  }
};

}  // namespace

std::vector<WeatherDay> read_forecast(std::string_view text, std::string_view file, CivilDate today,
                                      Problems& problems) {
  std::vector<WeatherDay> days;
  std::optional<CivilDate> last;
  for (const TypedDay& line : split_days(text)) {
    DayReader reader(line, file, problems);
    const auto date = reader.date(today, last);
    if (date) {
      reader.check_date(*date, today);
      if (std::any_of(days.begin(), days.end(), [&](const WeatherDay& d) { return d.date == *date; }))
        reader.complain(line.words.front(), "date",
                        fmt::format(R"("{}" names {} a second time; keep one)", line.words.front().text, date->text()));
      last = date;
    }
    WeatherDay day = reader.read();
    if (!date || reader.bad) continue;
    day.date = *date;
    days.push_back(day);
  }
  std::sort(days.begin(), days.end(), [](const WeatherDay& a, const WeatherDay& b) { return a.date < b.date; });
  return days;
}

}  // namespace leat::model
