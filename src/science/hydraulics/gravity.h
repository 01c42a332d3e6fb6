// Gravity and the dimensions that hydraulics needs beside the common ones.
#pragma once

#include <type_traits>

#include "base/units/quantity.h"

namespace leat::science {

template <class N = double>
using Acceleration = Quantity<dim::acceleration, N>;

/// Change of head with flow, s/m2.
inline constexpr Dimension head_per_flow_dimension{.length = -2, .time = 1};
template <class N = double>
using HeadPerFlow = Quantity<head_per_flow_dimension, N>;

/// Change of flow with head, m2/s.
template <class N = double>
using FlowPerHead = Quantity<Dimension{} - head_per_flow_dimension, N>;

inline constexpr Acceleration<> standard_gravity{9.80665};

/// Keeps an argument out of deduction, so that a plain double may stand beside a dual.
template <class N>
using AsGiven = std::type_identity_t<N>;

}  // namespace leat::science
