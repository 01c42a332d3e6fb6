#include "learn/history.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "science/water/substances.h"

namespace leat::learn {
namespace {

using record::Entry;
using record::Kind;

/// Milligrams that one mole is counted as, by a basis.
std::optional<double> mass_of(std::string_view basis) {
  const auto mass = science::mass_per_mole_of_basis(basis);
  return mass ? std::optional(1e3 * mass->si()) : std::nullopt;
}

bool is_nitrogen(std::string_view what) {
  return what == "ammonia" || what == "nitrite" || what == "nitrate";
}
bool is_hardness(std::string_view what) {
  return what == "alkalinity" || what == "hardness";
}

/// What a kind is counted as here.
std::string_view basis_of(std::string_view what) {
  if (is_nitrogen(what)) return "N";
  return is_hardness(what) ? "CaCO3" : what == "phosphorus" ? "P" : "";
}

/// The ion that a kit for it may count.
std::string_view ion_of(std::string_view what) {
  return what == "ammonia" ? "NH4" : what == "nitrite" ? "NO2" : "NO3";
}

std::optional<double> per_volume(std::string_view unit) {
  if (unit == "mg/L" || unit.empty()) return 1.0;
  if (unit == "ug/L") return 1e-3;
  if (unit == "g/L") return 1e3;
  return std::nullopt;
}

std::optional<double> hardness_factor(std::string_view unit) {
  const double per_equivalent = 1e3 * science::molar_mass::calcium_carbonate_equivalent.si();
  if (unit == "meq/L") return per_equivalent;
  if (unit == "mmol/L") return per_equivalent;  // of alkalinity, whose moles are charges
  // A drop of the usual kits is one German degree (common practice).
  if (unit == "dKH" || unit == "dGH" || unit == "degrees" || unit == "drops")
    return per_equivalent * science::german_degree.si();
  return std::nullopt;
}

struct UnitFactor {
  std::string_view unit;
  double factor;
};
template <std::size_t N>
std::optional<double> among(const std::array<UnitFactor, N>& units, std::string_view unit) {
  for (const UnitFactor& u : units)
    if (u.unit == unit) return u.factor;
  return std::nullopt;
}
constexpr std::array kFlows = {UnitFactor{"L/h", 1.0}, UnitFactor{"L/min", 60.0}, UnitFactor{"L/s", 3600.0},
                               UnitFactor{"m3/h", 1000.0}};
constexpr std::array kLengths = {UnitFactor{"cm", 1.0}, UnitFactor{"mm", 0.1}, UnitFactor{"m", 100.0},
                                 UnitFactor{"in", 2.54}};
constexpr std::array kMasses = {UnitFactor{"g", 1.0}, UnitFactor{"kg", 1000.0}, UnitFactor{"mg", 1e-3},
                                UnitFactor{"lb", 453.59237}, UnitFactor{"oz", 28.349523}};
constexpr std::array kVolumes = {UnitFactor{"L", 1.0}, UnitFactor{"mL", 1e-3}, UnitFactor{"m3", 1000.0},
                                 UnitFactor{"USgal", 3.785411784}, UnitFactor{"impgal", 4.54609}};

Moment middle(const Entry& e) {
  return e.from + (e.to - e.from) / 2;
}

double celsius(double n, const std::string& unit) {
  return unit == "degF" ? (n - 32.0) / 1.8 : n;
}

std::optional<Reading> reading_of(const Entry& e) {
  const auto& a = e.amount;
  if (!a.low && !a.high) return std::nullopt;
  Reading r{e.number, middle(e), e.what, e.where, e.extreme, e.instrument, e.since};
  r.unit = a.unit + (a.basis.empty() ? "" : " as " + a.basis);
  r.typed = a.high.value_or(*(a.low ? a.low : a.high));
  double low = a.low.value_or(0.0), high = a.high.value_or(1e9);
  if (e.what == "temperature" || e.what == "air_temperature") {
    r.low = celsius(low, a.unit);
    r.high = celsius(high, a.unit);
    return r;
  }
  const auto factor = factor_of(e.what, a.unit, a.basis);
  if (!factor) return std::nullopt;
  r.low = low * *factor;
  r.high = high * *factor;
  if (is_nitrogen(e.what) && a.basis.empty() && per_volume(a.unit)) {
    r.basis_said = false;  // it may count the ion: the number may be as little as this
    r.low = low * factor_of(e.what, a.unit, ion_of(e.what)).value_or(*factor);
  }
  return r;
}

Deed deed_of(const Entry& e) {
  Deed d{e.number, middle(e), e.what, e.where, e.towards, e.subject, e.count};
  d.said = e.said;
  d.unit = e.amount.unit;
  if (!e.amount.low || !e.amount.high) return d;
  const double n = 0.5 * (*e.amount.low + *e.amount.high);
  d.typed = n;
  if (const auto g = among(kMasses, e.amount.unit)) {
    if (e.amount.basis == "each")
      d.grams_each = n * *g;
    else
      d.grams = n * *g;
    if (d.grams_each && d.count) d.grams = *d.grams_each * *d.count;
    if (d.grams && !d.grams_each && d.count.value_or(0.0) > 0.0 && e.amount.basis == "together")
      d.grams_each = *d.grams / *d.count;
  }
  if (const auto l = among(kVolumes, e.amount.unit)) d.litres = n * *l;
  if (e.amount.unit == "%") d.share = 0.01 * n;
  return d;
}

/// Of what stands in the order of time, what came after one moment, up to and with another.
template <class T>
std::span<const T> between(const std::vector<T>& all, Moment from, Moment to) {
  const auto after = [](Moment at, const T& one) { return at < one.at; };
  const auto first = std::upper_bound(all.begin(), all.end(), from, after);
  const auto last = std::upper_bound(all.begin(), all.end(), to, after);
  return first < last ? std::span<const T>(first, last) : std::span<const T>();
}

template <class T>
void in_order_of_time(std::vector<T>& all) {
  std::stable_sort(all.begin(), all.end(), [](const T& a, const T& b) { return a.at < b.at; });
}

}  // namespace

std::optional<double> factor_of(std::string_view what, std::string_view unit, std::string_view basis) {
  if (what == "pH") return 1.0;
  if (what == "flow") return among(kFlows, unit);
  if (what == "level" || what == "lid_depth") return among(kLengths, unit);
  if (what == "conductivity") return unit == "mS/cm" ? 1000.0 : 1.0;
  if (is_hardness(what))
    if (const auto degrees = hardness_factor(unit)) return degrees;
  const auto volume = per_volume(unit);
  const std::string_view own = basis_of(what);
  if (!volume || basis.empty() || own.empty() || basis == own) return volume;
  const auto counted = mass_of(basis), wanted = mass_of(own);
  if (!counted || !wanted) return std::nullopt;
  return *volume * *wanted / *counted;
}

History history_of(const std::vector<Entry>& entries) {
  History h;
  std::set<std::int64_t> numbers;
  for (const Entry& e : entries) {
    if (e.kind == Kind::withdrawn) continue;
    // What a sensor read in a day has the number of the entry in which the sensor began.
    if (e.number == 0 || numbers.insert(e.number).second) h.moments.push_back(middle(e));
    if (e.kind == Kind::reading) {
      if (auto reading = reading_of(e)) h.readings.push_back(std::move(*reading));
    } else if (e.kind == Kind::deed || e.kind == Kind::chapter) {
      h.deeds.push_back(deed_of(e));
      if (e.kind == Kind::chapter) {
        h.deeds.back().what = "replumbed";
        if (e.what == "begun") h.deeds.back().what = "begun";
        h.chapters.push_back({e.number, middle(e), e.description});
      }
    } else {
      h.remarks.push_back(e);
    }
  }
  in_order_of_time(h.readings);
  in_order_of_time(h.deeds);
  in_order_of_time(h.chapters);
  std::stable_sort(h.remarks.begin(), h.remarks.end(), [](const Entry& a, const Entry& b) { return a.from < b.from; });
  std::sort(h.moments.begin(), h.moments.end());
  return h;
}

std::vector<const Reading*> History::of(std::string_view what, std::string_view where) const {
  std::vector<const Reading*> found;
  for (const Reading& r : readings)
    if (r.what == what && r.extreme.empty() && (where.empty() || r.where == where)) found.push_back(&r);
  return found;
}

std::vector<const Deed*> History::done(std::string_view what, std::string_view where) const {
  std::vector<const Deed*> found;
  for (const Deed& d : deeds)
    if (d.what == what && (where.empty() || d.where == where)) found.push_back(&d);
  return found;
}

std::span<const Deed> History::deeds_between(Moment from, Moment to) const {
  return between(deeds, from, to);
}

std::span<const Reading> History::readings_between(Moment from, Moment to) const {
  return between(readings, from, to);
}

std::vector<std::string> History::places_of(std::string_view what) const {
  std::vector<std::string> places;
  for (const Reading& r : readings)
    if (r.what == what && std::find(places.begin(), places.end(), r.where) == places.end()) places.push_back(r.where);
  return places;
}

History History::until(Moment now) const {
  History h;
  const auto known = [now](const auto& x) { return x.at <= now; };
  std::copy_if(readings.begin(), readings.end(), std::back_inserter(h.readings), known);
  std::copy_if(chapters.begin(), chapters.end(), std::back_inserter(h.chapters), known);
  std::copy_if(deeds.begin(), deeds.end(), std::back_inserter(h.deeds), known);
  for (const Entry& e : remarks)
    if (e.from <= now) h.remarks.push_back(e);
  std::copy_if(moments.begin(), moments.end(), std::back_inserter(h.moments), [now](Moment m) { return m <= now; });
  return h;
}

}  // namespace leat::learn
