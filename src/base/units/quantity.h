// Dimension-checked values. A Quantity holds its number in SI; its dimension is part of its type, so adding a
// length to a mass does not compile. Generic in the number type: double for answers, dual numbers for slopes.
#pragma once

#include <compare>
#include <concepts>
#include <type_traits>

namespace leat {

/// Powers of the SI base quantities. `charge` counts moles of elementary charge (equivalents).
struct Dimension {
  int length = 0, mass = 0, time = 0, temperature = 0, amount = 0, current = 0;
  constexpr bool operator==(const Dimension&) const = default;
};

constexpr Dimension operator+(Dimension a, Dimension b) {
  return {a.length + b.length,           a.mass + b.mass,     a.time + b.time,
          a.temperature + b.temperature, a.amount + b.amount, a.current + b.current};
}
constexpr Dimension operator*(Dimension a, int n) {
  return {a.length * n, a.mass * n, a.time * n, a.temperature * n, a.amount * n, a.current * n};
}
constexpr Dimension operator-(Dimension a, Dimension b) {
  return a + b * -1;
}

/// A number with a dimension, held in SI.
template <Dimension D, class N = double>
class Quantity {
  N si_{};

 public:
  static constexpr Dimension dimension = D;
  using Number = N;

  constexpr Quantity() = default;
  explicit constexpr Quantity(N si) : si_(si) {}
  /// From the same quantity in a plainer number type (a constant entering a generic relation).
  template <class M>
  requires(!std::same_as<M, N> && std::constructible_from<N, M>) constexpr Quantity(Quantity<D, M> other)
      : si_(other.si()) {}

  /// The number in SI units.
  constexpr N si() const { return si_; }
  /// The number in another unit of the same dimension: `flow.in(litres_per_hour)`.
  constexpr N in(Quantity<D, double> unit) const { return si_ / unit.si(); }

  constexpr Quantity operator-() const { return Quantity(-si_); }
  constexpr Quantity& operator+=(Quantity other) {
    si_ = si_ + other.si_;
    return *this;
  }
  constexpr Quantity& operator-=(Quantity other) {
    si_ = si_ - other.si_;
    return *this;
  }
  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.si_ + b.si_); }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.si_ - b.si_); }
  friend constexpr bool operator==(Quantity a, Quantity b) { return a.si_ == b.si_; }
  friend constexpr bool operator<(Quantity a, Quantity b) { return a.si_ < b.si_; }
  friend constexpr bool operator>(Quantity a, Quantity b) { return b.si_ < a.si_; }
  friend constexpr bool operator<=(Quantity a, Quantity b) { return !(b.si_ < a.si_); }
  friend constexpr bool operator>=(Quantity a, Quantity b) { return !(a.si_ < b.si_); }
};

template <Dimension A, class N, Dimension B, class M>
constexpr auto operator*(Quantity<A, N> a, Quantity<B, M> b) {
  return Quantity<A + B, decltype(a.si() * b.si())>(a.si() * b.si());
}
template <Dimension A, class N, Dimension B, class M>
constexpr auto operator/(Quantity<A, N> a, Quantity<B, M> b) {
  return Quantity<A - B, decltype(a.si() / b.si())>(a.si() / b.si());
}
template <Dimension D, class N>
constexpr auto operator*(double x, Quantity<D, N> q) {
  return Quantity<D, N>(x * q.si());
}
template <Dimension D, class N>
constexpr auto operator*(Quantity<D, N> q, double x) {
  return x * q;
}
template <Dimension D, class N>
constexpr auto operator/(Quantity<D, N> q, double x) {
  return Quantity<D, N>(q.si() / x);
}

/// A temperature on the absolute scale. Points subtract to a difference; they do not add.
template <class N = double>
class TemperaturePoint {
  N kelvin_{273.15};
  explicit constexpr TemperaturePoint(N kelvin) : kelvin_(kelvin) {}

 public:
  using Number = N;
  static constexpr Dimension difference = {.temperature = 1};
  constexpr TemperaturePoint() = default;
  template <class M>
  requires(!std::same_as<M, N> && std::constructible_from<N, M>) constexpr TemperaturePoint(TemperaturePoint<M> other)
      : kelvin_(other.kelvin()) {}

  static constexpr TemperaturePoint from_kelvin(N k) { return TemperaturePoint(k); }
  static constexpr TemperaturePoint from_celsius(N c) { return TemperaturePoint(c + 273.15); }
  constexpr N kelvin() const { return kelvin_; }
  constexpr N celsius() const { return kelvin_ - 273.15; }

  friend constexpr auto operator-(TemperaturePoint a, TemperaturePoint b) {
    return Quantity<difference, N>(a.kelvin_ - b.kelvin_);
  }
  friend constexpr TemperaturePoint operator+(TemperaturePoint a, Quantity<difference, N> d) {
    return TemperaturePoint(a.kelvin_ + d.si());
  }
  friend constexpr TemperaturePoint operator-(TemperaturePoint a, Quantity<difference, N> d) {
    return TemperaturePoint(a.kelvin_ - d.si());
  }
  friend constexpr bool operator==(TemperaturePoint a, TemperaturePoint b) { return a.kelvin_ == b.kelvin_; }
  friend constexpr bool operator<(TemperaturePoint a, TemperaturePoint b) { return a.kelvin_ < b.kelvin_; }
  friend constexpr bool operator>(TemperaturePoint a, TemperaturePoint b) { return b.kelvin_ < a.kelvin_; }
  friend constexpr bool operator<=(TemperaturePoint a, TemperaturePoint b) { return !(b.kelvin_ < a.kelvin_); }
  friend constexpr bool operator>=(TemperaturePoint a, TemperaturePoint b) { return !(a.kelvin_ < b.kelvin_); }
};

