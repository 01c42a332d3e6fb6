#include "doors/page/routes.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/result/problem.h"
#include "base/units/parse.h"

namespace leat::doors {
namespace {

using P = Parameter;

constexpr std::string_view kJson[] = {"--json"};
constexpr std::string_view kTable[] = {"--table", "--json"};
constexpr std::string_view kDrawing[] = {"--drawing=-"};
constexpr std::string_view kPicture[] = {"--picture=-"};
constexpr std::string_view kExample[] = {"--example", "--json"};
constexpr std::string_view kSchema[] = {"--schema"};
constexpr std::string_view kCsv[] = {"--csv"};

constexpr P kDays{"days", Form::text, "how many days", "14"};
constexpr P kStart{"start", Form::text, "first day; today unless said", "2026-11-25"};
constexpr P kMonth{"month", Form::text, "start on the first of this month", "july"};
constexpr P kTomorrow{"tomorrow", Form::text, "typed days", "min 4 max 12 clear light wind"};
constexpr P kSeed{"seed", Form::text, "seed of generated weather", "1"};
constexpr P kTemperature{"temperature", Form::text, "of the water", "12.5 degC"};
constexpr P kOxygen{"oxygen", Form::text, "at the last reading", "8.5 mg/L"};
constexpr P kAmmonia{"ammonia", Form::text, "total ammonia as N", "0.3 mg/L"};
constexpr P kPh{"ph", Form::text, "acidity", "7.2"};

constexpr P kAhead[] = {kDays, kStart, kMonth, kTomorrow, kSeed};
constexpr P kOutage[] = {{"fails", Form::text, "what fails; power unless said", "power"},
                         {"since", Form::text, "how long ago: now, a time or unknown", "30 min"},
                         {"seen", Form::text, "with since=unknown: how long ago all was last seen well", "3 h"},
                         {"returns", Form::text, "when the power comes back", "1 h"},
                         kTemperature,
                         kOxygen,
                         {"fed", Form::text, "how long ago the fish were fed", "2 h"},
                         {"air", Form::text, "power of a battery air kit", "8 W"},
                         {"battery", Form::text, "what its battery holds", "115 Wh"}};
constexpr P kFeed[] = {kTemperature,
                       kOxygen,
                       kAmmonia,
                       kPh,
                       {"nitrite", Form::text, "as N", "0.05 mg/L"},
                       {"left-over", Form::flag, "feed was left at the last meal", "true"}};
constexpr P kNight[] = {{"reading", Form::list, "oxygen at a time; two at least, or none", "18:00 9.0 mg/L"},
                        {"dawn", Form::text, "when the night ends", "05:30"},
                        kTemperature,
                        {"reaeration", Form::text, "if known", "0.30 1/h"},
                        {"kit", Form::text, "spread of the oxygen kit", "0.5 mg/L"},
                        kPh,
                        kAmmonia,
                        kStart,
                        kTomorrow};
constexpr P kCompare[] = {{"plan", Form::plan, "the plan: a loop's description or a patch", "[plan]\n"},
                          {"days", Form::text, "how many days both are run", "3"},
                          {"members", Form::text, "runs of each that the bands come from; 0 for none", "20"},
                          kStart,
                          kMonth,
                          kSeed};
constexpr P kSeason[] = {{"months", Form::text, "how many months", "6"},
                         {"years", Form::text, "how many years of weather", "10"},
                         kMonth,
                         kSeed,
                         {"size", Form::text, "a fish to eat", "250 g"}};
constexpr P kNote[] = {{"words", Form::words, "what was done or read, in plain words", "fed 60 g"},
                       {"key", Form::text, "name of this sending: sent twice it is kept once", "6f1d2a90c44e"},
                       {"at", Form::text, "when it was so", "07:30"},
                       {"kit", Form::text, "what it was read with", "drop kit"},
                       {"ago_s", Form::text, "how many seconds ago it was noted, when it is sent later", "5400"},
                       {"dry-run", Form::flag, "say what is understood and keep nothing", "true"}};
constexpr P kRecord[] = {{"since", Form::text, "from this time on", "yesterday"},
                         {"until", Form::text, "up to this time", "2026-11-20"},
                         {"what", Form::text, "only these", "fed"},
                         {"where", Form::text, "only at this part of the loop", "tank.nursery"},
                         {"search", Form::text, "only what holds all of these words; a|b is either", "fed trout"},
                         {"latest", Form::text, "how many at most", "40"},
                         {"all", Form::flag, "every one", "true"},
                         {"superseded", Form::flag, "what was corrected as well", "true"}};
constexpr P kUntil{"until", Form::text, "its last day", "2026-11-22"};
constexpr P kWeekDays{"days", Form::text, "how many days", "7"};
constexpr P kWeek[] = {kUntil, kWeekDays};
constexpr P kWording[] = {{"wording", Form::file, "your wording, Markdown; the one that was is kept", "# My week\n"},
                          {"fresh", Form::flag, "write it anew", "true"},
                          kUntil,
                          kWeekDays};
constexpr P kTrial[] = {{"crop", Form::text, "only this crop", "chard"},
                        {"treatment", Form::list, "a name and its beds", "lagged: raft 1, raft 2"},
                        {"wanted", Form::text, "the difference that would matter", "15 %"},
                        {"since", Form::text, "only what was planted from this time on", "2026-03-01"},
                        {"until", Form::text, "only what was planted up to this time", "2026-09-01"}};
constexpr P kHelped[] = {{"change", Form::text, "when it was", "2026-05-03"},
                         {"where", Form::text, "whose min and max", "tank.nursery"},
                         {"since", Form::text, "readings from this time on", "2026-03-01"},
                         {"until", Form::text, "readings up to this time", "2026-09-01"}};
constexpr P kRound[] = {kTomorrow};
constexpr P kCarry[] = {
    kStart, kMonth, kSeed, {"members", Form::text, "how many years the bands come from; 0 for none", "100"}};
constexpr P kDose[] = {
    {"what", Form::first, "base, acid, nitrite, iron, chlorine, chloramine or change", "base"},
    {"water", Form::text, "all water of the loop, unless it is that of its file", "3000 L"},
    kTemperature,
    kPh,
    {"to", Form::text, "base, acid: the pH wanted", "7.0"},
    {"shaken", Form::text, "base, acid: pH of a jar shaken with air for two minutes", "6.8"},
    {"kh", Form::text, "base, acid: alkalinity, as CaCO3", "20 mg/L"},
    kAmmonia,
    {"feed", Form::text, "base, acid: feed a day", "150 g/d"},
    {"plants", Form::text, "base, acid: share of the nitrogen that plants take up as nitrate", "0.35"},
    {"with", Form::text, "base, acid: what is dosed, by its formula", "KHCO3"},
    {"reading", Form::text, "nitrite as NO2, iron, chlorine, or what a change is to lower", "0.5 mg/L"},
    {"target", Form::text, "iron, change: what is wanted", "2 mg/L"},
    {"there", Form::text, "nitrite: chloride that is there; change: what the new water holds", "10 mg/L"},
    {"share", Form::text, "iron: share of iron in the product", "6 %"},
    {"new-water", Form::text, "chlorine, chloramine: how much new water", "200 L"}};
constexpr P kCalc[] = {{"relation", Form::first, "which relation", "unionised_ammonia_fraction"},
                       {"input", Form::each, "name=value with its unit, as often as wanted", "temperature=14 degC"},
                       {"list", Form::flag, "every relation instead", "true"}};
constexpr P kCorrect[] = {{"correct", Form::list, "the number of an entry, then what should stand there", "12"},
                          {"why", Form::text, "the reason", "typed wrong"}};

constexpr P kNew[] = {{"name", Form::text, "what the loop is called", "Alder yard"},
                      {"latitude", Form::text, "degrees, south is negative", "47.5"},
                      {"longitude", Form::text, "degrees, west is negative", "-122.3"},
                      {"altitude", Form::text, "above the sea", "60 m"},
                      {"time-zone", Form::text, "name in the time zone database", "America/Los_Angeles"},
                      {"fish", Form::text, "which fish", "rainbow trout"},
                      {"count", Form::text, "how many fish", "40"},
                      {"mass", Form::text, "of one fish", "60 g"},
                      {"plant", Form::text, "what grows in the bed", "lettuce"},
                      {"tank", Form::text, "what the tank holds", "1000 L"},
                      {"depth", Form::text, "of the tank", "1.0 m"},
                      {"sump", Form::text, "what the sump holds", "300 L"},
                      {"raft", Form::text, "area of the raft bed, or none", "2.4 m2"},
                      {"gravel", Form::text, "area of the gravel bed, or none", "1.2 m2"},
                      {"flow", Form::text, "what arrives at the tank, by bucket and watch", "10 L in 30 s"},
                      {"low", Form::text, "lowest of the water last night", "9 degC"},
                      {"high", Form::text, "its highest", "12 degC"},
                      {"dry-run", Form::flag, "show it and write nothing", "true"}};

constexpr std::array kRoutes = {
    Route{"new", "POST", "new", "write a loop's file from a few answers", kJson, kNew, "application/json", true, false},
    Route{"example", "POST", "new", "show the example instead", kExample, {}, "application/json", true, false},
    Route{"words",
          "GET",
          "words",
          "the words of a loop's file, JSON Schema",
          kSchema,
          {},
          "application/json",
          false,
          true,
          false},
    Route{"check", "GET", "check", "is this plumbing sound?", kJson, {}},
    Route{"drawing", "GET", "check", "the loop as a drawing", kDrawing, {}, "image/svg+xml"},
    Route{"ahead", "GET", "ahead", "what will the water do in the next days?", kJson, kAhead},
    Route{"ahead.csv", "GET", "ahead", "the same, one row a vessel and day", kCsv, kAhead, "text/csv"},
    Route{"picture", "GET", "ahead", "where heat, oxygen and nitrogen went", kPicture, kAhead, "image/svg+xml"},
    Route{"night", "GET", "night", "will oxygen be low before dawn?", kJson, kNight},
    Route{"feed", "GET", "feed", "how much today?", kJson, kFeed},
    Route{"outage", "GET", "outage", "power, or one part, fails: how long do the fish have?", kJson, kOutage},
    Route{"emergency", "GET", "outage", "the table to keep by the tank", kTable, {}},
    Route{"season", "GET", "season", "over months: what may go wrong?", kJson, kSeason},
    Route{"carry", "GET", "carry", "how many fish, how much bed, and what limits first?", kJson, kCarry},
    Route{"dose", "GET", "dose", "how much of what, over how many days?", kJson, kDose, "application/json", false,
          false, true, "--loop="},
    Route{"calc", "GET", "calc", "one relation of the trade, with its source", kJson, kCalc, "application/json", false,
          true, false},
    Route{"round", "GET", "round", "what do I look at and do now?", kJson, kRound, "application/json", false, false},
    Route{"week", "GET", "week", "the week on one page", kJson, kWeek, "application/json", false, false},
    Route{"week", "POST", "week", "your own wording of a week", kJson, kWording, "application/json", true, false},
    Route{"trial", "GET", "trial", "is one bed really better?", kJson, kTrial, "application/json", false, false},
    Route{"helped", "GET", "helped", "did that change help?", kJson, kHelped, "application/json", false, false},
    Route{"odd", "GET", "odd", "what in the record does not fit?", kJson, {}, "application/json", false, false},
    Route{"cause", "GET", "cause", "what killed them?", kJson, {}, "application/json", false, false},
    Route{"compare", "POST", "compare", "today's loop against a plan", kJson, kCompare},
    Route{"note", "POST", "note", "put in what you did or read", kJson, kNote, "application/json", true, false},
    Route{"record", "GET", "record", "look up what was noted", kJson, kRecord, "application/json", false, false},
    Route{"record", "POST", "record", "correct an entry; the old one is kept", kJson, kCorrect, "application/json",
          true, false}};

constexpr std::size_t kLongest = 4000, kLongestPlan = 200'000, kMostOfAList = 24;

const Parameter* find_parameter(const Route& route, std::string_view name) {
  const auto at = std::find_if(route.parameters.begin(), route.parameters.end(),
                               [&](const Parameter& p) { return p.name == name; });
  return at == route.parameters.end() ? nullptr : &*at;
}

std::string unknown(const Route& route, std::string_view name) {
  std::vector<std::string_view> names;
  for (const Parameter& p : route.parameters) names.push_back(p.name);
  std::string known;
  for (const std::string_view n : names) known += fmt::format("{}{}", known.empty() ? "" : ", ", n);
  return fmt::format("{}: \"{}\" is nothing that can be said here{}; it takes {}", route.name, name,
                     did_you_mean(name, names), known.empty() ? "nothing" : known);
}

/// Seconds since a note was made, as a moment that the command line reads. Less than a minute is now.
std::string put_ago(const std::string& value, Question& question) {
  const auto read = read_number(value);
  const double* seconds = std::get_if<double>(&read);
  constexpr double kYear = 366.0 * 86400.0;
  if (!seconds || !(*seconds >= 0.0) || *seconds > kYear)
    return fmt::format("ago_s: \"{}\" is no number of seconds within a year; write such as 5400", value);
  const long minutes = std::lround(*seconds / 60.0);
  if (minutes > 0) question.flags.push_back(fmt::format("--now={} min ago", minutes));
  return "";
}

std::string put(const Parameter& p, const std::string& value, Question& question) {
  if (value.find('\0') != std::string::npos) return fmt::format("{}: holds a zero byte; write plain text", p.name);
  const std::size_t longest = p.form == Form::plan || p.form == Form::file ? kLongestPlan : kLongest;
  if (value.size() > longest)
    return fmt::format("{}: is {} bytes long; at most {} are taken", p.name, value.size(), longest);
  if (p.name == "ago_s") return put_ago(value, question);
  switch (p.form) {
    case Form::flag:
      if (value == "true" || value == "1") question.flags.push_back(fmt::format("--{}", p.name));
      break;
    case Form::first:
      question.words.insert(question.words.begin(), value);
      break;
    case Form::words:
    case Form::each:
      question.words.push_back(value);
      break;
    case Form::plan:
      question.plan = value;
      break;
    case Form::file:
      question.plan = value;
      question.plan_flag = fmt::format("--{}=", p.name);
      break;
    default:
      if (!value.empty()) question.flags.push_back(fmt::format("--{}={}", p.name, value));
  }
  return "";
}

/// `record --correct` wants its two words behind one flag.
std::string join_correction(Question& question) {
  std::vector<std::string> two;
  std::erase_if(question.flags, [&](const std::string& flag) {
    if (!flag.starts_with("--correct=")) return false;
    two.push_back(flag.substr(std::string_view("--correct=").size()));
    return true;
  });
  if (two.size() != 2)
    return "correct: wants the number of an entry and what should stand there: [\"12\", \"fed 50 g\"]";
  if (two[1].starts_with("-")) two[1] = " " + two[1];
  question.flags.insert(question.flags.end(), {"--correct", two[0], two[1]});
  return "";
}

}  // namespace

std::span<const Route> routes() {
  return kRoutes;
}

const Route* find_route(std::string_view name, std::string_view method) {
  for (const Route& route : kRoutes)
    if (route.name == name && route.method == method) return &route;
  return nullptr;
}

std::variant<Question, std::string> question_of(const Route& route, const Values& values) {
  Question question{&route, {}, {}, "", "", ""};
  for (const std::string_view flag : route.fixed) question.flags.emplace_back(flag);
  std::size_t parts = 0;
  for (const auto& [name, value] : values) {
    if (name == "job") {
      question.job = value.substr(0, 64);
      continue;
    }
    const Parameter* p = find_parameter(route, name);
    if (!p) return unknown(route, name);
    if (++parts > kMostOfAList) return fmt::format("{}: says more than {} things at once", route.name, kMostOfAList);
    if (const std::string wrong = put(*p, value, question); !wrong.empty()) return wrong;
  }
  if (route.name == "note" && (question.words.empty() || question.words[0].empty()))
    return "words: are missing; say what was done or read, such as \"fed 60 g\"";
  if (route.name == "dose" && question.words.empty())
    return "what: is missing; say base, acid, nitrite, iron, chlorine, chloramine or change";
  if (route.name == "week" && route.writes && question.plan.empty() &&
      std::find(question.flags.begin(), question.flags.end(), "--fresh") == question.flags.end())
    return "wording: is missing; send it as Markdown, or \"fresh\": true to have it written anew";
  if (route.name == "compare" && question.plan.empty())
    return "plan: is missing; send a loop's description, or a patch with a heading [plan]";
  if (route.name == "record" && route.writes)
    if (const std::string wrong = join_correction(question); !wrong.empty()) return wrong;
  return question;
}

}  // namespace leat::doors
