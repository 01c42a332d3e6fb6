#include <fmt/core.h>

#include <filesystem>
#include <fstream>

#include "answers/round.h"
#include "doors/command/files.h"
#include "doors/command/hook.h"
#include "doors/command/measured_flag.h"
#include "doors/command/record_file.h"
#include "doors/command/refused.h"
#include "doors/command/round_verbs.h"
#include "model/flow/water_run.h"
#include "record/sensed.h"
#include "record/when.h"
#include "tell/round_text.h"

namespace leat::doors {
namespace {

/// All that a round needs, read. Empty when there are problems.
struct Ground {
  model::Loop loop;
  LoopOfRecord known;
  std::vector<record::Entry> entries;
};

std::optional<std::vector<record::Entry>> read_entries(const std::string& file, const Clock& clock,
                                                       std::string& why_not) {
  if (!std::ifstream(record_path(file)).good())
    return std::vector<record::Entry>{};  // nothing noted yet: the routine still holds
  const auto store = open_record(file, false, why_not);
  if (!store) return std::nullopt;
  auto entries = record::entries_and_sensed(*store, clock);
  if (const auto* trouble = std::get_if<record::Trouble>(&entries)) {
    why_not = trouble->said;
    return std::nullopt;
  }
  return std::get<std::vector<record::Entry>>(std::move(entries));
}

void take_weather(const RoundFlags& flags, const Ground& g, answers::RoundRequest& request, Problems& problems) {
  const model::Place& place = g.loop.site.place;
  if (!flags.weather.empty())
    if (const auto text = read_file(flags.weather, problems)) {
      request.weather.daily = model::read_daily_record(*text, flags.weather, flags.location, problems);
      model::check_daily_sun(*request.weather.daily, place, flags.weather, problems);
    }
  if (flags.tomorrow.empty()) return;
  const CivilDate today = place.clock.local(Instant{1e-3 * static_cast<double>(request.now)}).date;
  const bool bare = flags.tomorrow.starts_with("min") || flags.tomorrow.starts_with("max");
  for (const model::WeatherDay& day :
       model::read_forecast((bare ? "tomorrow " : "") + flags.tomorrow, "--tomorrow", today, problems))
    request.weather.forecast.push_back(day);
}

bool write_page(const std::string& path, const std::string& text) {
  std::ofstream out(path, std::ios::binary | std::ios::trunc);
  out << text;
  out.close();
  if (out) return true;
  fmt::print(stderr, "leat round: {} cannot be written; name a file in a folder that is there.\n", path);
  return false;
}

/// A file that is there already is only written over when it is one of ours by its first words.
bool may_write(const std::string& path, std::string_view begins, const char* flag, Problems& problems) {
  std::ifstream old(path, std::ios::binary);
  if (!old) return true;
  std::string start(begins.size(), ' ');
  old.read(start.data(), static_cast<std::streamsize>(start.size()));
  if (old.gcount() == 0 || start == begins) return true;
  problems.add({flag, 0, 0, "", fmt::format("{} is there already and is none of these; name another file", path)});
  return false;
}

std::string card_of(const model::Loop& loop, const std::string& today) {
  std::vector<answers::Drawdown> drawdowns;
  const auto levels = model::levels_at_rest(loop);
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    if (answers::fish_demand(loop, v, loop.water.temperature).rate.si() <= 0.0) continue;
    const model::Vessel& vessel = loop.vessels[v];
    answers::DrawdownInput input;
    input.water = vessel.volume_at(levels[v]);
    input.open_surface = vessel.area * (1.0 - vessel.cover);
    drawdowns.push_back(answers::draw_down_surely(loop, v, [&](const model::Loop&) { return input; }, {}));
  }
  return tell::emergency_card_html(loop, answers::emergency_tables(loop), drawdowns, today);
}

int tell_urgent(const RoundFlags& flags, const answers::RoundAnswer& answer, const Clock& clock, record::Moment again) {
  answers::RoundAnswer told = answer;
  if (answer.urgent.empty()) {
    if (!flags.quiet) fmt::print("Nothing urgent.\n");
    return 0;
  }
  fmt::print("{}", tell::urgent_text(answer, clock));
  if (flags.hook.empty()) return 1;
  std::filesystem::path beside(flags.loop);
  Told known(beside.replace_extension(".told").string());
  told.urgent = known.fresh(answer.urgent, answer.now, again);
  if (told.urgent.empty()) return 1;
  const int code = run_hook(flags.hook, tell::urgent_text(told, clock));
  if (code != 0) {
    fmt::print(stderr, "leat round: the hook \"{}\" ended with {}, so nobody may have been told.\n", flags.hook, code);
    return 3;
  }
  if (!known.remember(told.urgent, answer.now))
    fmt::print(stderr, "leat round: what was told could not be remembered beside {}, so it will be told again.\n",
               flags.loop);
  return 1;
}

int tell_round(const RoundFlags& flags, const answers::RoundAnswer& answer, const model::Loop& loop) {
  const Clock& clock = loop.site.place.clock;
  const std::string today = record::span_text(clock, {answer.now, answer.now}).substr(0, 10);
  bool written = true;
  if (!flags.ical.empty()) written = write_page(flags.ical, tell::round_ical(answer, clock, flags.events)) && written;
  if (!flags.sheet.empty()) written = write_page(flags.sheet, tell::round_sheet_html(answer, clock)) && written;
  if (!flags.card.empty()) written = write_page(flags.card, card_of(loop, today)) && written;
  fmt::print("{}", flags.json ? tell::round_json(answer) : tell::round_text(answer, clock));
  return written ? 0 : 2;
}

void check_flags(const RoundFlags& flags, Problems& problems) {
  if (!flags.hook.empty() && !flags.urgent) problems.add({"--hook", 0, 0, "", "goes with --urgent"});
  if (flags.most < 1 || flags.most > 3)
    problems.add({"--most", 0, 0, "", fmt::format("{} is not 1, 2 or 3; leat odd --most shows more", flags.most)});
  if (flags.events && flags.ical.empty()) problems.add({"--events", 0, 0, "", "goes with --ical FILE"});
  if (!flags.ical.empty()) may_write(flags.ical, "BEGIN:VCALENDAR", "--ical", problems);
  if (!flags.sheet.empty()) may_write(flags.sheet, "<!DOCTYPE html>", "--sheet", problems);
  if (!flags.card.empty()) may_write(flags.card, "<!DOCTYPE html>", "--card", problems);
}

}  // namespace

