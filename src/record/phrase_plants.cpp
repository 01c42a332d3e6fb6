// Amounts and counts within a phrase, and what is done with plants.
#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "base/units/parse.h"
#include "record/crops.h"
#include "record/phrase_parts.h"

namespace leat::record {
namespace {

/// "bag" of "3 bags of rocket": what plants are put in, and no number of plants.
bool is_container(std::string_view word) {
  static constexpr std::array words = {
      "bag",     "bags",    "bunch",    "bunches", "box",   "boxes", "punnet", "punnets", "crate", "crates", "basket",
      "baskets", "handful", "handfuls", "tray",    "trays", "tub",   "tubs",   "bowl",    "bowls", "bundle", "bundles"};
  return std::find(words.begin(), words.end(), word) != words.end();
}

bool has_kind(const Amount& a, char kind) {
  return kind_of_unit(a.unit) == kind;
}

/// "harvested chard 118 142 96 g": a row of weights, each of one plant. The last stays in the entry, those before it go
/// in front of it.
bool take_row_of_weights(Cursor& c, Entry& e, Clause& clause) {
  if (!c.is_number() || !c.is_number(1)) return false;
  std::vector<double> row;
  while (c.is_number(1)) row.push_back(*c.tokens[c.at++].number);
  if (!take_measured(c, e, clause, "m", "g")) return false;
  e.count = 1.0;
  for (const double weight : row) {
    clause.entries.push_back(e);
    clause.entries.back().amount.low = clause.entries.back().amount.high = weight;
  }
  return true;
}

/// "3 bags of": how many containers, and in what words.
struct Containers {
  double count = 0.0;
  std::string said;
};
std::optional<Containers> take_containers(Cursor& c) {
  const std::size_t from = c.at;
  const auto count = take_count(c);
  if (!(count || c.take("a")) || !is_container(c.plain())) {
    c.at = from;
    return std::nullopt;
  }
  ++c.at;
  Containers found{count.value_or(1.0), c.words(from, c.at)};
  c.take("of");
  return found;
}

/// Of containers the grams are kept: how many plants lay in them nobody said.
void read_contained(Cursor& c, Entry& e, Clause& clause, const Containers& containers) {
  e.subject = take_subject(c);
  c.take(":");
  take_mass_behind(c, e, clause);
  if (!e.amount.low) return clause.doubted("how much do they weigh together?", "");
  if (e.amount.basis == "each")
    for (auto* end : {&e.amount.low, &e.amount.high})
      if (*end) **end *= containers.count;
  e.amount.basis.clear();
  clause.taken.push_back(containers.said + " as no number of plants");
}

}  // namespace

std::optional<double> take_count(Cursor& c) {
  if (c.is_number()) {
    // A number with a unit is an amount, not a count.
    std::size_t at = c.at + 1;
    if (!take_unit(c.tokens, at, c.end).unit.empty()) return std::nullopt;
    return c.tokens[c.at++].number;
  }
  const auto n = c.done() ? std::nullopt : number_word(c.plain());
  if (n) ++c.at;
  return n;
}

bool take_measured(Cursor& c, Entry& e, Clause& clause, std::string_view kinds, std::string_view unit) {
  const auto said = take_amount(c.tokens, c.at, c.end);
  if (!said) return false;
  e.amount = said->amount;
  const std::string before = c.words(c.start, c.start + 1);
  if (!said->doubt.empty()) clause.doubted(said->doubt, "");
  if (kinds.find(kind_of_unit(e.amount.unit)) == std::string_view::npos || e.amount.unit.empty()) {
    const Amount bare{e.amount.low, e.amount.high, std::string(unit), "", e.amount.about};
    // A unit of one's own, as "scoops", is no number of grams.
    clause.doubted(e.amount.unit.empty() ? "in what unit?" : fmt::format("{} does not fit here", e.amount.unit),
                   c.at_break() ? fmt::format("{} {}", before, amount_text(bare)) : "");
  }
  return true;
}

void take_mass_behind(Cursor& c, Entry& e, Clause& clause) {
  const std::size_t back = c.at;
  c.take(",");
  c.take_any({"of", "at", "weighing"});
  std::size_t i = c.at;
  const auto said = take_amount(c.tokens, i, c.end);
  if (!said || !has_kind(said->amount, 'm')) {
    c.at = back;
    return;
  }
  c.at = i;
  e.amount = said->amount;
  if (!said->doubt.empty()) clause.doubted(said->doubt, "");
  if (c.take("each")) {
    e.amount.basis = "each";
  } else if (c.take_any({"together", "total", "altogether"})) {
    e.amount.basis = "together";
  } else if (c.plain() == "in" && c.plain(1) == "all") {
    c.at += 2;
    e.amount.basis = "together";
  }
}

void read_planted(Cursor& c, Entry& e, Clause& clause) {
  e.count = take_count(c);
  c.take("x");
  e.subject = take_subject(c);
  if (e.subject.empty()) clause.doubted("planted what?", "planted 12 rocket in BED");
}

void read_harvested(Cursor& c, Entry& e, Clause& clause) {
  if (const auto containers = take_containers(c)) return read_contained(c, e, clause, *containers);
  if (!(e.count = take_count(c))) take_measured(c, e, clause, "m", "g");
  c.take("of");
  e.subject = take_subject(c);
  c.take(":");
  if (!e.count && !e.amount.low && take_row_of_weights(c, e, clause)) return;
  take_mass_behind(c, e, clause);
  const std::string verb = c.words(c.start, c.start + 1);
  if (e.subject.empty()) clause.doubted("of what?", c.words(c.start, c.at) + " lettuce");
  if (!e.count && !e.amount.low) clause.doubted("how much?", fmt::format("{} 1.2 kg {}", verb, e.subject));
}

/// "450 g rocket", "3 bags of rocket 450 g": a crop and its weight, without what was done with it.
bool names_a_crop_and_its_weight(Cursor c) {
  Entry e;
  Clause clause;
  e.what = "harvested";
  read_harvested(c, e, clause);
  std::string crop = e.subject;
  for (const std::string_view end : {" plants", " plant"})
    if (crop.ends_with(end)) crop.resize(crop.size() - end.size());
  const bool known = is_crop(crop, c.context.crops) || !likely_crop(crop, c.context.crops).empty();
  return clause.doubt.empty() && known && (e.amount.low || !clause.entries.empty()) && c.at_break();
}

}  // namespace leat::record
