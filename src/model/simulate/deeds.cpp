#include "model/simulate/deeds.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "model/simulate/simulate.h"
#include "science/water/substances.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Deeds on the same clock minute are the same moment.
bool is_now(Instant when, Instant now) {
  return std::abs(when.seconds - now.seconds) < 1e-3;
}

}  // namespace

Doing::Doing(const Loop& loop, const Equations& equations, Instant start, std::vector<double>& state,
             const std::vector<double>& pH, Trajectory& out)
    : loop_(loop), equations_(equations), layout_(equations.layout()), start_(start), y_(state), pH_(pH), out_(out) {
  for (const FishGroup& g : loop.fish) {
    spreads_.push_back(g.spread);
    feeds_.push_back(g.feed);
  }
  picked_.resize(loop.plantings.size(), 0);
}

std::set<double> Doing::moments(Instant to) const {
  std::set<double> all;
  const auto add = [&](const auto& deeds) {
    for (const auto& deed : deeds)
      if (const Instant t = at_clock(deed.when); t >= start_ && t < to) all.insert(t.seconds - start_.seconds);
  };
  add(loop_.deeds.moves), add(loop_.deeds.algae_deaths), add(loop_.deeds.cuts);
  return all;
}

bool Doing::due(Instant now) {
  bool any = false;
  for (std::size_t m = 0; m < loop_.deeds.moves.size(); ++m)
    if (is_now(at_clock(loop_.deeds.moves[m].when), now)) move(loop_.deeds.moves[m], m, now), any = true;
  for (const AlgaeDeath& death : loop_.deeds.algae_deaths)
    if (is_now(at_clock(death.when), now)) kill_algae(death, now), any = true;
  for (const Cut& c : loop_.deeds.cuts)
    if (is_now(at_clock(c.when), now)) any = cut(c.planting, c.share, now) || any;
  return any;
}

FishGroup Doing::group_now(std::size_t g) const {
  FishGroup group = loop_.fish[g];
  if (layout_.fish[g].count >= 0) group.count = slot(layout_.fish[g].count);
  group.feed = feeds_[g];
  return group;
}

/// Which of the fish are meant, by their ranks of size; whole fish. Those that are left spread as all did less these.
Doing::Lot Doing::lot_of(const FishMove& move) const {
  const FishSlots& from = layout_.fish[move.from];
  const double there = slot(from.count), biomass = slot(from.biomass);
  Lot lot;
  if (there < 0.5 || biomass <= 0.0) return lot;
  const science::SizeSpread all{Mass<>(biomass / there), spreads_[move.from]};
  const auto fish_below = [&](Mass<> mass) { return std::min(there, std::round(there * share_below(all, mass))); };
  double low = move.larger_than ? fish_below(*move.larger_than) : 0.0;
  double high = move.smaller_than ? fish_below(*move.smaller_than) : there;
  const double wanted = std::min(move.count.value_or(there), high - low);
  if (move.taken == Taken::largest) low = high - wanted;
  if (move.taken == Taken::smallest) high = low + wanted;
  if (wanted <= 0.0) return lot;
  lot.count = wanted;
  lot.size = between_ranks(all, low / there, high / there);
  lot.share = wanted >= there ? 1.0 : wanted * lot.size.mean.si() / biomass;
  const double left = there - wanted, mean_left = left > 0.0 ? (1.0 - lot.share) * biomass / left : 0.0;
  const auto square = [](const science::SizeSpread& x) {
    return x.mean.si() * x.mean.si() * (1.0 + x.spread * x.spread);
  };
  const double second = left > 0.0 ? (there * square(all) - wanted * square(lot.size)) / left : 0.0;
  lot.left = {Mass<>(mean_left),
              mean_left > 0.0 ? std::sqrt(std::max(0.0, second / (mean_left * mean_left) - 1.0)) : all.spread};
  return lot;
}

