#include "answers/plantings.h"

#include <fmt/core.h>

#include <algorithm>

#include "base/units/parse.h"
#include "record/phrase_parts.h"

namespace leat::answers {
namespace {

using record::Entry;

/// Behind which others of the same day a deed is taken: what was planted may die, what died may be replaced.
int rank_of(const Entry& e) {
  if (e.kind == record::Kind::chapter) return 0;
  if (e.what == "planted") return 1;
  if (e.what == "died") return 2;
  return e.what == "substituted" ? 3 : 4;
}

bool is_bed(const std::string& path) {
  return path.find("bed.") != std::string::npos;
}

struct Named {
  std::string crop;
  bool substitute = false;
};

/// "substitute chard plants" as chard, a substitute.
Named named(std::string subject) {
  Named n;
  for (const std::string_view word : {"substitute ", "replacement "})
    if (subject.starts_with(word)) {
      subject.erase(0, word.size());
      n.substitute = true;
    }
  for (const std::string_view word : {" plants", " plant", " seedlings", " seedling"})
    if (subject.ends_with(word)) subject.resize(subject.size() - word.size());
  n.crop = subject;
  return n;
}

/// What was taken of entries that say alike.
struct Told {
  std::string what, first;
  std::vector<std::int64_t> entries;
};

std::string sentence(const Told& t) {
  if (t.entries.size() == 1) return fmt::format("entry {} of {}: {}", t.entries[0], t.first, t.what);
  const std::size_t shown = std::min<std::size_t>(t.entries.size(), 5);
  std::string numbers;
  for (std::size_t i = 0; i < shown; ++i) numbers += fmt::format("{}{}", i == 0 ? "" : ", ", t.entries[i]);
  if (shown < t.entries.size()) numbers += fmt::format(" and {} more", t.entries.size() - shown);
  return fmt::format("entries {}, the first of {}: {}", numbers, t.first, t.what);
}

class Reader {
  const record::Context& context_;
  Plantings found_;
  std::vector<Told> told_;

 public:
  explicit Reader(const record::Context& context) : context_(context) {}

  Plantings read(std::vector<Entry> entries) {
    std::stable_sort(entries.begin(), entries.end(), [this](const Entry& a, const Entry& b) { return before(a, b); });
    for (const Entry& e : entries) take(e);
    for (const Told& t : told_) found_.taken.push_back(sentence(t));
    return std::move(found_);
  }

 private:
  int day(record::Moment at) const {
    return context_.clock.local(Instant{static_cast<double>(at) / 1000.0}).date.serial();
  }
  std::string date(record::Moment at) const {
    return context_.clock.local(Instant{static_cast<double>(at) / 1000.0}).date.text();
  }
  bool before(const Entry& a, const Entry& b) const {
    if (day(a.from) != day(b.from)) return day(a.from) < day(b.from);
    if (rank_of(a) != rank_of(b)) return rank_of(a) < rank_of(b);
    return a.from != b.from ? a.from < b.from : a.number < b.number;
  }

  void take(const Entry& e) {
    if (e.kind == record::Kind::chapter) return chapter(e);
    if (e.kind != record::Kind::deed || record::is_fish(context_, e.subject)) return;
    if (e.what == "planted") return planted(e, false);
    if (e.what == "substituted") return substituted(e);
    if (e.what == "died" && (is_bed(e.where) || was_planted(e))) return died(e);
    if (e.what == "harvested") return harvested(e);
    if (e.what == "weighed") return weighed(e);
    if (e.what == "moved" && is_bed(e.where + e.towards) && !e.subject.empty())
      told(e, "plants that were moved are counted where they were planted");
  }

  void told(const Entry& e, const std::string& what) {
    const auto same = std::find_if(told_.begin(), told_.end(), [&](const Told& t) { return t.what == what; });
    if (same == told_.end())
      told_.push_back({what, date(e.from), {e.number}});
    else
      same->entries.push_back(e.number);
  }

  void chapter(const Entry& e) {
    if (e.what == "begun") return;  // when the noting began; what is dated before stands in the same loop
    for (Plant& p : found_.plants)
      if (p.fate == Fate::standing) p.across_chapters = true;
    found_.chapters.push_back(e.from);
  }

  int chapter_now() const { return static_cast<int>(found_.chapters.size()); }

  /// The bed that was meant: the one said, or the only one where this crop stands.
  std::string bed_of(const Entry& e, const std::string& crop) const {
    if (is_bed(e.where)) return e.where;
    std::string only;
    for (const Plant& p : found_.plants) {
      if (p.crop != crop || p.fate != Fate::standing) continue;
      if (!only.empty() && only != p.bed) return "";
      only = p.bed;
    }
    return only;
  }

  void planted(const Entry& e, bool substitute) {
    const Named n = named(e.subject);
    if (e.where.empty()) return told(e, "no bed was said, so these plants are in no trial");
    if (!e.count) told(e, "their number was not said; one is taken");
    for (int i = 0; i < static_cast<int>(e.count.value_or(1.0)); ++i) {
      Plant p{e.where, n.crop, e.from};
      p.substitute = substitute || n.substitute;
      p.chapter = chapter_now();
      p.entries = {e.number};
      found_.plants.push_back(std::move(p));
    }
  }

