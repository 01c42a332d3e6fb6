#include <fmt/core.h>

#include <algorithm>
#include <filesystem>

#include "answers/note.h"
#include "doors/command/record_file.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "record/photo.h"
#include "record/when.h"
#include "tell/record_text.h"

namespace leat::doors {
namespace {

/// Words typed without quotes are one phrase; arguments that hold blanks are each one.
std::vector<std::string> phrases_of(const std::vector<std::string>& words) {
  const bool quoted = std::any_of(words.begin(), words.end(),
                                  [](const std::string& w) { return w.find_first_of(" \n") != std::string::npos; });
  if (quoted) return words;
  std::string one;
  for (const std::string& w : words) one += (one.empty() ? "" : " ") + w;
  return {one};
}

/// The word that ends like a loop's file is one.
std::string take_loop_file(std::vector<std::string>& words) {
  const auto found = std::find_if(words.begin(), words.end(), [](const std::string& w) {
    return w.ends_with(".toml") && w.find(' ') == std::string::npos;
  });
  if (found == words.end()) return "loop.toml";
  std::string file = *found;
  words.erase(found);
  return file;
}

void take_time(const std::string& at, record::Context& context, Problems& problems) {
  if (at.empty()) return;
  const auto when = record::read_when(at, context.clock, context.now);
  if (const auto* trouble = std::get_if<record::Trouble>(&when)) return problems.add({"--at", 0, 0, "", trouble->said});
  const record::Span span = std::get<record::Span>(when);
  if (span.from > context.now)
    return problems.add({"--at", 0, 0, "", fmt::format("\"{}\" lies ahead; the record holds what has been", at)});
  context.from = span.from;
  context.to = span.to;
}

void print(const answers::NoteAnswer& answer, const NoteFlags& flags, const LoopOfRecord& loop,
           const std::string& file) {
  if (flags.json) {
    fmt::print("{}", tell::note_json(answer, loop.context.clock));
    return;
  }
  fmt::print("{}", tell::note_text(answer, loop.context.clock, file));
  if (loop.mistakes > 0)
    fmt::print("{} cannot be read without mistakes (leat check {} shows them); what could be read of it was used.\n",
               file, file);
}

/// Photos are on the disk before the record speaks of them.
std::optional<record::Trouble> take_photos(const std::string& file, const NoteFlags& flags,
                                           const record::Context& context, answers::NoteRequest& request) {
  std::vector<record::Photo> photos;
  for (const std::string& path : flags.photos) {
    auto read = record::read_photo(path);
    if (const auto* trouble = std::get_if<record::Trouble>(&read)) return *trouble;
    photos.push_back(std::move(std::get<record::Photo>(read)));
  }
  for (std::size_t i = 0; i < photos.size(); ++i) {
    if (!flags.dry)
      if (auto trouble = record::keep_photo(photos[i], record::photo_folder(record_path(file)))) return trouble;
    request.photos.push_back(record::photo_entry(photos[i], flags.photos[i], record::usual_place(context),
                                                 context.from.value_or(context.now), context.to.value_or(context.now),
                                                 context.now));
  }
  return std::nullopt;
}

int keep(const std::string& file, LoopOfRecord& loop, const NoteFlags& flags, const answers::NoteRequest& request) {
  std::optional<record::Store> store;
  std::error_code none;
  if (!request.dry || std::filesystem::exists(record_path(file), none)) {
    auto opened = request.dry ? record::Store::open_to_read(record_path(file)) : record::Store::open(record_path(file));
    if (const auto* trouble = std::get_if<record::Trouble>(&opened)) return refused("note", trouble->said);
    store = std::move(std::get<record::Store>(opened));
    loop.context.resets = answers::resets_in(*store, loop.context.now);
  }
  const auto answer = answers::note(store ? &*store : nullptr, loop.context, request);
  if (const auto* trouble = std::get_if<record::Trouble>(&answer)) return refused("note", trouble->said);
  print(std::get<answers::NoteAnswer>(answer), flags, loop, file);
  return 0;
}

}  // namespace

int verb_note(const NoteFlags& flags) {
  Problems problems;
  std::vector<std::string> words = flags.words;
  const std::string file = take_loop_file(words);
  const auto phrases = phrases_of(words);
  if ((words.empty() || phrases[0].empty()) && flags.photos.empty())
    problems.add({"leat note", 0, 0, "",
                  fmt::format("says nothing to note; write for example: leat note {} \"fed 60 g\"", file)});
  if (!flags.key.empty() && (flags.key.size() < 8 || flags.key.size() > 64))
    problems.add({"--key", 0, 0, "",
                  fmt::format("\"{}\" is not 8 to 64 letters long; write such as 20261125-0741-a", flags.key)});
  auto loop = loop_of_record(file, flags.now, problems);
  if (loop) take_time(flags.at, loop->context, problems);
  if (!problems.empty()) return refused(problems);
  answers::NoteRequest request{phrases, flags.kit, loop->text, flags.dry, flags.key, loop->fish_grams, {}};
  if (words.empty()) request.phrases.clear();
  if (const auto trouble = take_photos(file, flags, loop->context, request)) return refused("note", trouble->said);
  return keep(file, *loop, flags, request);
}

}  // namespace leat::doors
