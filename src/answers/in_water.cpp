#include "answers/in_water.h"

#include <algorithm>

namespace leat::answers {
namespace {

using namespace model;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Contents of all water, as if it were mixed.
Contents<> mixed(const Layout& layout, const std::vector<double>& y) {
  double water = 0.0;
  std::array<double, Contents<>::size> sums{};
  for (const BodySlots& b : layout.bodies) {
    water += y[at(b.water)];
    for (std::size_t i = 0; i < sums.size(); ++i) sums[i] += y[at(b.carried) + i];
  }
  Contents<> c;
  for (std::size_t i = 0; i < sums.size(); ++i) c.*Contents<>::members[i] = Concentration<>(sums[i] / water);
  return c;
}

/// Share of a grown film on all surfaces together.
double film(const Loop& loop, const Layout& layout, const std::vector<double>& y, int BodySlots::*which) {
  double sum = 0.0, area = 0.0;
  for (std::size_t b = 0; b < layout.bodies.size(); ++b) {
    sum += loop.vessels[b].film_area.si() * y[at(layout.bodies[b].*which)];
    area += loop.vessels[b].film_area.si();
  }
  return area > 0.0 ? sum / area : 0.0;
}

double conductivity(const Contents<>& c) {
  const Concentration<> bicarbonate = std::max(alkalinity_of_charge(c), Concentration<>(0.0));
  return science::conductivity_at_25c(science::Ions<>{c.sodium, c.potassium, c.calcium, c.magnesium, c.ammonia,
                                                      c.chloride, c.nitrate, c.sulphate, bicarbonate, c.phosphorus})
      .si();
}

}  // namespace

std::vector<InWater> in_water(const Loop& loop, const Equations& equations, const std::vector<double>& start,
                              const std::vector<std::vector<double>>& ends) {
  const Layout& layout = equations.layout();
  const auto assumed = [&](std::string_view key) {
    return std::any_of(loop.assumptions.begin(), loop.assumptions.end(),
                       [&](const Assumption& a) { return a.path == "water." + std::string(key); });
  };
  std::vector<InWater> all;
  const auto add = [&](const char* word, bool guess, auto value) {
    InWater w{word, value(start), {}, guess};
    for (const auto& y : ends) w.days.push_back(value(y));
    all.push_back(std::move(w));
  };
  const auto dissolved = [&](const char* word, Concentration<> Contents<>::*member) {
    add(word, assumed(word), [&](const std::vector<double>& y) { return (mixed(layout, y).*member).si(); });
  };
  dissolved("phosphorus", &Contents<>::phosphorus);
  dissolved("potassium", &Contents<>::potassium);
  dissolved("calcium", &Contents<>::calcium);
  dissolved("magnesium", &Contents<>::magnesium);
  dissolved("iron", &Contents<>::iron);
  dissolved("sodium", &Contents<>::sodium);
  dissolved("chloride", &Contents<>::chloride);
  dissolved("sulphate", &Contents<>::sulphate);
  add("conductivity", assumed("calcium"), [&](const auto& y) { return conductivity(mixed(layout, y)); });
  add("chlorophyll", assumed("chlorophyll"),
      [&](const auto& y) { return science::algae_chlorophyll<double>(mixed(layout, y).algae).si(); });

  const bool film_guessed = std::any_of(loop.assumptions.begin(), loop.assumptions.end(),
                                        [](const Assumption& a) { return a.path == "loop.film"; });
  add("solids_carbon", film_guessed, [&](const auto& y) { return mixed(layout, y).solids_carbon.si(); });
  add("ammonia_film", film_guessed, [&](const auto& y) { return film(loop, layout, y, &BodySlots::ammonia_film); });
  add("nitrite_film", film_guessed, [&](const auto& y) { return film(loop, layout, y, &BodySlots::nitrite_film); });
  return all;
}

}  // namespace leat::answers
