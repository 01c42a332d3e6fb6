#include "answers/note.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <optional>

#include "answers/plantings.h"
#include "base/words/letters.h"
#include "record/crops.h"
#include "record/phrase_parts.h"

namespace leat::answers {
namespace {

record::Entry chapter_of(const record::Context& context, const std::string& description) {
  record::Entry e;
  e.noted = e.from = e.to = context.now;
  e.kind = record::Kind::chapter;
  e.what = "begun";
  e.subject = "the record begins";
  e.description = description;
  return e;
}

/// The last chapter, if there is one.
std::variant<std::vector<record::Entry>, record::Trouble> last_chapter(const record::Store& store) {
  return store.entries({.what = "chapter", .latest = 1});
}

std::vector<record::Understood> read_all(const record::Context& context, const NoteRequest& request) {
  std::vector<record::Understood> all;
  for (const std::string& phrase : request.phrases)
    for (record::Understood& u : record::read_phrase(phrase, context)) {
      for (record::Entry& e : u.entries) {
        if (e.kind == record::Kind::reading && e.instrument.empty()) e.instrument = request.instrument;
        if (e.kind == record::Kind::chapter) e.description = request.description;
      }
      all.push_back(std::move(u));
    }
  const record::Entry* first = all.empty() || all[0].entries.empty() ? nullptr : &all[0].entries[0];
  std::vector<record::Understood> photos;
  for (record::Entry e : request.photos) {
    if (first) e.where = first->where;
    photos.push_back({{std::move(e)}, "", "", {}});
  }
  std::move(photos.begin(), photos.end(), std::back_inserter(all));
  return all;
}

bool speaks_of_plants(const record::Entry& e, const record::Context& context) {
  static constexpr std::array deeds = {"planted", "substituted", "harvested", "sold", "died"};
  const bool deed = std::find(deeds.begin(), deeds.end(), e.what) != deeds.end();
  return deed && !e.subject.empty() && !e.where.starts_with("tank.") && !record::is_fish(context, e.subject);
}

/// "rocket" of "substitute rocket plants".
std::string crop_in(std::string subject) {
  for (const std::string_view front : {"substitute ", "replacement "})
    if (subject.starts_with(front)) subject.erase(0, front.size());
  for (const std::string_view end : {" plants", " plant", " seedlings", " seedling"})
    if (subject.ends_with(end)) subject.resize(subject.size() - end.size());
  return subject;
}

/// The phrase with a word for another; empty when it does not stand in it as it was read.
std::string with_instead(const std::string& phrase, const std::string& word, const std::string& instead) {
  const std::size_t at = words::in_small_letters(phrase).find(word);
  return at == std::string::npos ? "" : std::string(phrase).replace(at, word.size(), instead);
}

/// What was written for a crop is kept as written. Where it is near another the question is told with it.
void ask_for_crops(const record::Store* store, const record::Context& context, NoteAnswer& answer) {
  std::optional<std::vector<std::string>> own;
  for (record::Understood& u : answer.understood) {
    if (!u.doubt.empty() || u.entries.empty() || !speaks_of_plants(u.entries[0], context)) continue;
    const std::string crop = crop_in(u.entries[0].subject);
    if (!own) {
      own = context.crops;
      if (store) std::ranges::copy(crops_in(*store), std::back_inserter(*own));
    }
    const std::string likely = record::likely_crop(crop, *own);
    if (likely.empty()) continue;
    u.ask = fmt::format("is \"{}\" {}?", crop, likely);
    u.offer = with_instead(u.entries[0].said, crop, likely);
  }
}

/// A feed of a third of the fish's own weight is a slip of the unit, of which the likeliest is offered.
void ask_for_feed(double fish_grams, NoteAnswer& answer) {
  for (record::Understood& u : answer.understood) {
    if (u.entries.size() != 1 || u.entries[0].what != "fed" || fish_grams <= 0.0) continue;
    const record::Entry& e = u.entries[0];
    const auto grams = grams_of(e.amount);
    if (!grams || *grams < fish_grams / 3.0) continue;
    u.ask = fmt::format("that is {:.0f} % of what the fish weigh by the loop file", 100.0 * *grams / fish_grams);
    if (e.amount.unit == "kg") {
      u.ask += "; was it grams?";
      u.offer = with_instead(e.said, "kg", "g");
    } else {
      u.ask += "; is the number right?";
    }
  }
}

/// Puts all entries in at once, then gives each its number.
std::optional<record::Trouble> keep(record::Store& store, std::vector<record::Entry> first, const std::string& key,
                                    NoteAnswer& answer) {
  const std::size_t before = first.size();
  for (const record::Understood& u : answer.understood)
    for (const record::Entry& e : u.entries) first.push_back(e);
  if (const auto trouble = store.append(first, key)) return trouble;
  answer.chapter = before > 0 ? first.front().number : 0;
  std::size_t at = before;
  for (record::Understood& u : answer.understood)
    for (record::Entry& e : u.entries) e = first[at++];
  return std::nullopt;
}

}  // namespace

namespace {

/// What was kept under a key before, as an answer.
std::variant<std::optional<NoteAnswer>, record::Trouble> kept_before(const record::Store& store,
                                                                     const std::string& key) {
  if (key.empty()) return std::nullopt;
  auto sent = store.sent(key);
  if (const auto* trouble = std::get_if<record::Trouble>(&sent)) return *trouble;
  auto& entries = std::get<std::optional<std::vector<record::Entry>>>(sent);
  if (!entries) return std::nullopt;
  NoteAnswer answer;
  answer.again = true;
  if (entries->front().what == "begun") {
    answer.chapter = entries->front().number;
    entries->erase(entries->begin());
  }
  answer.understood.push_back({std::move(*entries), "", "", {}});
  return answer;
}

}  // namespace

std::vector<record::Reset> resets_in(const record::Store& store, record::Moment now) {
  std::vector<record::Reset> resets;
  const auto found = store.entries({.since = now - record::kLongestWindow, .what = "reading"});
  if (const auto* entries = std::get_if<std::vector<record::Entry>>(&found))
    for (const record::Entry& e : *entries)
      if (!e.extreme.empty() && e.from == e.to) resets.push_back({e.what, e.where, e.from});
  return resets;
}

std::vector<std::string> crops_in(const record::Store& store) {
  std::vector<std::string> crops;
  for (const char* deed : {"planted", "substituted"}) {
    const auto found = store.entries({.what = deed});
    if (const auto* entries = std::get_if<std::vector<record::Entry>>(&found))
      for (const record::Entry& e : *entries) crops.push_back(crop_in(e.subject));
  }
  std::sort(crops.begin(), crops.end());
  crops.erase(std::unique(crops.begin(), crops.end()), crops.end());
  std::erase(crops, "");
  return crops;
}

std::variant<NoteAnswer, record::Trouble> note(record::Store* store, const record::Context& context,
                                               const NoteRequest& request) {
  NoteAnswer answer;
  answer.dry = request.dry || !store;
  answer.understood = read_all(context, request);
  ask_for_crops(store, context, answer);
  ask_for_feed(request.fish_grams, answer);
  if (answer.dry || answer.understood.empty()) return answer;
  auto kept = kept_before(*store, request.key);
  if (const auto* trouble = std::get_if<record::Trouble>(&kept)) return *trouble;
  if (auto& earlier = std::get<std::optional<NoteAnswer>>(kept)) return std::move(*earlier);
  const auto before = last_chapter(*store);
  if (const auto* trouble = std::get_if<record::Trouble>(&before)) return *trouble;
  const bool none = std::get<std::vector<record::Entry>>(before).empty();
  if (const auto trouble =
          keep(*store, none ? std::vector{chapter_of(context, request.description)} : std::vector<record::Entry>{},
               request.key, answer))
    return *trouble;
  const auto now = last_chapter(*store);
  const auto* chapter = std::get_if<std::vector<record::Entry>>(&now);
  if (!chapter || chapter->empty()) return answer;
  answer.loop_changed = chapter->front().description != record::clean_text(request.description);
  return answer;
}

}  // namespace leat::answers
