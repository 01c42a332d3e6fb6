#include <cmath>
#include <numbers>

#include "science/heat/daily_swing.h"
#include "science/heat/entry_help.h"

namespace leat::science::heat_entry {
namespace {

Duration<> period_of(const Given& g) {
  return g("period") * units::second;
}

HeatCapacity<> heat_of(const Given& g) {
  if (g.has("heat_capacity")) return HeatCapacity<>(g("heat_capacity"));
  return Volume<>(g("volume")) * water_heat;
}

HeatFlowPerKelvin<> loss_of(const Given& g) {
  return HeatFlowPerKelvin<>(g("conductance"));
}

std::vector<InputRow> one_store_rows() {
  return {maybe({"heat_capacity", "J K-1", 1e3, 1e10, "of the store"}), maybe({"volume", "m3", 1e-3, 1e4, "of water"}),
          maybe({"conductance", "W K-1", 0.01, 1e5, "of all faces"}),
          assume({"period", "s", 600, 4e7, "of the wave"}, 86400.0)};
}

double omega_c_over_ua(const Given& g) {
  if (g.has("omega_c_over_ua")) return g("omega_c_over_ua");
  return 2.0 * std::numbers::pi / period_of(g).si() * heat_of(g).si() / loss_of(g).si();
}

std::vector<Entry> one_store_entries() {
  return {
      {"first_order_amplitude",
       "swing of a store over that of what drives it",
       rows({one_store_rows(), {maybe({"omega_c_over_ua", "-", 0, 1e4, "2 pi C / (period UA)"})}}),
       {{"ratio", "-", [](const Given& g) { return first_order_amplitude(Number<>(omega_c_over_ua(g))).si(); }}},
       "closed form"},
      {"first_order_lag",
       "how late a store's crest comes",
       one_store_rows(),
       {{"lag", "h",
         [](const Given& g) { return first_order_lag(heat_of(g), loss_of(g), period_of(g)).in(units::hour); }}},
       "closed form"},
      {"time_constant",
       "heat capacity over conductance",
       one_store_rows(),
       {{"time_constant", "h", [](const Given& g) { return time_constant(heat_of(g), loss_of(g)).in(units::hour); }}},
       "closed form"},
      {"half_sine_first_harmonic",
       "first harmonic of a half sine over the mean of its day",
       {{"day_length", "h", 0, 24, "of sun"}},
       {{"ratio", "-", [](const Given& g) { return half_sine_first_harmonic(g("day_length") * units::hour).si(); }}},
       "Fourier coefficient"},
  };
}

SwingStore store_of(const Given& g, std::string_view heat, std::string_view conductance, std::string_view forcing,
                    std::string_view phase) {
  SwingStore store;
  store.heat = HeatCapacity<>(g(heat));
  store.admittance = Wave<dim::power - dim::temperature>(g(conductance));
  store.forcing = Wave<dim::power>(std::polar(g(forcing), g.get(phase, 0.0)));
  return store;
}

TwoWaves two_waves(const Given& g) {
  const auto exchange = g.has("exchange") ? HeatFlowPerKelvin<>(g("exchange"))
                                          : flow_conductance(Flow<>(g("flow")), VolumetricHeat<>(g("volumetric_heat")));
  return daily_waves(store_of(g, "heat_capacity_1", "conductance_1", "forcing_1", "phase_1"),
                     store_of(g, "heat_capacity_2", "conductance_2", "forcing_2", "phase_2"), exchange, period_of(g));
}

std::vector<InputRow> two_store_rows() {
  return {{"heat_capacity_1", "J K-1", 1e3, 1e10, "of the first store"},
          {"heat_capacity_2", "J K-1", 1e3, 1e10, "of the second"},
          {"conductance_1", "W K-1", 0, 1e5, "of the first's faces"},
          {"conductance_2", "W K-1", 0, 1e5, "of the second's faces"},
          {"forcing_1", "W", 0, 1e6, "amplitude of heat into the first"},
          {"forcing_2", "W", 0, 1e6, "amplitude of heat into the second"},
          assume({"phase_1", "rad", -6.3, 6.3, "lead of the first's forcing"}, 0.0),
          assume({"phase_2", "rad", -6.3, 6.3, "lead of the second's forcing"}, 0.0),
          maybe({"flow", "m3 s-1", 0, 1, "between them"}),
          maybe({"exchange", "W K-1", 0, 1e6, "in place of the flow"}),
          assume({"volumetric_heat", "J m-3 K-1", 4.0e6, 4.3e6, "of water"}, 4.18e6),
          assume({"period", "s", 600, 4e7, "of the wave"}, 86400.0)};
}

std::vector<Entry> two_store_entries() {
  const auto amplitude = [](const Wave<dim::temperature>& wave) { return std::abs(wave.si()); };
  const auto lag_h = [](const Wave<dim::temperature>& wave, const Given& g) {
    return crest_time(wave, period_of(g)).in(units::hour);
  };
  return {
      {"two_node_amplitude",
       "amplitudes of two stores that swap water",
       two_store_rows(),
       {{"amplitude_1", "K", [=](const Given& g) { return amplitude(two_waves(g).first); }},
        {"amplitude_2", "K", [=](const Given& g) { return amplitude(two_waves(g).second); }}},
       "closed form"},
      {"two_node_lag",
       "times of the crests of two stores that swap water",
       two_store_rows(),
       {{"lag_1", "h", [=](const Given& g) { return lag_h(two_waves(g).first, g); }},
        {"lag_2", "h", [=](const Given& g) { return lag_h(two_waves(g).second, g); }}},
       "closed form"},
  };
}

}  // namespace

std::vector<Entry> swing_entries() {
  std::vector<Entry> all = one_store_entries();
  for (Entry& entry : two_store_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science::heat_entry