void Doing::move(const FishMove& move, std::size_t index, Instant now) {
  const Lot lot = lot_of(move);
  tell(move, index, lot, now);
  if (lot.count <= 0.0) return;
  if (move.into)
    carry(move, lot);
  else
    let_go(move, lot.share);
  slot(layout_.fish[move.from].count) -= lot.count;
  spreads_[move.from] = lot.left.spread;
  if (auto& feed = feeds_[move.from]) feed = (1.0 - lot.share) * *feed;
}

/// Flesh and what is in the guts goes along, by the fish's share of the mass; so does their share of a stated feed.
void Doing::carry(const FishMove& move, const Lot& lot) {
  const FishSlots &a = layout_.fish[move.from], &b = layout_.fish[*move.into];
  const double there = slot(b.count);
  const science::SizeSpread theirs{Mass<>(there > 0.0 ? slot(b.biomass) / there : 0.0), spreads_[*move.into]};
  const auto pass = [&](int from, int to) {
    const double amount = lot.share * slot(from);
    slot(to) += amount;
    slot(from) = lot.share >= 1.0 ? 0.0 : slot(from) - amount;
  };
  pass(a.biomass, b.biomass);
  for (std::size_t i = 0; i < a.gut.size(); ++i) pass(a.gut[i], b.gut[i]);
  slot(b.count) += lot.count;
  spreads_[*move.into] = together(there, theirs, lot.count, lot.size).spread;
  if (!feeds_[move.from]) return;
  const MassRate<> taken = lot.share * *feeds_[move.from];
  if (feeds_[*move.into])
    feeds_[*move.into] = *feeds_[*move.into] + taken;
  else if (there < 0.5)
    feeds_[*move.into] = taken;
}

/// Fish that leave the loop take their nitrogen and carbon with them.
void Doing::let_go(const FishMove& move, double share) {
  const FishSlots& a = layout_.fish[move.from];
  const FishMatter& m = layout_.matter[move.from];
  const auto part = [&](int from, double nitrogen, double carbon) {
    const double amount = share * slot(from);
    slot(from) = share >= 1.0 ? 0.0 : slot(from) - amount;
    slot(layout_.outside.harvest_nitrogen) += amount * nitrogen;
    slot(layout_.outside.harvest_carbon) += amount * carbon;
  };
  part(a.biomass, m.body_nitrogen, m.body_carbon);
  for (const int gut : a.gut) part(gut, m.feed_nitrogen, m.feed_carbon);
}

void Doing::tell(const FishMove& move, std::size_t index, const Lot& lot, Instant now) {
  const FishGroup& group = loop_.fish[move.from];
  if (lot.count <= 0.0) {
    out_.deeds.push_back({now, move.path, fmt::format("no such fish in {}: none were moved", group.path)});
    return;
  }
  const double few = move.count ? *move.count - lot.count : 0.0;
  out_.deeds.push_back(
      {now, move.path,
       fmt::format("{:.0f} of {}, {:.1f} g each, {}{}", lot.count, group.path, 1e3 * lot.size.mean.si(),
                   move.into ? "to " + loop_.fish[*move.into].path + " in " +
                                   loop_.vessels[at(loop_.fish[*move.into].vessel)].path
                             : "out of the loop",
                   few > 0.5 ? fmt::format("; {:.0f} were wanted", *move.count) : "")});
  if (!move.into) return;
  const auto water = [&](std::size_t g) {
    const std::size_t v = at(loop_.fish[g].vessel);
    return equations_.body(v, y_, pH_[v]);
  };
  const BodyState<double> a = water(move.from), b = water(*move.into);
  out_.moved.push_back({now, index, lot.count, a.temperature, b.temperature, a.pH.si(), b.pH.si()});
}