template <class N = double>
using Temperature = TemperaturePoint<N>;

namespace dim {
inline constexpr Dimension none{};
inline constexpr Dimension length{.length = 1};
inline constexpr Dimension area{.length = 2};
inline constexpr Dimension volume{.length = 3};
inline constexpr Dimension mass{.mass = 1};
inline constexpr Dimension time{.time = 1};
inline constexpr Dimension temperature{.temperature = 1};
inline constexpr Dimension amount{.amount = 1};
inline constexpr Dimension current{.current = 1};
inline constexpr Dimension frequency{.time = -1};
inline constexpr Dimension velocity{.length = 1, .time = -1};
inline constexpr Dimension acceleration{.length = 1, .time = -2};
inline constexpr Dimension flow{.length = 3, .time = -1};
inline constexpr Dimension density{.length = -3, .mass = 1};
inline constexpr Dimension pressure{.length = -1, .mass = 1, .time = -2};
inline constexpr Dimension energy{.length = 2, .mass = 1, .time = -2};
inline constexpr Dimension power{.length = 2, .mass = 1, .time = -3};
inline constexpr Dimension flux{.mass = 1, .time = -3};
inline constexpr Dimension conductance{.mass = 1, .time = -3, .temperature = -1};                    // W/m2/K
inline constexpr Dimension resistance{.mass = -1, .time = 3, .temperature = 1};                      // m2 K/W
inline constexpr Dimension conductivity{.length = 1, .mass = 1, .time = -3, .temperature = -1};      // W/m/K
inline constexpr Dimension heat_capacity{.length = 2, .mass = 1, .time = -2, .temperature = -1};     // J/K
inline constexpr Dimension volumetric_heat{.length = -1, .mass = 1, .time = -2, .temperature = -1};  // J/m3/K
inline constexpr Dimension kinematic_viscosity{.length = 2, .time = -1};
inline constexpr Dimension concentration{.length = -3, .amount = 1};
inline constexpr Dimension amount_rate{.time = -1, .amount = 1};
inline constexpr Dimension areal_amount_rate{.length = -2, .time = -1, .amount = 1};
inline constexpr Dimension mass_rate{.mass = 1, .time = -1};
inline constexpr Dimension areal_mass{.length = -2, .mass = 1};
}  // namespace dim

template <class N = double>
using Number = Quantity<dim::none, N>;
template <class N = double>
using Length = Quantity<dim::length, N>;
template <class N = double>
using Area = Quantity<dim::area, N>;
template <class N = double>
using Volume = Quantity<dim::volume, N>;
template <class N = double>
using Mass = Quantity<dim::mass, N>;
template <class N = double>
using Duration = Quantity<dim::time, N>;
template <class N = double>
using TemperatureDifference = Quantity<dim::temperature, N>;
template <class N = double>
using Amount = Quantity<dim::amount, N>;
template <class N = double>
using Frequency = Quantity<dim::frequency, N>;
template <class N = double>
using Velocity = Quantity<dim::velocity, N>;
template <class N = double>
using Flow = Quantity<dim::flow, N>;
template <class N = double>
using Density = Quantity<dim::density, N>;
template <class N = double>
using Pressure = Quantity<dim::pressure, N>;
template <class N = double>
using Energy = Quantity<dim::energy, N>;
template <class N = double>
using Power = Quantity<dim::power, N>;
template <class N = double>
using Flux = Quantity<dim::flux, N>;
template <class N = double>
using Conductance = Quantity<dim::conductance, N>;
template <class N = double>
using Conductivity = Quantity<dim::conductivity, N>;
template <class N = double>
using VolumetricHeat = Quantity<dim::volumetric_heat, N>;
template <class N = double>
using HeatCapacity = Quantity<dim::heat_capacity, N>;
template <class N = double>
using KinematicViscosity = Quantity<dim::kinematic_viscosity, N>;
template <class N = double>
using Concentration = Quantity<dim::concentration, N>;
template <class N = double>
using AmountRate = Quantity<dim::amount_rate, N>;
template <class N = double>
using ArealAmountRate = Quantity<dim::areal_amount_rate, N>;
template <class N = double>
using MassRate = Quantity<dim::mass_rate, N>;

/// Units as values: `3.0 * units::litre`, `flow.in(units::litre / units::hour)`.
namespace units {
inline constexpr Length<> metre{1.0};
inline constexpr Length<> millimetre{1e-3};
inline constexpr Area<> square_metre{1.0};
inline constexpr Volume<> cubic_metre{1.0};
inline constexpr Volume<> litre{1e-3};
inline constexpr Mass<> kilogram{1.0};
inline constexpr Mass<> gram{1e-3};
inline constexpr Mass<> milligram{1e-6};
inline constexpr Duration<> second{1.0};
inline constexpr Duration<> minute{60.0};
inline constexpr Duration<> hour{3600.0};
inline constexpr Duration<> day{86400.0};
inline constexpr TemperatureDifference<> kelvin{1.0};
inline constexpr Amount<> mole{1.0};
inline constexpr Amount<> millimole{1e-3};
inline constexpr Pressure<> pascal{1.0};
inline constexpr Pressure<> kilopascal{1e3};
inline constexpr Pressure<> atmosphere{101325.0};
inline constexpr Energy<> joule{1.0};
inline constexpr Energy<> kilojoule{1e3};
inline constexpr Energy<> megajoule{1e6};
inline constexpr Power<> watt{1.0};
inline constexpr Flow<> litre_per_hour{1e-3 / 3600.0};
inline constexpr Flow<> cubic_metre_per_hour{1.0 / 3600.0};
inline constexpr Flux<> watt_per_square_metre{1.0};
}  // namespace units

}  // namespace leat
