#include "record/entry.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "base/time/civil.h"
#include "base/units/parse.h"

namespace leat::record {
namespace {

constexpr std::array<std::pair<Kind, std::string_view>, 5> kKinds = {{{Kind::reading, "reading"},
                                                                      {Kind::deed, "deed"},
                                                                      {Kind::chapter, "chapter"},
                                                                      {Kind::text, "text"},
                                                                      {Kind::withdrawn, "withdrawn"}}};

std::string number_text(const std::optional<double>& number) {
  return number ? shortest(*number) : "";
}

std::optional<std::int64_t> read_whole(const std::string& text) {
  std::int64_t value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (read.ec != std::errc{} || read.ptr != text.data() + text.size()) return std::nullopt;
  return value;
}

constexpr Moment kFarthest = 253'402'300'800'000;  // the year 10000

std::optional<Moment> read_moment(const std::string& text) {
  const auto read = read_time(text);
  const auto* time = std::get_if<ReadTime>(&read);
  if (!time || !time->utc_offset_hours) return std::nullopt;
  const double hours = time->local.hour - *time->utc_offset_hours;
  const double ms = 86'400'000.0 * time->local.date.serial() + 3'600'000.0 * hours;
  return std::clamp<Moment>(std::llround(ms), -kFarthest, kFarthest);
}

/// A text field, or null when the name is of another kind.
std::string* text_field(Entry& e, std::string_view name) {
  const std::pair<std::string_view, std::string*> fields[] = {{"what", &e.what},
                                                              {"where", &e.where},
                                                              {"towards", &e.towards},
                                                              {"subject", &e.subject},
                                                              {"unit", &e.amount.unit},
                                                              {"basis", &e.amount.basis},
                                                              {"extreme", &e.extreme},
                                                              {"instrument", &e.instrument},
                                                              {"said", &e.said},
                                                              {"why", &e.why},
                                                              {"description", &e.description}};
  for (const auto& [known, field] : fields)
    if (known == name) return field;
  return nullptr;
}

std::optional<double>* number_field(Entry& e, std::string_view name) {
  if (name == "count") return &e.count;
  if (name == "low") return &e.amount.low;
  if (name == "high") return &e.amount.high;
  return nullptr;
}

std::optional<Trouble> set_moment(Entry& e, std::string_view name, const std::string& text) {
  const auto moment = read_moment(text);
  if (!moment) return Trouble{fmt::format("\"{}\" is no time; write such as \"2026-11-25T07:41:00.000Z\"", text)};
  if (name == "noted") e.noted = *moment;
  if (name == "from") e.from = *moment;
  if (name == "to") e.to = *moment;
  if (name == "since") e.since = *moment;
  return std::nullopt;
}

std::optional<Trouble> set_whole(Entry& e, std::string_view name, const std::string& text) {
  const auto whole = read_whole(text);
  if (!whole || *whole < 1) return Trouble{fmt::format("\"{}\" is no number of an entry", text)};
  if (name == "number")
    e.number = *whole;
  else
    e.supersedes = *whole;
  return std::nullopt;
}

}  // namespace

std::string_view word_for(Kind kind) {
  for (const auto& [k, word] : kKinds)
    if (k == kind) return word;
  return "text";
}

std::optional<Kind> kind_of(std::string_view word) {
  for (const auto& [kind, known] : kKinds)
    if (known == word) return kind;
  return std::nullopt;
}

std::string utc_text(Moment moment) {
  const Moment day = moment >= 0 ? moment / 86'400'000 : -((86'399'999 - moment) / 86'400'000);
  const Moment rest = moment - day * 86'400'000;
  return fmt::format("{}T{:02}:{:02}:{:02}.{:03}Z", CivilDate{}.plus_days(static_cast<int>(day)).text(),
                     rest / 3'600'000, rest / 60'000 % 60, rest / 1000 % 60, rest % 1000);
}

Fields fields_of(const Entry& e) {
  return {{"number", std::to_string(e.number)},
          {"noted", utc_text(e.noted)},
          {"from", utc_text(e.from)},
          {"to", utc_text(e.to)},
          {"kind", std::string(word_for(e.kind))},
          {"what", e.what},
          {"where", e.where},
          {"towards", e.towards},
          {"subject", e.subject},
          {"count", number_text(e.count)},
          {"low", number_text(e.amount.low)},
          {"high", number_text(e.amount.high)},
          {"unit", e.amount.unit},
          {"basis", e.amount.basis},
          {"about", e.amount.about ? "1" : ""},
          {"extreme", e.extreme},
          {"since", e.since ? utc_text(*e.since) : ""},
          {"instrument", e.instrument},
          {"said", e.said},
          {"supersedes", e.supersedes ? std::to_string(*e.supersedes) : ""},
          {"why", e.why},
          {"description", e.description}};
}

const std::vector<std::string_view>& field_names() {
  static const std::vector<std::string_view> names = [] {
    std::vector<std::string_view> all;
    for (const auto& field : fields_of(Entry{})) all.push_back(field.first);
    return all;
  }();
  return names;
}

bool is_number(std::string_view field) {
  return field == "number" || field == "count" || field == "low" || field == "high" || field == "supersedes";
}

std::optional<Trouble> set_field(Entry& e, std::string_view name, const std::string& text) {
  if (text.empty()) return std::nullopt;
  if (name == "number" || name == "supersedes") return set_whole(e, name, text);
  if (name == "noted" || name == "from" || name == "to" || name == "since") return set_moment(e, name, text);
  if (std::string* field = text_field(e, name)) {
    *field = clean_text(text);
    return std::nullopt;
  }
  if (std::optional<double>* field = number_field(e, name)) {
    const auto read = read_number(text);
    if (const auto* bad = std::get_if<Unreadable>(&read)) return Trouble{fmt::format("\"{}\" {}", text, bad->wrong)};
    *field = std::get<double>(read);
    return std::nullopt;
  }
  if (name == "about") {
    e.amount.about = text == "1";
    return std::nullopt;
  }
  if (name == "kind") {
    const auto kind = kind_of(text);
    if (!kind) return Trouble{fmt::format("\"{}\" is no kind; write reading, deed, chapter, text or withdrawn", text)};
    e.kind = *kind;
    return std::nullopt;
  }
  return Trouble{fmt::format("no field is called \"{}\"", name)};
}

std::optional<Trouble> fault_of(const Entry& e) {
  if (e.number < 1) return Trouble{"has no number; leave the table as it was exported"};
  if (e.from == 0 || e.noted == 0) return Trouble{"has no time in \"from\" or \"noted\""};
  if (e.to < e.from) return Trouble{"ends before it begins: \"to\" is before \"from\""};
  if (e.what.empty()) return Trouble{"has nothing in \"what\""};
  if (e.amount.low && e.amount.high && *e.amount.high < *e.amount.low) return Trouble{"has a low above its high"};
  if (!e.extreme.empty() && e.extreme != "min" && e.extreme != "max")
    return Trouble{fmt::format("has \"{}\" for min or max", e.extreme)};
  if (e.supersedes && *e.supersedes >= e.number) return Trouble{"corrects an entry that comes after it"};
  return std::nullopt;
}

namespace {

/// How many bytes the character at the front takes, 0 if they are no UTF-8 (surrogates, overlong forms, cut off).
std::size_t utf8_length(std::string_view s) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(s[i]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return 1;
  const std::size_t n = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4 || s.size() < n) return 0;
  for (std::size_t i = 1; i < n; ++i)
    if ((byte(i) & 0xC0) != 0x80) return 0;
  const bool overlong = (first == 0xE0 && byte(1) < 0xA0) || (first == 0xF0 && byte(1) < 0x90);
  const bool beyond = (first == 0xED && byte(1) > 0x9F) || (first == 0xF4 && byte(1) > 0x8F);
  return overlong || beyond ? 0 : n;
}

}  // namespace

std::string clean_text(std::string_view text) {
  std::string clean;
  while (!text.empty()) {
    const std::size_t n = utf8_length(text);
    const auto c = static_cast<unsigned char>(text.front());
    const bool control = n == 1 && (c < 0x20 || c == 0x7F) && c != '\n' && c != '\r' && c != '\t';
    if (n == 0 || control)
      clean += "\xEF\xBF\xBD";
    else
      clean += text.substr(0, n);
    text.remove_prefix(std::max<std::size_t>(n, 1));
  }
  return clean;
}

}  // namespace leat::record
