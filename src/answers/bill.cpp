#include "answers/bill.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include "base/units/parse.h"
#include "science/hydraulics/minor_losses.h"

namespace leat::answers {
namespace {

using namespace model;

/// Sorts of pieces, in the order of the bill.
enum class Sort { vessel, pump, valve, pipe, fitting, standpipe, sleeve, bulkhead, hole, weir, air };

/// Pieces of one loop by sort and size; sizes to a tenth of a millimetre, so that "27 mm" and "0.027 m" are one. What
/// is cut into a vessel serves in no other and is never left over, so it is counted by vessel.
class Tally {
  struct Pieces {
    std::string what, unit;
    double amount = 0.0;
  };
  using Size = std::pair<Sort, std::string>;
  std::map<std::pair<Size, std::string>, Pieces> pieces_;

  static bool is_cut(Sort sort) { return sort == Sort::hole || sort == Sort::weir; }

 public:
  void add(Sort sort, const std::string& size, std::string what, double amount, std::string unit = "",
           const std::string& vessel = "") {
    Pieces fresh{std::move(what), std::move(unit), 0.0};
    pieces_.try_emplace({{sort, size}, vessel}, std::move(fresh)).first->second.amount += amount;
  }
  std::vector<BillItem> against(const Tally& now) const {
    std::map<std::pair<Size, std::string>, BillItem> by_vessel;
    for (const auto& [key, p] : now.pieces_) by_vessel[key] = {p.what, p.unit, p.amount, 0.0};
    for (const auto& [key, p] : pieces_) by_vessel[key] = {p.what, p.unit, by_vessel[key].now, p.amount};
    std::map<Size, BillItem> by_size;
    for (const auto& [key, item] : by_vessel) {
      const bool cut = is_cut(key.first.first);
      if (cut && item.to_get() <= 0.0) continue;
      BillItem& sum = by_size[key.first];
      sum = {item.what, item.unit, sum.now + item.now, sum.plan + item.plan};
    }
    std::vector<BillItem> differing;
    for (const auto& [key, item] : by_size)
      if (std::abs(item.to_get()) > 5e-3) differing.push_back(item);
    return differing;
  }
};

std::string size_key(double metres) {
  return fmt::format("{:09.4f}", metres);
}

/// Counts the pieces of one loop.
class Counting {
  const Side& side_;
  Tally tally_;
  std::vector<std::string> not_counted_;

  /// Pieces whose size is said; a part that does not say it is told.
  void sized(Sort sort, const Component& c, std::string_view key, const std::string& what, double amount = 1.0,
             const std::string& unit = "") {
    const Said* size = c.find(key);
    if (!size) return not_counted_.push_back(fmt::format("{}: {} not said", c.path(), key));
    tally_.add(sort, what + size_key(size->number), fmt::format("{}, {}", what, size->text), amount, unit);
  }

  /// Something cut into the vessel that a part starts from.
  void cut(Sort sort, const Component& c, std::string_view key, const std::string& what, double amount = 1.0) {
    const Said *size = c.find(key), *vessel = c.find("from");
    if (!size) return not_counted_.push_back(fmt::format("{}: {} not said", c.path(), key));
    tally_.add(sort, what + size_key(size->number), fmt::format("{}, {}", what, size->text), amount, "",
               vessel ? vessel->text : "");
  }

  /// A sealed hole for a pipe of that inside diameter.
  void bulkhead(const Component& c, std::string_view key) {
    if (!c.find(key)) return;  // told where the pipe itself is counted
    sized(Sort::bulkhead, c, key, "bulkhead fitting for a pipe");
    cut(Sort::hole, c, key, "hole to cut for the bulkhead fitting of a pipe");
  }

  void vessel(const Vessel& v, const Component& c) {
    static constexpr std::string_view sizes[] = {"volume", "area", "length", "diameter"};
    if (std::none_of(std::begin(sizes), std::end(sizes), [&](std::string_view key) { return c.find(key); }))
      return not_counted_.push_back(c.path() + ": size not said");
    const double area = v.area.si(), depth = v.depth().si();
    std::string kind = c.kind;
    std::replace(kind.begin(), kind.end(), '_', ' ');
    tally_.add(Sort::vessel, c.kind + size_key(area) + size_key(depth),
               fmt::format("{}, {:.2f} m2, {:.0f} mm deep", kind, area, 1e3 * depth), 1.0);
  }

  void pump(const Component& c) {
    const Said *head = c.find("shut_off_head"), *flow = c.find("largest_flow"), *curve = c.find("curve");
    if (curve)
      return tally_.add(Sort::pump, fmt::format("curve{}", point_text(*curve)),
                        fmt::format("pump, {}", point_text(*curve)), 1.0);
    if (!head || !flow) return not_counted_.push_back(c.path() + ": its head and flow are not both said");
    tally_.add(Sort::pump, size_key(head->number) + fmt::format("{:.8f}", flow->number),
               fmt::format("pump, {} without head, {} without flow", flow->text, head->text), 1.0);
  }

  static std::string point_text(const Said& curve) {
    std::string text;
    for (const auto& [q, h] : curve.points)
      text += fmt::format("{}{:.0f} L/h at {:.2f} m", text.empty() ? "" : ", ", 3.6e6 * q, h);
    return text;
  }

