// Eight numbers side by side in SIMD lanes, one of each member of an ensemble. As wide as the file is compiled for: one
// register of AVX-512, two of AVX2, four of SSE2. Which lane a member sits in changes nothing about its number.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>

#include "numerics/dual.h"

#if defined(__SSE2__)
#include <immintrin.h>
#endif

namespace leat {

// The same source is compiled for several widths into one program; each has types of its own.
#if defined(__AVX512F__)
inline namespace lanes_avx512 {
using Register = __m512d;
#elif defined(__AVX2__)
inline namespace lanes_avx2 {
using Register = __m256d;
#elif defined(__SSE2__)
inline namespace lanes_sse2 {
using Register = __m128d;
#else
inline namespace lanes_plain {
using Register = double __attribute__((vector_size(16)));
#endif

inline constexpr std::size_t pack_width = 8;
inline constexpr std::size_t register_width = sizeof(Register) / sizeof(double);
inline constexpr std::size_t pack_registers = pack_width / register_width;

/// What a comparison of packs says, lane by lane: all bits set or none.
struct PackMask {
  using Bits = std::int64_t __attribute__((vector_size(sizeof(Register))));
  std::array<Bits, pack_registers> r;

  friend PackMask operator&(const PackMask& a, const PackMask& b) {
    PackMask m;
    for (std::size_t i = 0; i < pack_registers; ++i) m.r[i] = a.r[i] & b.r[i];
    return m;
  }
  friend PackMask operator|(const PackMask& a, const PackMask& b) {
    PackMask m;
    for (std::size_t i = 0; i < pack_registers; ++i) m.r[i] = a.r[i] | b.r[i];
    return m;
  }
  friend PackMask operator!(const PackMask& a) {
    PackMask m;
    for (std::size_t i = 0; i < pack_registers; ++i) m.r[i] = ~a.r[i];
    return m;
  }
  bool operator[](std::size_t lane) const { return r[lane / register_width][lane % register_width] != 0; }
};

struct Pack {
  std::array<Register, pack_registers> r;

  Pack() : Pack(0.0) {}
  Pack(double x) {  // NOLINT: constants enter formulas as they are
    for (Register& part : r) part = Register{} + x;
  }
  /// One number for each lane.
  template <class F>
  static Pack of_each(F&& number) {
    Pack p;
    for (std::size_t lane = 0; lane < pack_width; ++lane) p.set(lane, number(lane));
    return p;
  }
  double operator[](std::size_t lane) const { return r[lane / register_width][lane % register_width]; }
  void set(std::size_t lane, double x) { r[lane / register_width][lane % register_width] = x; }

  template <class F>
  static Pack each(F&& part) {
    Pack p;
    for (std::size_t i = 0; i < pack_registers; ++i) p.r[i] = part(i);
    return p;
  }
  Pack& operator+=(const Pack& b) { return *this = *this + b; }
  Pack& operator-=(const Pack& b) { return *this = *this - b; }
  Pack& operator*=(const Pack& b) { return *this = *this * b; }
  friend Pack operator-(const Pack& a) {
    return each([&](std::size_t i) { return -a.r[i]; });
  }
  friend Pack operator+(const Pack& a, const Pack& b) {
    return each([&](std::size_t i) { return a.r[i] + b.r[i]; });
  }
  friend Pack operator-(const Pack& a, const Pack& b) {
    return each([&](std::size_t i) { return a.r[i] - b.r[i]; });
  }
  friend Pack operator*(const Pack& a, const Pack& b) {
    return each([&](std::size_t i) { return a.r[i] * b.r[i]; });
  }
  friend Pack operator/(const Pack& a, const Pack& b) {
    return each([&](std::size_t i) { return a.r[i] / b.r[i]; });
  }
  friend PackMask operator<(const Pack& a, const Pack& b) {
    PackMask m;
    for (std::size_t i = 0; i < pack_registers; ++i) m.r[i] = a.r[i] < b.r[i];
    return m;
  }
  friend PackMask operator>(const Pack& a, const Pack& b) { return b < a; }
  friend PackMask operator<=(const Pack& a, const Pack& b) {
    PackMask m;
    for (std::size_t i = 0; i < pack_registers; ++i) m.r[i] = a.r[i] <= b.r[i];
    return m;
  }
  friend PackMask operator>=(const Pack& a, const Pack& b) { return b <= a; }
};

inline bool any(const PackMask& m) {
  PackMask::Bits all = m.r[0];
  for (std::size_t i = 1; i < pack_registers; ++i) all |= m.r[i];
  for (std::size_t i = 0; i < register_width; ++i)
    if (all[i] != 0) return true;
  return false;
}

/// a where the mask is set, b elsewhere.
inline Pack choose(const PackMask& m, const Pack& a, const Pack& b) {
  return Pack::each([&](std::size_t i) { return m.r[i] ? a.r[i] : b.r[i]; });
}

// Elementary functions come from the C library's vector part, which works on each lane alone.
#if defined(__x86_64__)
#if defined(__AVX512F__)
#define LEAT_OF_LIBRARY(f) _ZGVeN8v_##f
#define LEAT_OF_LIBRARY_2(f) _ZGVeN8vv_##f
#elif defined(__AVX2__)
#define LEAT_OF_LIBRARY(f) _ZGVdN4v_##f
#define LEAT_OF_LIBRARY_2(f) _ZGVdN4vv_##f
#else
#define LEAT_OF_LIBRARY(f) _ZGVbN2v_##f
#define LEAT_OF_LIBRARY_2(f) _ZGVbN2vv_##f
#endif
// Said to be const, so that the compiler takes the same function of the same number once.
extern "C" {
__attribute__((const)) Register LEAT_OF_LIBRARY(exp)(Register);
__attribute__((const)) Register LEAT_OF_LIBRARY(log)(Register);
__attribute__((const)) Register LEAT_OF_LIBRARY(sin)(Register);
__attribute__((const)) Register LEAT_OF_LIBRARY(cos)(Register);
__attribute__((const)) Register LEAT_OF_LIBRARY(tanh)(Register);
__attribute__((const)) Register LEAT_OF_LIBRARY(cbrt)(Register);
__attribute__((const)) Register LEAT_OF_LIBRARY_2(pow)(Register, Register);
}
#define LEAT_ELEMENTARY(f)                                                        \
  inline Pack f(const Pack& x) {                                                  \
    return Pack::each([&](std::size_t i) { return LEAT_OF_LIBRARY(f)(x.r[i]); }); \
  }
inline Pack pow(const Pack& x, const Pack& p) {
  return Pack::each([&](std::size_t i) { return LEAT_OF_LIBRARY_2(pow)(x.r[i], p.r[i]); });
}
#else
#define LEAT_ELEMENTARY(f)                                                   \
  inline Pack f(const Pack& x) {                                             \
    return Pack::of_each([&](std::size_t lane) { return std::f(x[lane]); }); \
  }
inline Pack pow(const Pack& x, const Pack& p) {
  return Pack::of_each([&](std::size_t lane) { return std::pow(x[lane], p[lane]); });
}
#endif
LEAT_ELEMENTARY(exp)
LEAT_ELEMENTARY(log)
LEAT_ELEMENTARY(sin)
LEAT_ELEMENTARY(cos)
LEAT_ELEMENTARY(tanh)
LEAT_ELEMENTARY(cbrt)
#undef LEAT_ELEMENTARY

inline Pack pow(const Pack& x, double p) {
  return pow(x, Pack(p));
}
inline Pack pow(double x, const Pack& p) {
  return pow(Pack(x), p);
}
inline Pack log10(const Pack& x) {
  return 0.43429448190325182765 * log(x);
}
inline Pack sqrt(const Pack& x) {
#if defined(__AVX512F__)
  return Pack::each([&](std::size_t i) { return _mm512_sqrt_pd(x.r[i]); });
#elif defined(__AVX2__)
  return Pack::each([&](std::size_t i) { return _mm256_sqrt_pd(x.r[i]); });
#elif defined(__SSE2__)
  return Pack::each([&](std::size_t i) { return _mm_sqrt_pd(x.r[i]); });
#else
  return Pack::of_each([&](std::size_t lane) { return std::sqrt(x[lane]); });
#endif
}
inline Pack fabs(const Pack& x) {
  return Pack::each([&](std::size_t i) {
    constexpr std::int64_t all_but_sign = 0x7fffffffffffffff;
    return reinterpret_cast<Register>(reinterpret_cast<PackMask::Bits>(x.r[i]) & all_but_sign);
  });
}
inline Pack abs(const Pack& x) {
  return fabs(x);
}
inline Pack larger(const Pack& a, const Pack& b) {
  return choose(a > b, a, b);
}
inline double largest(const Pack& x) {
  double most = x[0];
  for (std::size_t lane = 1; lane < pack_width; ++lane) most = x[lane] > most ? x[lane] : most;
  return most;
}
inline double smallest(const Pack& x) {
  return -largest(-x);
}
/// No lane is infinite or not a number.
inline bool all_finite(const Pack& x) {
  const Pack none = x - x;
  return !any(!(none <= Pack(0.0)));
}
inline const Pack& plain(const Pack& x) {
  return x;
}
inline Pack sign_of(const Pack& x) {
  return choose(x < Pack(0.0), Pack(-1.0), Pack(1.0));
}

}  // namespace lanes_...

template <>
struct PlainOf<Pack> {
  using type = Pack;
};

// A plain number is a pack of one lane.
template <class T>
inline constexpr std::size_t lanes_in = 1;
template <>
inline constexpr std::size_t lanes_in<Pack> = pack_width;

inline double in_lane(double x, std::size_t) {
  return x;
}
inline double in_lane(const Pack& x, std::size_t lane) {
  return x[lane];
}
inline void put_in_lane(double& x, std::size_t, double number) {
  x = number;
}
inline void put_in_lane(Pack& x, std::size_t lane, double number) {
  x.set(lane, number);
}
/// One number for each lane.
template <class T, class F>
T of_lanes(F&& number) {
  T x(0.0);
  for (std::size_t lane = 0; lane < lanes_in<T>; ++lane) put_in_lane(x, lane, number(lane));
  return x;
}

}  // namespace leat
