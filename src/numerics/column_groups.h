// Columns of a sparse matrix that no row shares: the slopes along all of a group are found in one direction.
#pragma once

#include <cstddef>
#include <vector>

#include "numerics/integrator.h"

namespace leat::numerics {

/// Columns of each group, 0 to `columns` - 1 all told, each in one group; no row has entries in two columns of a group.
/// Columns with the most entries choose first, and each takes the first group that it fits (Curtis, Powell and Reid
/// 1974, J. Inst. Maths Applics 13, 117: from memory).
std::vector<std::vector<int>> group_columns(const Pattern& pattern, std::size_t columns);

}  // namespace leat::numerics