int verb_round(const RoundFlags& flags) {
  Problems problems;
  check_flags(flags, problems);
  Ground g;
  if (auto loop = read_loop(flags.loop, problems)) g.loop = std::move(*loop);
  if (problems.empty())
    if (auto known = loop_of_record(flags.loop, flags.now, problems)) g.known = std::move(*known);
  answers::RoundRequest request;
  request.now = g.known.context.now;
  request.most = static_cast<std::size_t>(std::max(1, flags.most));
  request.urgent_only = flags.urgent;
  if (const auto k = measured(flags.reaeration, "--reaeration", dim::frequency, 1e-6, 1e-2, "0.30 1/h", problems))
    request.reaeration = Frequency<>(*k);
  const auto again = measured(flags.again, "--again", dim::time, 60.0, 30.0 * 86400.0, "6 h", problems);
  if (problems.empty()) take_weather(flags, g, request, problems);
  if (!problems.empty()) return refused(problems);
  std::string why_not;
  const auto entries = read_entries(flags.loop, g.loop.site.place.clock, why_not);
  if (!entries) return refused("round", why_not);
  const answers::RoundAnswer answer = answers::round(g.loop, *entries, request);
  if (flags.urgent)
    return tell_urgent(flags, answer, g.loop.site.place.clock,
                       static_cast<record::Moment>(1e3 * again.value_or(6.0 * 3600.0)));
  // The card tells of the fish and the water that the record last saw.
  const learn::History history = learn::history_of(*entries).until(request.now);
  learn::Present present = learn::present_of(history, g.loop.site.place.clock, request.now);
  return tell_round(flags, answer, learn::loop_at_present(g.loop, history, present));
}

}  // namespace leat::doors
