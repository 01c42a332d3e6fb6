#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "base/units/parse.h"
#include "record/phrase_parts.h"

namespace leat::record {
namespace {

using Reader = void (*)(Cursor&, Entry&, Clause&);

bool has_kind(const Amount& a, char kind) {
  return kind_of_unit(a.unit) == kind;
}

bool is_feed_word(std::string_view word) {
  return word == "feed" || word == "food" || word == "pellets" || word == "pellet" || word == "crumble" ||
         word == "flakes" || word == "meal";
}

void read_fed(Cursor& c, Entry& e, Clause& clause) {
  e.where = usual_place(c.context);
  c.take("the");
  while (!c.done() && is_fish(c.context, std::string(c.plain()))) ++c.at;
  if (c.take_any({"nothing", "none"})) {
    e.amount = {0.0, 0.0, "g", "", false};
    return;
  }
  if (!take_measured(c, e, clause, "m", "g")) return clause.doubted("how much?", "fed 60 g");
  if (c.take("of") || is_feed_word(c.plain())) e.subject = take_subject(c);
}

void read_topped_up(Cursor& c, Entry& e, Clause& clause) {
  c.take("up");
  c.take_any({"with", "by"});
  if (!take_measured(c, e, clause, "v", "L")) return clause.doubted("how much?", "topped up 40 L");
  c.take("of");
  e.subject = take_subject(c);
  if (e.subject == "water") e.subject.clear();
}

void read_changed(Cursor& c, Entry& e, Clause& clause) {
  c.take_any({"water", "of"});
  if (!take_measured(c, e, clause, "v%", "L")) return clause.doubted("changed what, how much?", "changed 200 L");
  c.take("of");
  if (const std::string subject = take_subject(c); subject != "water") e.subject = subject;
}

void read_dosed(Cursor& c, Entry& e, Clause& clause) {
  if (!take_measured(c, e, clause, "mv", "g")) {
    e.subject = take_subject(c);
    if (!take_measured(c, e, clause, "mv", "g"))
      return clause.doubted("how much of what?",
                            fmt::format("dosed 30 g {}", e.subject.empty() ? "potassium bicarbonate" : e.subject));
    return;
  }
  c.take("of");
  e.subject = take_subject(c);
  if (e.subject.empty())
    clause.doubted("of what?", fmt::format("dosed {} potassium bicarbonate", amount_text(e.amount)));
}

void read_stocked(Cursor& c, Entry& e, Clause& clause) {
  e.where = usual_place(c.context);
  e.count = take_count(c);
  e.subject = take_subject(c);
  if (!e.count) return clause.doubted("how many?", "stocked 40 trout of 60 g each");
  c.take("of");
  if (take_measured(c, e, clause, "m", "g")) e.amount.basis = c.take_any({"together", "total"}) ? "together" : "each";
  c.take("each");
}

/// "added 40 L" is water, "added 20 fish" is stock, the rest is a dose.
void read_added(Cursor& c, Entry& e, Clause& clause) {
  const std::size_t back = c.at;
  const auto said = take_amount(c.tokens, c.at, c.end);
  const bool volume = said && has_kind(said->amount, 'v'), bare = said && said->amount.unit.empty();
  c.take("of");
  const std::string subject = take_subject(c);
  c.at = back;
  if (volume && (subject.empty() || subject == "water")) {
    e.what = "topped_up";
    return read_topped_up(c, e, clause);
  }
  if (bare && is_fish(c.context, subject)) {
    e.what = "stocked";
    return read_stocked(c, e, clause);
  }
  e.what = "dosed";
  read_dosed(c, e, clause);
}

void read_moved(Cursor& c, Entry& e, Clause& clause) {
  c.take_any({"the", "all"});
  e.count = take_count(c);
  c.take("the");
  e.subject = take_subject(c);
  while (!c.at_break() && clause.doubt.empty() && take_where(c, e, clause)) {
  }
  if (e.subject.empty()) clause.doubted("moved what?", "moved 20 fish to tank.NAME");
  if (e.towards.empty()) {
    const auto all = near_places(c.context, "");
    clause.doubted("moved to where?",
                   fmt::format("{} to {}", c.words(c.start, c.at), all.empty() ? "tank.NAME" : all[0]));
  }
}

void read_died(Cursor& c, Entry& e, Clause& clause) {
  if (!e.count) {
    c.take_any({":", "="});
    e.count = take_count(c);
    c.take_any({"dead", "died"});
  }
  if (e.subject.empty()) e.subject = take_subject(c);
  if (!e.count) return clause.doubted("how many?", "2 dead");
  if (is_fish(c.context, e.subject) || e.subject.empty()) e.where = usual_place(c.context);
  take_mass_behind(c, e, clause);
  if (e.amount.low && e.amount.basis.empty() && e.count > 1.0) clause.taken.push_back("each or together was not said");
}

void read_weighed(Cursor& c, Entry& e, Clause& clause) {
  e.where = usual_place(c.context);
  e.count = take_count(c);
  e.subject = take_subject(c);
  take_mass_behind(c, e, clause);
  if (!e.count || !e.amount.low) clause.doubted("how many, how heavy?", "weighed 12 fish 940 g together");
  if (e.amount.basis.empty() && e.count > 1.0)
    clause.doubted("each or together?", c.words(c.start, c.at) + " together");
}

void read_cleaned(Cursor& c, Entry& e, Clause& clause) {
  c.take("the");
  const std::size_t from = c.at;
  take_where(c, e, clause);
  if (c.at == from) e.subject = take_subject(c);
  if (e.subject.empty() && e.where.empty()) clause.doubted("cleaned what?", "cleaned the strainer");
}

void read_chapter(Cursor& c, Entry& e, Clause&) {
  c.take_any({":", ","});
  e.kind = Kind::chapter;
  e.subject = c.words(c.at, c.end);
  c.at = c.end;
}

void read_weather(Cursor& c, Entry& e, Clause& clause) {
  c.take(":");
  e.where = "outside";
  e.subject = c.words(c.at, c.end);
  c.at = c.end;
  if (e.subject.empty()) clause.doubted("what weather?", "weather min 4 max 12 clear light wind");
}

void read_rain(Cursor& c, Entry& e, Clause& clause) {
  e.where = "outside";
  e.subject = "rain";
  take_measured(c, e, clause, "l", "mm");
}

struct DeedWord {
  std::string_view said, what;
  Reader read;
};
constexpr std::array kDeeds = {DeedWord{"fed", "fed", read_fed},
                               DeedWord{"feed", "fed", read_fed},
                               DeedWord{"topped", "topped_up", read_topped_up},
                               DeedWord{"top", "topped_up", read_topped_up},
                               DeedWord{"topup", "topped_up", read_topped_up},
                               DeedWord{"top-up", "topped_up", read_topped_up},
                               DeedWord{"topped-up", "topped_up", read_topped_up},
                               DeedWord{"changed", "changed_water", read_changed},
                               DeedWord{"dosed", "dosed", read_dosed},
                               DeedWord{"dose", "dosed", read_dosed},
                               DeedWord{"added", "added", read_added},
                               DeedWord{"add", "added", read_added},
                               DeedWord{"stocked", "stocked", read_stocked},
                               DeedWord{"stock", "stocked", read_stocked},
                               DeedWord{"moved", "moved", read_moved},
                               DeedWord{"move", "moved", read_moved},
                               DeedWord{"planted", "planted", read_planted},
                               DeedWord{"plant", "planted", read_planted},
                               DeedWord{"transplanted", "planted", read_planted},
                               DeedWord{"sowed", "planted", read_planted},
                               DeedWord{"sown", "planted", read_planted},
                               DeedWord{"substituted", "substituted", read_planted},
                               DeedWord{"replaced", "substituted", read_planted},
                               DeedWord{"died", "died", read_died},
                               DeedWord{"dead", "died", read_died},
                               DeedWord{"lost", "died", read_died},
                               DeedWord{"found", "died", read_died},
                               DeedWord{"weighed", "weighed", read_weighed},
                               DeedWord{"harvested", "harvested", read_harvested},
                               DeedWord{"harvest", "harvested", read_harvested},
                               DeedWord{"picked", "harvested", read_harvested},
                               DeedWord{"sold", "sold", read_harvested},
                               DeedWord{"cleaned", "cleaned", read_cleaned},
                               DeedWord{"clean", "cleaned", read_cleaned},
                               DeedWord{"rinsed", "cleaned", read_cleaned},
                               DeedWord{"scrubbed", "cleaned", read_cleaned},
                               DeedWord{"replumbed", "replumbed", read_chapter},
                               DeedWord{"re-plumbed", "replumbed", read_chapter},
                               DeedWord{"weather", "weather", read_weather},
                               DeedWord{"rain", "weather", read_rain}};

const DeedWord* deed_at(const Cursor& c) {
  const auto found = std::find_if(kDeeds.begin(), kDeeds.end(), [&](const DeedWord& d) { return d.said == c.plain(); });
  return found == kDeeds.end() ? nullptr : &*found;
}

/// "power off", "pump back on": what happened to it, or "".
std::string_view switched(const Cursor& c) {
  if (c.plain() != "power" && c.plain() != "pump") return "";
  std::size_t n = 1;
  while (c.plain(n) == "is" || c.plain(n) == "went" || c.plain(n) == "came") ++n;
  const bool back = c.plain(n) == "back";
  const std::string_view how = c.plain(back ? n + 1 : n);
  if (how == "off" || how == "out" || how == "cut" || how == "failed" || how == "stopped") return "off";
  return how == "on" || how == "started" || back ? "on" : "";
}

bool says_death(std::string_view word) {
  return word == "dead" || word == "died" || word == "morts" || word == "mort" || word == "deaths" || word == "death" ||
         word == "dying";
}

/// "2 dead", "two trout died", "none dead": how many words stand before the death, or 0.
std::size_t words_before_death(const Cursor& c) {
  if (!c.is_number() && !number_word(c.plain()) && c.plain() != "none") return 0;
  for (std::size_t n = 1; n <= 3; ++n) {
    if (says_death(c.plain(n))) return n;
    if (c.is_number(n) || c.plain(n) == ",") return 0;
  }
  return 0;
}

void read_death_first(Cursor& c, Entry& e, Clause& clause) {
  const std::size_t death = c.at + words_before_death(c);
  e.count = c.take("none") ? std::optional(0.0) : take_count(c);
  while (c.at < death) {
    e.subject += (e.subject.empty() ? "" : " ") + std::string(c.plain());
    ++c.at;
  }
  ++c.at;
  read_died(c, e, clause);
}

}  // namespace

bool starts_deed(const Cursor& c) {
  return deed_at(c) || !switched(c).empty() || words_before_death(c) > 0 ||
         (c.plain() == "water" && c.plain(1) == "change") || (c.plain() == "not" && c.plain(1) == "fed");
}

bool read_deed(Cursor& c, Clause& clause) {
  Entry e;
  e.kind = Kind::deed;
  if (words_before_death(c) > 0) {
    e.what = "died";
    read_death_first(c, e, clause);
  } else if (c.plain() == "water" && c.plain(1) == "change") {
    ++c.at;
    e.what = "changed_water";
    ++c.at;
    read_changed(c, e, clause);
  } else if (const std::string_view how = switched(c); !how.empty()) {
    e.what = c.plain();
    e.subject = how;
    ++c.at;
    while (c.take_any({"is", "went", "came", "back"})) {
    }
    c.take_any({"off", "out", "cut", "failed", "stopped", "on", "started"});
  } else if (c.plain() == "not" && c.plain(1) == "fed") {
    c.at += 2;
    e.what = "fed";
    e.where = usual_place(c.context);
    e.amount = {0.0, 0.0, "g", "", false};
  } else if (const DeedWord* deed = deed_at(c)) {
    e.what = deed->what;
    ++c.at;
    deed->read(c, e, clause);
  } else {
    return false;
  }
  clause.entries.push_back(std::move(e));
  return true;
}

}  // namespace leat::record