/// What dies lies with the solids from then on, and rots as they do.
void Doing::kill_algae(const AlgaeDeath& death, Instant now) {
  double dead = 0.0;
  for (std::size_t v = 0; v < layout_.bodies.size(); ++v) {
    if (death.vessel && at(*death.vessel) != v) continue;
    const BodySlots& water = layout_.bodies[v];
    const double carbon = death.share * std::max(0.0, slot(water.algae()));
    slot(water.algae()) -= carbon;
    slot(water.solids_carbon()) += carbon;
    slot(water.solids_nitrogen()) += algae_nitrogen * carbon;
    slot(water.solids_phosphorus()) += algae_phosphorus * carbon;
    dead += carbon;
  }
  // What rots takes a mole of oxygen for its carbon, and two for its nitrogen on the way to nitrate.
  const double oxygen = dead * (1.0 + 2.0 * algae_nitrogen) * science::molar_mass::oxygen.si();
  out_.deeds.push_back(
      {now, death.path,
       fmt::format("{:.1f} g of algae (dry) die; as they rot they take {:.0f} g of oxygen and set {:.2f} g of ammonia "
                   "nitrogen free",
                   1e3 * dead * science::molar_mass::carbon.si() / science::carbon_share_of_solids, 1e3 * oxygen,
                   1e3 * dead * algae_nitrogen * science::molar_mass::nitrogen.si())});
}

/// All of it, and seedlings stand in its place; or a share of what stands, and the rest grows on.
bool Doing::cut(std::size_t planting, double share, Instant now) {
  const PlantSlots& plant = layout_.plants[planting];
  const double taken = share >= 1.0 ? 1.0 : share,
               fresh = taken * slot(plant.dry_mass) / equations_.crop(planting).dry_share;
  out_.harvests.push_back({now, planting, Mass<>(fresh), share >= 1.0});
  const double held = slot(plant.nitrogen);
  if (share >= 1.0) {
    equations_.plant(planting, Duration<>(0.0), y_);
    picked_[planting] = 0;
  } else {
    ++picked_[planting];
    slot(plant.dry_mass) *= 1.0 - taken;
    slot(plant.nitrogen) *= 1.0 - taken;
  }
  slot(layout_.outside.harvest_nitrogen) += held - slot(plant.nitrogen);
  return true;
}

bool Doing::harvest(Instant now) {
  bool any = false;
  for (std::size_t c = 0; c < loop_.plantings.size(); ++c) {
    const CropPlan& crop = equations_.crop(c);
    double& warmth = slot(layout_.plants[c].thermal_time);
    if (warmth < crop.to_harvest.si()) continue;
    const bool pick = crop.pick_share > 0.0 && picked_[c] + 1 < crop.picks;
    any = cut(c, pick ? crop.pick_share : 1.0, now);
    // What is picked is as far from ready again as the warmth from one picking to the next.
    if (pick) warmth = std::max(0.0, crop.to_harvest.si() - crop.to_pick.si());
  }
  return any;
}

bool Doing::dose_base(Concentration<> wanted, Instant now) {
  double water = 0.0, alkalinity = 0.0;
  for (std::size_t b = 0; b < layout_.bodies.size(); ++b) {
    const BodyState<double> s = equations_.body(b, y_, pH_[b]);
    water += s.water.si();
    alkalinity += s.alkalinity.si() * s.water.si();
  }
  const double dose = std::min(wanted.si() - alkalinity / water, base_a_day.si()) * water;  // equivalents
  if (dose <= 0.0) return false;
  std::size_t into = 0;
  for (std::size_t v = loop_.vessels.size(); v-- > 0;)
    if (loop_.vessels[v].kind == VesselKind::sump) into = v;
  const BodySlots& slots = layout_.bodies[into];
  const auto add = [&](int to, int account, double amount) {
    slot(to) += amount;
    slot(account) -= amount;
  };
  const Accounts& out = layout_.outside;
  if (static_cast<long>(std::floor((now.seconds - start_.seconds) / 604800.0)) % 2 == 0) {
    add(slots.potassium(), out.dosed_potassium, dose);
    add(slots.carbon(), out.dosed_carbon, dose);
  } else {
    add(slots.calcium(), out.dosed_calcium, 0.5 * dose);
  }
  return true;
}

}  // namespace leat::model