  /// The metres of a pipe and its fittings. Entry and exit are only losses: nothing to get.
  void run(const Component& c) {
    const Said* length = c.find("length");
    if (!length || length->number <= 0.0)
      not_counted_.push_back(fmt::format("{}: length {}", c.path(), length ? "said as 0" : "not said"));
    else
      sized(Sort::pipe, c, "bore", "pipe", length->number, "m");
    const Said* fittings = c.find("fittings");
    if (!fittings) return not_counted_.push_back(c.path() + ": its fittings are not listed");
    const Said* bore = c.find("bore");
    for (const std::string& text : fittings->words) {
      const std::size_t x = text.find(" x ");
      const science::Fitting* f = science::find_fitting(x == std::string::npos ? text : text.substr(x + 3));
      if (!f || f->name == "entry" || f->name == "projecting entry" || f->name == "exit") continue;
      const double count = x == std::string::npos ? 1.0 : std::stod(text.substr(0, x));
      tally_.add(Sort::fitting, std::string(f->name) + (bore ? size_key(bore->number) : ""),
                 fmt::format("{}{}", f->name, bore ? " on " + bore->text + " pipe" : ""), count);
    }
  }

  void overflow(const Component& c) {
    sized(Sort::standpipe, c, "standpipe_bore", "standpipe");
    bulkhead(c, "standpipe_bore");
    if (c.find("sleeve_bore")) sized(Sort::sleeve, c, "sleeve_bore", "sleeve around a standpipe");
    if (c.find("bore")) run(c);
  }

  void siphon(const Component& c) {
    sized(Sort::standpipe, c, "bore", "bell siphon");
    bulkhead(c, "bore");
    run(c);
  }

  void gravity_return(const Component& c) {
    bulkhead(c, "bore");
    run(c);
  }

  void pipe(const Component& c) {
    run(c);
    if (c.find("opening")) sized(Sort::valve, c, "bore", "hand valve");
    const Said* from = c.find("from");
    const Component* start = from ? side_.description.find(from->text) : nullptr;
    const words::Kind* kind = start ? words::find_kind(start->kind) : nullptr;
    if (kind && kind->vessel) bulkhead(c, "bore");
  }

  void count(const Component& c) {
    const int v = side_.loop.vessel_index(c.path());
    if (v >= 0) return vessel(side_.loop.vessels[static_cast<std::size_t>(v)], c);
    if (c.kind == "pump") return pump(c);
    if (c.kind == "pipe") return pipe(c);
    if (c.kind == "overflow") return overflow(c);
    if (c.kind == "siphon") return siphon(c);
    if (c.kind == "gravity_return") return gravity_return(c);
    if (c.kind == "sequencing_valve") return sized(Sort::valve, c, "bore", "sequencing valve");
    if (c.kind == "weir") return cut(Sort::weir, c, "width", "weir to cut");
    if (c.kind == "air") return sized(Sort::air, c, "flow", "air line");
    const Said* times = c.find("count");
    if (c.kind == "drain_hole") cut(Sort::hole, c, "diameter", "drain hole to drill", times ? times->number : 1.0);
    if (c.kind == "source" && c.find("level")) tally_.add(Sort::valve, "float", "float valve", 1.0);
  }

 public:
  explicit Counting(const Side& side) : side_(side) {
    for (const Component& c : side.description.components) count(c);
  }
  const Tally& tally() const { return tally_; }
  const std::vector<std::string>& not_counted() const { return not_counted_; }
};

/// A value as it was written, lists joined.
std::string written(const Said& said) {
  std::string all;
  for (const std::string& word : said.words) all += (all.empty() ? "" : ", ") + word;
  for (const double hour : said.hours) {
    const int minutes = static_cast<int>(std::lround(60.0 * hour));
    all += fmt::format("{}{:02d}:{:02d}", all.empty() ? "" : ", ", minutes / 60, minutes % 60);
  }
  for (const auto& [q, h] : said.points)
    all += fmt::format("{}{:.0f} L/h at {:.2f} m", all.empty() ? "" : ", ", 3.6e6 * q, h);
  if (!all.empty()) return all;
  return said.text.empty() ? fmt::format("{:g}", said.number) : said.text;
}

bool same(const Said& a, const Said& b) {
  return a.number == b.number && a.words == b.words && a.hours == b.hours && a.points == b.points &&
         (a.text == b.text || (a.words.empty() && a.hours.empty() && a.points.empty() && a.number != 0.0));
}

/// Keys of which either says something else. Nothing is said by a part that is not there.
std::vector<PartChange::Key> differing_keys(const Component* now, const Component* plan) {
  std::set<std::string> names;
  for (const Component* c : {now, plan})
    if (c)
      for (const auto& [key, said] : c->values) names.insert(key);
  std::vector<PartChange::Key> keys;
  for (const std::string& name : names) {
    const Said *a = now ? now->find(name) : nullptr, *b = plan ? plan->find(name) : nullptr;
    if (a && b && same(*a, *b)) continue;
    keys.push_back({name, a ? written(*a) : "", b ? written(*b) : ""});
  }
  return keys;
}

}  // namespace

std::vector<PartChange> part_changes(const Description& now, const Description& plan) {
  std::vector<PartChange> changes;
  for (const Component& c : plan.components) {
    const Component* before = now.find(c.path());
    std::vector<PartChange::Key> keys = differing_keys(before, &c);
    if (before && keys.empty()) continue;
    changes.push_back({before ? PartChange::What::changed : PartChange::What::added, c.path(), std::move(keys)});
  }
  for (const Component& c : now.components)
    if (!plan.find(c.path())) changes.push_back({PartChange::What::removed, c.path(), differing_keys(&c, nullptr)});
  return changes;
}

Bill bill_of(const Side& now, const Side& plan) {
  const Counting before(now), after(plan);
  Bill bill{after.tally().against(before.tally()), {}};
  const std::vector<std::string>& known = before.not_counted();
  for (const std::string& what : after.not_counted())
    if (std::find(known.begin(), known.end(), what) == known.end()) bill.not_counted.push_back(what);
  return bill;
}

}  // namespace leat::answers
