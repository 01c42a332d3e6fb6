#include "answers/trial_stands.h"

#include <algorithm>
#include <tuple>

namespace leat::answers {
namespace {

constexpr record::Moment kDay = 86'400'000, kWeek = 7 * kDay;

/// When each cycle began: a planting more than a week after the first of a cycle begins the next.
std::vector<record::Moment> cycles_of(const std::vector<const Plant*>& plants) {
  std::vector<record::Moment> planted, begun;
  for (const Plant* p : plants)
    if (!p->substitute) planted.push_back(p->planted);
  std::sort(planted.begin(), planted.end());
  for (const record::Moment at : planted)
    if (begun.empty() || at >= begun.back() + kWeek) begun.push_back(at);
  return begun;
}

/// The cycle that had begun at a time.
int cycle_at(const std::vector<record::Moment>& begun, record::Moment at) {
  int cycle = 0;
  for (std::size_t i = 0; i < begun.size(); ++i)
    if (at >= begun[i]) cycle = static_cast<int>(i);
  return cycle;
}

class Gatherer {
  Trial& trial_;
  const TrialRequest& request_;
  std::vector<record::Moment> begun_;

 public:
  Gatherer(Trial& trial, const TrialRequest& request, std::vector<record::Moment> begun)
      : trial_(trial), request_(request), begun_(std::move(begun)) {}

  void take(const Plant& p) {
    Stand& s = stand_of(p);
    s.last = std::max(s.last, p.ended.value_or(p.planted));
    if (p.substitute) return substitute(p, s);
    s.places += 1;
    if (p.fate == Fate::died || p.fate == Fate::replaced) {
      (p.fate == Fate::died ? s.died : s.replaced) += 1;
      s.places_grams.push_back(0.0);
      lost(p);
    } else if (p.fate == Fate::standing) {
      s.standing += 1;
      exclude(p, "still standing", "it has no weight yet");
    } else if (!p.grams) {
      exclude(p, "harvested without a weight", "its weight was not noted");
    } else {
      s.survivors.push_back(*p.grams);
      s.places_grams.push_back(*p.grams);
      s.weighed_together = s.weighed_together || !p.alone;
    }
  }

  /// A cut belongs to the last stand of its bed that was planted before.
  void take(const Cut& cut) {
    Stand* in = nullptr;
    for (Stand& s : trial_.stands)
      if (s.bed == cut.bed && s.planted <= cut.at && (!in || s.planted > in->planted)) in = &s;
    if (!in) return;
    in->cut_grams += cut.grams;
    in->last = std::max(in->last, cut.at);
  }

 private:
  Stand& stand_of(const Plant& p) {
    const int cycle = cycle_at(begun_, p.planted);
    Stand* latest = nullptr;
    for (Stand& s : trial_.stands) {
      if (s.bed != p.bed || s.planted > p.planted) continue;
      if (s.cycle == cycle && !p.substitute) return s;
      if (!latest || s.planted > latest->planted) latest = &s;
    }
    // A substitute belongs to the stand that it was put into, which may be of an earlier cycle.
    if (p.substitute && latest) return *latest;
    Stand s;
    s.bed = p.bed;
    s.treatment = treatment_of(p.bed, request_);
    s.cycle = cycle;
    s.planted = p.planted;
    trial_.stands.push_back(std::move(s));
    return trial_.stands.back();
  }

  void substitute(const Plant& p, Stand& s) {
    if (p.grams) s.substitutes.push_back(*p.grams);
    exclude(p, "substitute", "it was planted later than the originals, in the place of one that was lost");
  }

  void lost(const Plant& p) {
    const bool died = p.fate == Fate::died;
    exclude(
        p, died ? "died" : "replaced",
        died ? "not among the survivors; its place counts as 0 g" : "the original was lost; its place counts as 0 g");
  }

  void exclude(const Plant& p, const char* what, const char* reason) {
    auto same = std::find_if(trial_.excluded.begin(), trial_.excluded.end(),
                             [&](const Exclusion& e) { return e.bed == p.bed && e.what == what; });
    if (same == trial_.excluded.end()) same = trial_.excluded.insert(same, {p.bed, what, reason, 0, {}, {}});
    same->count += 1;
    if (p.grams) same->grams.push_back(*p.grams);
    for (const std::int64_t entry : p.entries)
      if (std::find(same->entries.begin(), same->entries.end(), entry) == same->entries.end())
        same->entries.push_back(entry);
  }
};

}  // namespace

std::string treatment_of(const std::string& bed, const TrialRequest& request) {
  for (const Treatment& t : request.treatments)
    if (std::find(t.beds.begin(), t.beds.end(), bed) != t.beds.end()) return t.name;
  if (!request.treatments.empty()) return "";
  std::string kind = bed.substr(0, bed.find('.'));
  std::replace(kind.begin(), kind.end(), '_', ' ');
  return kind;
}

std::vector<std::string> treatments_in(const Trial& trial) {
  std::vector<std::string> names;
  for (const Stand& s : trial.stands)
    if (std::find(names.begin(), names.end(), s.treatment) == names.end()) names.push_back(s.treatment);
  return names;
}

void gather_stands(Trial& trial, const Plantings& plantings, const TrialRequest& request) {
  std::vector<const Plant*> plants;
  for (const Plant& p : plantings.plants) {
    const bool late = request.until && p.planted > *request.until, early = request.since && p.planted < *request.since;
    if (p.crop != trial.crop || p.chapter != trial.chapter || late || early) continue;
    if (!treatment_of(p.bed, request).empty()) plants.push_back(&p);
  }
  Gatherer gatherer(trial, request, cycles_of(plants));
  for (const bool substitute : {false, true})
    for (const Plant* p : plants)
      if (p->substitute == substitute) gatherer.take(*p);
  for (const Cut& cut : plantings.cuts)
    if (cut.crop == trial.crop) gatherer.take(cut);
  // Treatments in the order in which they were asked for, or first planted.
  std::vector<std::string> order;
  for (const Treatment& t : request.treatments) order.push_back(t.name);
  for (const Stand& s : trial.stands) order.push_back(s.treatment);
  const auto rank = [&](const Stand& s) { return std::find(order.begin(), order.end(), s.treatment) - order.begin(); };
  std::stable_sort(trial.stands.begin(), trial.stands.end(), [&](const Stand& a, const Stand& b) {
    return std::tuple(rank(a), a.cycle, a.bed) < std::tuple(rank(b), b.cycle, b.bed);
  });
}

}  // namespace leat::answers
