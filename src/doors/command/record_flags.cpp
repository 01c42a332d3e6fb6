#include "doors/command/record_flags.h"

#include <fmt/core.h>
#include <fmt/format.h>

#include <future>

#include "doors/command/refused.h"
#include "record/sensed.h"

namespace leat::doors {
namespace {

/// Looks at the chain beside other work, by a connection of its own.
std::future<std::variant<record::Verified, record::Trouble>> chain_of(const std::string& loop_file) {
  return std::async(std::launch::async, [loop_file]() -> std::variant<record::Verified, record::Trouble> {
    std::string why_not;
    const auto store = open_record(loop_file, false, why_not);
    if (!store) return record::Trouble{why_not};
    return store->verify_chain();
  });
}

}  // namespace

std::optional<record::Span> time_flag(const std::string& text, const char* flag, const record::Context& context,
                                      Problems& problems) {
  if (text.empty()) return std::nullopt;
  const auto when = record::read_when(text, context.clock, context.now);
  if (const auto* span = std::get_if<record::Span>(&when)) return *span;
  problems.add({flag, 0, 0, "", std::get<record::Trouble>(when).said});
  return std::nullopt;
}

std::string place_flag(const std::string& text, const char* flag, const record::Context& context, Problems& problems) {
  const record::Tokens words = record::tokens_of(text);
  std::size_t at = 0;
  const auto place = record::take_place(context, words, at, words.size());
  if (place && !place->path.empty() && at == words.size()) return place->path;
  const auto near = record::near_places(context, text);
  problems.add({flag, 0, 0, "",
                fmt::format("\"{}\" is no part of the loop file{}", text,
                            near.empty() ? "" : fmt::format("; it has {}", fmt::join(near, ", ")))});
  return "";
}

std::optional<RecordRead> read_whole_record(const std::string& loop_file, const std::string& now, const char* verb,
                                            bool verify) {
  Problems problems;
  auto loop = loop_of_record(loop_file, now, problems);
  if (!loop) {
    refused(problems);
    return std::nullopt;
  }
  std::string why_not;
  const auto store = open_record(loop_file, false, why_not);
  if (!store) {
    refused(verb, why_not);
    return std::nullopt;
  }
  std::future<std::variant<record::Verified, record::Trouble>> chain;
  if (verify) chain = chain_of(loop_file);
  auto found = record::entries_and_sensed(*store, loop->context.clock);
  if (const auto* trouble = std::get_if<record::Trouble>(&found)) {
    refused(verb, trouble->said);
    return std::nullopt;
  }
  RecordRead read{std::move(*loop), std::move(std::get<std::vector<record::Entry>>(found))};
  for (const record::Entry& e : read.entries)
    if (e.what == "planted" || e.what == "substituted") read.loop.context.crops.push_back(e.subject);
  if (!verify) return read;
  auto looked = chain.get();
  if (const auto* trouble = std::get_if<record::Trouble>(&looked)) {
    refused(verb, trouble->said);
    return std::nullopt;
  }
  read.verified = std::move(std::get<record::Verified>(looked));
  return read;
}

}  // namespace leat::doors
