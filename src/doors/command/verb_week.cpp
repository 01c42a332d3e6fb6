#include <fmt/core.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <future>

#include "answers/odd.h"
#include "answers/week.h"
#include "answers/week_ahead.h"
#include "doors/command/files.h"
#include "doors/command/pdf.h"
#include "doors/command/record_flags.h"
#include "doors/command/refused.h"
#include "doors/command/trial_verbs.h"
#include "doors/command/week_wording.h"
#include "tell/week_text.h"

namespace leat::doors {
namespace {

namespace fs = std::filesystem;

constexpr const char* kMark = "<!doctype html>\n<!-- leat week -->";

/// Where the page goes, and its wording beside it.
struct Paths {
  std::string page, wording, pdf;
};

std::optional<Paths> paths_of(const WeekFlags& flags, const CivilDate& last, Problems& problems) {
  fs::path page =
      flags.out.empty() ? fs::path(flags.loop).parent_path() / ("week-" + last.text() + ".html") : fs::path(flags.out);
  if (page.extension() != ".html") {
    problems.add({"--out", 0, 0, "", fmt::format("\"{}\" is no page; name one that ends in .html", flags.out)});
    return std::nullopt;
  }
  Paths p{page.string(), "", ""};
  p.wording = fs::path(page).replace_extension(".md").string();
  p.pdf = fs::path(page).replace_extension(".pdf").string();
  return p;
}

std::optional<std::string> starts_with(const std::string& path, std::size_t bytes) {
  std::ifstream in(path, std::ios::binary);
  if (!in) return std::nullopt;
  std::string start(bytes, ' ');
  in.read(start.data(), static_cast<std::streamsize>(bytes));
  start.resize(static_cast<std::size_t>(in.gcount()));
  return start;
}

/// Written beside it and put in its place when it is whole. Another file than a page of ours is left as it is.
bool write_page(const std::string& path, const std::string& html, std::string& why_not) {
  const auto old = starts_with(path, std::string(kMark).size());
  if (fs::is_directory(path) || (old && !old->empty() && *old != kMark)) {
    why_not = fmt::format(
        "{} is there already and is no page of leat week; it was left as it is. Name another with "
        "--out",
        path);
    return false;
  }
  const std::string part = path + ".part";
  std::error_code failed;
  fs::remove(part, failed);
  if (!write_new_file(part, html, why_not)) return false;
  fs::rename(part, path, failed);
  if (failed) why_not = fmt::format("{} could not be written ({})", path, failed.message());
  return !failed;
}

/// The wording that stands from now on, put in the frame; the loop file's page too unless something is printed.
int write_all(const WeekFlags& flags, const answers::WeekAnswer& week, const Paths& paths, tell::WeekFrame& frame,
              const Clock& clock, bool page) {
  std::string why_not, told;
  auto wording = wording_at(paths.wording, frame.usual, {flags.fresh, flags.wording}, told, why_not);
  if (!wording) return refused("week", why_not);
  frame.wording = std::move(*wording);
  if (!page) return 0;
  fmt::print("{}", told);
  for (const std::string& stale : tell::stale_numbers(week, frame.wording))
    fmt::print("{}: {}. Mend it there, or write it anew with --fresh.\n", paths.wording, stale);
  if (!write_page(paths.page, tell::week_page(week, frame, clock), why_not)) return refused("week", why_not);
  fmt::print("Wrote {}.\n", paths.page);
  if (!flags.pdf) return 0;
  if (!write_pdf(paths.page, paths.pdf, why_not)) {
    refused("week", why_not);
    return 3;
  }
  fmt::print("Wrote {}.\n", paths.pdf);
  return 0;
}

/// What does not fit in that time, by the model of the loop as it is described now. A loop file with mistakes has none.
std::vector<answers::WeekLine> odd_lines(const WeekFlags& flags, const std::vector<record::Entry>& entries,
                                         record::Moment end) {
  Problems problems;
  const auto loop = read_loop(flags.loop, problems);
  if (!loop) return {{"the loop file has mistakes, so what may not fit was not looked for; leat check shows them"}};
  std::vector<record::Entry> until;
  for (const record::Entry& e : entries)
    if (e.from < end) until.push_back(e);
  answers::OddRequest request;
  request.now = end;
  request.days = flags.days;
  std::vector<answers::WeekLine> lines;
  for (const learn::Oddity& odd : answers::odd(*loop, until, request).told) {
    std::string text = (odd.where.empty() ? "" : odd.where + ": ") + odd.what + "; " + odd.reason;
    while (text.ends_with('.')) text.pop_back();
    lines.push_back({text, odd.rests_on});
  }
  return lines;
}

/// What the model sees of the week to come; nothing of a loop file with mistakes, which is told already.
std::vector<answers::WeekLine> lines_ahead(const WeekFlags& flags, const std::vector<record::Entry>& entries,
                                           const CivilDate& last, record::Moment end) {
  Problems problems;
  const auto loop = read_loop(flags.loop, problems);
  if (!loop || !problems.empty()) return {};
  const auto oxygen = answers::oxygen_to_come(*loop, entries, last, end);
  return oxygen ? std::vector{*oxygen} : std::vector<answers::WeekLine>{};
}

void seal_for_page(const WeekFlags& flags) {
  Problems problems;
  if (const auto loop = loop_of_record(flags.loop, flags.now, problems)) seal_by_now(flags.loop, loop->context.now);
}

}  // namespace

int verb_week(const WeekFlags& flags) {
  // A page carries the head, which is to cover the readings of today; what is only printed changes nothing.
  if (!flags.text && !flags.json && !flags.csv) seal_for_page(flags);
  const auto read = read_whole_record(flags.loop, flags.now, "week", true);
  if (!read) return 2;
  const record::Context& context = read->loop.context;
  Problems problems;
  const auto until = time_flag(flags.until, "--until", context, problems);
  if (flags.days < 1 || flags.days > 92)
    problems.add({"--days", 0, 0, "", fmt::format("{} is not from 1 to 92; write such as --days 7", flags.days)});
  if (until && until->from > context.now)
    problems.add({"--until", 0, 0, "", fmt::format("\"{}\" lies ahead; a week is told when it has been", flags.until)});
  const int printed = (flags.text ? 1 : 0) + (flags.json ? 1 : 0) + (flags.csv ? 1 : 0);
  if (printed > 1) problems.add({"leat week", 0, 0, "", "--text, --json and --csv are asked one at a time"});
  if (printed > 0 && (flags.pdf || !flags.out.empty()))
    problems.add({"leat week", 0, 0, "", "--text, --json and --csv write no page, so --out and --pdf have no use"});
  if (flags.fresh && !flags.wording.empty())
    problems.add({"leat week", 0, 0, "", "--fresh and --wording are asked one at a time"});
  if (!problems.empty()) return refused(problems);
  const record::Moment last = until ? until->from : context.now;
  const CivilDate date = context.clock.local(Instant{static_cast<double>(last) / 1000.0}).date;
  const auto paths = paths_of(flags, date, problems);
  if (!paths) return refused(problems);
  const record::Moment end = std::min(context.now, record::moment_of(context.clock, date.plus_days(1), 0.0));
  answers::WeekRequest request{date, flags.days, {}, {}, {}};
  // Two runs of the model that do not need each other: the weeks before, and the one to come.
  auto coming = std::async(std::launch::async, [&] { return lines_ahead(flags, read->entries, date, end); });
  request.odd = odd_lines(flags, read->entries, end);
  request.ahead = coming.get();
  for (const auto& [where, count] : read->loop.fish) request.fish.push_back({where, count});
  const answers::WeekAnswer week = answers::week(read->entries, context, request);
  tell::WeekFrame frame{read->loop.name, read->verified->head, "", "", read->verified->faults};
  frame.usual = tell::week_wording(week, frame.loop, context.clock);
  frame.wording = own_wording(paths->wording).value_or(frame.usual);
  const bool writes = printed == 0 || flags.fresh || !flags.wording.empty();
  if (const int code = writes ? write_all(flags, week, *paths, frame, context.clock, printed == 0) : 0;
      code != 0 || printed == 0)
    return code;
  fmt::print("{}", flags.csv    ? tell::week_csv(week)
                   : flags.json ? tell::week_json(week, frame, context.clock)
                                : tell::week_plain(week, frame));
  return 0;
}

}  // namespace leat::doors
