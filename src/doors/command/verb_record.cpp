#include <fmt/core.h>
#include <unistd.h>

#include <chrono>

#include "answers/record.h"
#include "doors/command/files.h"
#include "doors/command/record_file.h"
#include "doors/command/record_sensors.h"
#include "doors/command/record_tables.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "record/photo.h"
#include "record/when.h"
#include "tell/record_search.h"
#include "tell/record_text.h"

namespace leat::doors {
namespace {

constexpr std::size_t kLatest = 40;

/// The filter that the flags say.
record::Filter filter_of(const RecordFlags& flags, const record::Context& context, Problems& problems) {
  record::Filter filter;
  const auto time = [&](const std::string& text, const char* flag) -> std::optional<record::Span> {
    if (text.empty()) return std::nullopt;
    const auto when = record::read_when(text, context.clock, context.now);
    if (const auto* span = std::get_if<record::Span>(&when)) return *span;
    problems.add({flag, 0, 0, "", std::get<record::Trouble>(when).said});
    return std::nullopt;
  };
  if (const auto since = time(flags.since, "--since")) filter.since = since->from;
  if (const auto until = time(flags.until, "--until")) filter.until = until->to + (until->to == until->from ? 1 : 0);
  filter.what = flags.what;
  for (char& c : filter.what)
    if (c == ' ') c = '_';
  if (filter.what == "ph") filter.what = "pH";
  filter.where = flags.where;
  const record::Tokens words = record::tokens_of(flags.where);
  std::size_t at = 0;
  const auto place = record::take_place(context, words, at, words.size());
  if (place && !place->path.empty() && at == words.size()) filter.where = place->path;
  return filter;
}

int list(const RecordFlags& flags, const record::Store& store, const record::Context& context, record::Filter filter) {
  filter.superseded = flags.superseded;
  const std::size_t latest = flags.latest > 0 ? static_cast<std::size_t>(flags.latest) : kLatest;
  const bool narrowed = filter.since || filter.until || !filter.what.empty() || !filter.where.empty();
  const bool bounded = !flags.all && (!narrowed || flags.latest > 0), searched = !flags.search.empty();
  if (bounded && !searched) filter.latest = latest;
  auto found = store.entries(filter);
  if (const auto* trouble = std::get_if<record::Trouble>(&found)) return refused("record", trouble->said);
  const auto size = store.size();
  tell::ListShown shown{std::move(std::get<std::vector<record::Entry>>(found)), std::get<std::int64_t>(size), narrowed,
                        false, std::nullopt};
  if (searched) {
    shown.narrowed = true;
    shown.entries = tell::entries_that_hold(std::move(shown.entries), flags.search, context.clock);
    shown.found = shown.entries.size();
    if (bounded && shown.entries.size() > latest)
      shown.entries.erase(shown.entries.begin(), shown.entries.end() - static_cast<std::ptrdiff_t>(latest));
  }
  shown.cut =
      shown.found ? *shown.found > shown.entries.size() : filter.latest && shown.entries.size() == *filter.latest;
  fmt::print("{}", flags.json ? tell::list_json(shown, context.clock) : tell::list_text(shown, context.clock));
  return 0;
}

int correct(const RecordFlags& flags, record::Store& store, const LoopOfRecord& loop) {
  const auto number = read_number(flags.correct[0]);
  const double* n = std::get_if<double>(&number);
  if (!n || *n < 1 || *n > 1e15)
    return refused(
        "record",
        fmt::format("--correct \"{}\" is no number of an entry; write such as --correct 12 \"fed 50 g\" --why "
                    "\"typed wrong\"",
                    flags.correct[0]));
  const auto done =
      answers::correct(store, loop.context, {static_cast<std::int64_t>(*n), flags.correct[1], flags.why, loop.text});
  if (const auto* trouble = std::get_if<record::Trouble>(&done)) return refused("record", trouble->said);
  const auto& corrected = std::get<answers::Corrected>(done);
  fmt::print("{}", flags.json ? tell::corrected_json(corrected, loop.context.clock)
                              : tell::corrected_text(corrected, loop.context.clock));
  return 0;
}

/// On a terminal, from the second second on: how far a long look has come.
class OnTheWay {
  using Clock = std::chrono::steady_clock;
  Clock::time_point told_ = Clock::now();
  bool any_ = false;

