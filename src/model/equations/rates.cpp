// The rates for plain numbers, and their exact slopes.
#include "model/equations/rates.h"

#include <algorithm>

#include "numerics/column_groups.h"
#include "numerics/trace.h"

namespace leat::model {

using rates_detail::at;

bool Equations::jacobian(Instant t, std::span<const double> y, std::span<const double> pH_guess,
                         Scratch<JacobianDual>& work, std::vector<JacobianDual>& room,
                         std::span<double> entries) const {
  const std::size_t n = layout_.size();
  room.resize(n + size_apart());
  const std::span<JacobianDual> state(room.data(), n), out(room.data() + n, size_apart());
  std::fill(entries.begin(), entries.end(), 0.0);
  for (std::size_t first = 0; first < groups_.size(); first += jacobian_width) {
    const std::size_t lanes = std::min(jacobian_width, groups_.size() - first);
    for (std::size_t i = 0; i < n; ++i) state[i] = JacobianDual(y[i]);
    for (std::size_t lane = 0; lane < lanes; ++lane)
      for (const int j : groups_[first + lane]) state[at(j)] = JacobianDual::seed(y[at(j)], lane);
    if (!rates<JacobianDual>(t, state, pH_guess, work, out)) return false;
    for (std::size_t lane = 0; lane < lanes; ++lane)
      for (const int j : groups_[first + lane])
        for (int k = apart_.starts[at(j)]; k < apart_.starts[at(j) + 1]; ++k)
          entries[at(entry_of_[at(k)])] += out[at(apart_.rows[at(k)])].slope[lane];
  }
  return true;
}

/// Whole cycles may bring what one body's water carries to any other.
bool Equations::couples_by_cycle(std::size_t row, std::size_t column) const {
  if (pulsed_ != Pulsed::by_cycles) return false;
  const auto carried = [&](std::size_t slot) -> int {
    for (const BodySlots& b : layout_.bodies)
      if (const int i = static_cast<int>(slot) - b.carried; i >= 0 && i < static_cast<int>(Contents<>::size)) return i;
    return -1;
  };
  return carried(row) >= 0 && carried(row) == carried(column);
}

/// One run of the rates with numbers that remember what they depend on. Each body's accounts are kept apart in it: on
/// an account of all bodies together nearly every slot bears, and no two columns could be found at once.
void Equations::trace_pattern() {
  const std::size_t n = layout_.size();
  std::vector<double> start = initial_state();
  std::vector<Trace> state, out(size_apart());
  for (std::size_t i = 0; i < n; ++i) state.push_back(i < inner_ ? Trace::input(start[i], i) : Trace(start[i]));
  auto work = scratch<Trace>();
  Stretch all_run;  // in a cycle's pattern every path carries water
  if (pulsed_ == Pulsed::resolved) {
    all_run.flows.assign(paths_.size(), 1e-4);
    for (const BodyPlan<>& b : plan_.bodies) all_run.water.push_back(b.usual_water.si());
    work.stretch = &all_run;
  }
  rates<Trace>(forcing_.start(), std::span<const Trace>(state), neutral_guesses(), work, std::span<Trace>(out));
  apart_.starts.assign(1, 0);
  pattern_.starts.assign(1, 0);
  for (std::size_t j = 0; j < n; ++j) {
    std::vector<int> entry(n, -1);
    entry[j] = 0;
    for (std::size_t i = 0; i < out.size(); ++i)
      if (out[i].inputs.test(j)) apart_.rows.push_back(static_cast<int>(i)), entry[row_together(i)] = 0;
    for (std::size_t i = 0; i < n; ++i)
      if (entry[i] == 0 || couples_by_cycle(i, j)) {
        entry[i] = static_cast<int>(pattern_.rows.size());
        pattern_.rows.push_back(static_cast<int>(i));
      }
    for (std::size_t k = at(apart_.starts.back()); k < apart_.rows.size(); ++k)
      entry_of_.push_back(entry[row_together(at(apart_.rows[k]))]);
    apart_.starts.push_back(static_cast<int>(apart_.rows.size()));
    pattern_.starts.push_back(static_cast<int>(pattern_.rows.size()));
  }
  groups_ = numerics::group_columns(apart_, inner_);
}

template Scratch<double> Equations::scratch() const;
template Scratch<JacobianDual> Equations::scratch() const;
template bool Equations::rates_under(const Surroundings<>&, const Plan<>&, std::span<const double>,
                                     std::span<const double>, Scratch<double>&, std::span<double>) const;

}  // namespace leat::model