  /// A plant that stands there. Originals go first, unless a substitute was said.
  Plant* standing(const std::string& bed, const Named& n) {
    for (const bool substitute : {n.substitute, !n.substitute})
      for (Plant& p : found_.plants)
        if (p.bed == bed && p.crop == n.crop && p.fate == Fate::standing && p.substitute == substitute) return &p;
    return nullptr;
  }

  static void end(Plant& p, const Entry& e, Fate fate) {
    p.fate = fate;
    p.ended = e.from;
    p.entries.push_back(e.number);
  }

  /// Each takes the place of one that died before, or else of one that is taken out with it.
  void substituted(const Entry& e) {
    const Named n = named(e.subject);
    for (int i = 0; i < static_cast<int>(e.count.value_or(1.0)); ++i) {
      const auto gone = std::find_if(found_.plants.begin(), found_.plants.end(), [&](const Plant& p) {
        return p.bed == e.where && p.crop == n.crop && p.fate == Fate::died;
      });
      if (gone != found_.plants.end()) {
        gone->fate = Fate::replaced;
        gone->entries.push_back(e.number);
      } else if (Plant* p = standing(e.where, n)) {
        end(*p, e, Fate::replaced);
      } else {
        told(e, fmt::format("no {} was planted in {} before, so there is none that it replaces", n.crop, e.where));
      }
    }
    planted(e, true);
  }

  /// The only crop that stands in a bed, for a death of which the crop was not said.
  std::string only_crop(const std::string& bed) const {
    std::string only;
    for (const Plant& p : found_.plants) {
      if (p.bed != bed || p.fate != Fate::standing) continue;
      if (!only.empty() && only != p.crop) return "";
      only = p.crop;
    }
    return only;
  }

  /// A death without a bed, of a crop that was planted.
  bool was_planted(const Entry& e) const {
    const std::string crop = named(e.subject).crop;
    return e.where.empty() &&
           std::any_of(found_.plants.begin(), found_.plants.end(), [&](const Plant& p) { return p.crop == crop; });
  }

  void died(const Entry& e) {
    Named n = named(e.subject);
    const std::string bed = bed_of(e, n.crop);
    if (bed.empty()) return told(e, "no bed was said; left out");
    if (n.crop.empty() || n.crop == "plants" || n.crop == "plant") n.crop = only_crop(bed);
    for (int i = 0; i < static_cast<int>(e.count.value_or(0.0)); ++i) {
      Plant* p = standing(bed, n);
      if (!p) return told(e, fmt::format("no {} stood in {} that could die; left out", n.crop, bed));
      end(*p, e, Fate::died);
    }
  }

  void harvested(const Entry& e) {
    const Named n = named(e.subject);
    const std::string bed = bed_of(e, n.crop);
    const auto grams = grams_of(e.amount);
    if (bed.empty()) return told(e, "no bed was said; left out");
    if (!e.count) {
      if (grams) found_.cuts.push_back({bed, n.crop, e.from, *grams, e.number});
      return;
    }
    const double count = *e.count;
    for (int i = 0; i < static_cast<int>(count); ++i) {
      Plant* p = standing(bed, n);
      if (!p) return told(e, fmt::format("no {} stood in {} that could be harvested; left out", n.crop, bed));
      if (n.substitute && !p->substitute) told(e, "no substitute stood there; an original is taken");
      end(*p, e, Fate::harvested);
      if (grams) p->grams = e.amount.basis == "each" || count <= 1.0 ? *grams : *grams / count;
      p->alone = count <= 1.0;
    }
  }

  void weighed(const Entry& e) {
    const Named n = named(e.subject);
    const std::string bed = bed_of(e, n.crop);
    const auto grams = grams_of(e.amount);
    if (bed.empty() || !grams || !e.count || n.crop.empty()) return;
    const double each = e.amount.basis == "each" ? *grams : *grams / std::max(1.0, *e.count);
    found_.weighed.push_back({bed, n.crop, e.from, *e.count, each, e.number});
  }
};

}  // namespace

std::string_view fate_word(Fate fate) {
  switch (fate) {
    case Fate::standing:
      return "standing";
    case Fate::harvested:
      return "harvested";
    case Fate::died:
      return "died";
    case Fate::replaced:
      return "replaced";
  }
  return "";
}

std::optional<double> grams_of(const record::Amount& amount) {
  if (!amount.low && !amount.high) return std::nullopt;
  const double low = amount.low.value_or(0.0), middle = 0.5 * (low + amount.high.value_or(low));
  const auto unit = read_unit(amount.unit);
  const Unit* mass = std::get_if<Unit>(&unit);
  if (!mass || !(mass->dimension == dim::mass)) return std::nullopt;
  return 1e3 * mass->scale * middle;
}

Plantings plantings_in(const std::vector<record::Entry>& entries, const record::Context& context) {
  return Reader(context).read(entries);
}

}  // namespace leat::answers
