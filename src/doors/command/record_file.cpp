#include "doors/command/record_file.h"

#include <fmt/core.h>

#include <chrono>
#include <filesystem>

#include "doors/command/files.h"
#include "record/seal.h"
#include "record/when.h"

namespace leat::doors {
namespace {

record::Moment by_this_clock() {
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  return std::chrono::duration_cast<std::chrono::milliseconds>(now).count();
}

}  // namespace

std::string record_path(const std::string& loop_file) {
  std::filesystem::path path(loop_file);
  return path.replace_extension(".record.db").string();
}

std::optional<LoopOfRecord> loop_of_record(const std::string& loop_file, const std::string& now, Problems& problems) {
  const auto text = read_file(loop_file, problems);
  if (!text) return std::nullopt;
  Problems mistakes;
  const model::Description description = model::read_description(*text, loop_file, mistakes);
  const model::Loop made = model::make_loop(description, mistakes);
  const Clock& clock = made.site.place.clock;
  LoopOfRecord loop{*text, record::context_of(description, clock, by_this_clock()), made.name, mistakes.size()};
  for (const model::FishGroup& group : made.fish)
    if (group.vessel >= 0 && group.vessel < static_cast<int>(made.vessels.size()))
      loop.fish[made.vessels[static_cast<std::size_t>(group.vessel)].path] += group.count;
  for (const model::FishGroup& group : made.fish) loop.fish_grams += 1e3 * group.count * group.mass.si();
  if (now.empty()) return loop;
  const auto when = record::read_when(now, clock, loop.context.now);
  if (const auto* trouble = std::get_if<record::Trouble>(&when)) {
    problems.add({"--now", 0, 0, "", trouble->said});
    return std::nullopt;
  }
  loop.context.now = std::get<record::Span>(when).from;
  return loop;
}

void seal_by_now(const std::string& loop_file, record::Moment now) {
  std::string why_not;
  if (auto store = open_record(loop_file, true, why_not)) (void)record::seal_all(*store, now);
}

std::optional<record::Store> open_record(const std::string& loop_file, bool to_write, std::string& why_not) {
  const std::string path = record_path(loop_file);
  std::error_code none;
  if (!std::filesystem::exists(path, none)) {
    why_not = fmt::format("{} is not there: nothing has been noted yet. Begin with: leat note {} \"fed 60 g\"", path,
                          loop_file);
    return std::nullopt;
  }
  auto store = to_write ? record::Store::open(path) : record::Store::open_to_read(path);
  if (const auto* trouble = std::get_if<record::Trouble>(&store)) {
    why_not = trouble->said;
    return std::nullopt;
  }
  return std::move(std::get<record::Store>(store));
}

}  // namespace leat::doors
