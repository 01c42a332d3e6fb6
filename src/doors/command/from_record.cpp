#include "doors/command/from_record.h"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>

#include "record/sensed.h"
#include "record/when.h"
#include "tell/round_text.h"

namespace leat::doors {
namespace {

/// The file to read, or "" for none.
std::string file_of(const std::string& loop_file, const FromFlags& flags, Problems& problems) {
  if (flags.record == "none") return "";
  const std::string path = flags.record.empty() ? record_path(loop_file) : flags.record;
  std::error_code none;
  if (std::filesystem::exists(path, none)) return path;
  if (!flags.record.empty())
    problems.add({"--record", 0, 0, "",
                  fmt::format("{} is not there; name a record such as {}, or none", path, record_path(loop_file))});
  return "";
}

std::vector<record::Entry> read(const std::string& path, const Clock& clock, Problems& problems) {
  const auto store = record::Store::open_to_read(path);
  auto entries = std::holds_alternative<record::Store>(store)
                     ? record::entries_and_sensed(std::get<record::Store>(store), clock)
                     : std::variant<std::vector<record::Entry>, record::Trouble>(std::get<record::Trouble>(store));
  if (const auto* trouble = std::get_if<record::Trouble>(&entries)) {
    problems.add({path, 0, 0, "", trouble->said + "; --record none goes without it"});
    return {};
  }
  return std::get<std::vector<record::Entry>>(std::move(entries));
}

}  // namespace

FromRecord from_record(const std::string& loop_file, const model::Loop& described, const FromFlags& flags,
                       std::optional<record::Moment> earlier, Problems& problems) {
  FromRecord from;
  from.loop = described;
  const auto known = loop_of_record(loop_file, flags.now, problems);
  if (!known) return from;
  from.now = std::min(known->context.now, earlier.value_or(known->context.now));
  const std::string path = file_of(loop_file, flags, problems);
  if (path.empty()) return from;
  const Clock& clock = described.site.place.clock;
  from.history = learn::history_of(read(path, clock, problems));
  from.found = !from.history.empty();
  from.present = learn::present_of(from.history, clock, from.now);
  from.loop = learn::loop_at_present(described, from.history, from.present);
  return from;
}

std::string FromRecord::flag_text(std::string_view what) const {
  const learn::Reading* r = present.of(what);
  if (!r) return "";
  if (what == "temperature") return fmt::format("{:.2f} degC", r->value());
  return what == "pH" ? fmt::format("{:.2f}", r->value()) : fmt::format("{:.4g} mg/L", r->value());
}

std::string FromRecord::text() const {
  return found ? "\n" + tell::taken_text(present.taken) : "";
}

void take_given(const FromRecord& from, const CivilDate& first, answers::AheadRequest& request) {
  const Clock& clock = from.loop.site.place.clock;
  const Instant start = clock.instant({first, 0.0});
  std::optional<record::Moment> last;
  for (const learn::Deed& d : from.history.deeds) {
    if (d.what != "fed" || !d.grams || 1e-3 * static_cast<double>(d.at) < start.seconds) continue;
    last = d.at;
    for (std::size_t g = 0; g < from.loop.fish.size(); ++g) {
      const std::string& tank = from.loop.vessels[static_cast<std::size_t>(from.loop.fish[g].vessel)].path;
      if (d.where != tank && from.loop.fish.size() > 1) continue;
      request.given.push_back({{1e-3 * static_cast<double>(d.at)}, g, Mass<>(1e-3 * *d.grams)});
      break;
    }
  }
  if (!last) return;
  // Up to the end of the last day that has a meal: what was not noted on it was not given.
  const CivilDate day = clock.local(Instant{1e-3 * static_cast<double>(*last)}).date;
  request.given_until = clock.instant({day.plus_days(1), 0.0});
}

}  // namespace leat::doors