 public:
  void tell(double share) {
    if (isatty(STDERR_FILENO) == 0 || Clock::now() - told_ < std::chrono::seconds(1)) return;
    told_ = Clock::now();
    any_ = true;
    fmt::print(stderr, "\rlooked at {:.0f} % of the readings", 100.0 * share);
  }
  ~OnTheWay() {
    if (any_) fmt::print(stderr, "\r\033[K");
  }
};

std::variant<record::Verified, record::Trouble> looked_at(const record::Store& store, const std::string& head) {
  OnTheWay way;
  return store.verify(head, [&](double share) { way.tell(share); });
}

int verify(const RecordFlags& flags, const record::Store& store, const Clock& clock) {
  const auto found = looked_at(store, flags.head);
  if (const auto* trouble = std::get_if<record::Trouble>(&found)) return refused("record", trouble->said);
  auto v = std::get<record::Verified>(found);
  const auto photos = record::photo_faults(store, record::photo_folder(record_path(flags.loop)));
  if (const auto* trouble = std::get_if<record::Trouble>(&photos)) return refused("record", trouble->said);
  for (const std::string& fault : std::get<std::vector<std::string>>(photos)) v.faults.push_back(fault);
  fmt::print("{}", tell::verified_text(v, record_path(flags.loop), flags.head, clock));
  return v.faults.empty() ? 0 : 1;
}

void check_together(const RecordFlags& flags, Problems& problems) {
  if (flags.latest < 0)
    problems.add({"--latest", 0, 0, "", fmt::format("{} is no number of entries; write such as 40", flags.latest)});
  const int asked = (flags.correct.empty() ? 0 : 1) + (flags.export_to.empty() ? 0 : 1) +
                    (flags.import_from.empty() ? 0 : 1) + (flags.verify ? 1 : 0);
  if (asked > 1)
    problems.add({"leat record", 0, 0, "", "--correct, --export, --import and --verify are asked one at a time"});
  if (!flags.head.empty() && !flags.verify) problems.add({"--head", 0, 0, "", "goes with --verify"});
  if (!flags.why.empty() && flags.correct.empty()) problems.add({"--why", 0, 0, "", "goes with --correct"});
  if (!flags.search.empty() && (asked > 0 || flags.sensors || flags.points != 0))
    problems.add({"--search", 0, 0, "", "narrows the list only"});
  if (flags.import_from.empty() && (!flags.map.empty() || flags.dry))
    problems.add({"--map, --dry-run", 0, 0, "", "go with --import"});
}

}  // namespace

int verb_record(const RecordFlags& flags) {
  Problems problems;
  check_together(flags, problems);
  const auto loop = loop_of_record(flags.loop, flags.now, problems);
  record::Filter filter;
  if (loop) filter = filter_of(flags, loop->context, problems);
  if (!problems.empty()) return refused(problems);
  if (!flags.import_from.empty()) return import_record(flags, *loop);
  std::string why_not;
  auto store = open_record(flags.loop, !flags.correct.empty(), why_not);
  if (!store) return refused("record", why_not);
  if (!flags.correct.empty()) return correct(flags, *store, *loop);
  if (flags.sensors || flags.points != 0) return list_sensors(flags, *store, loop->context.clock, filter);
  if (flags.verify) return verify(flags, *store, loop->context.clock);
  if (!flags.export_to.empty()) return export_record(flags, *store, loop->context.clock, filter);
  return list(flags, *store, loop->context, filter);
}

}  // namespace leat::doors
