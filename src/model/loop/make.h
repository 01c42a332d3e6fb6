// The parts of make_loop, one a file.
#pragma once

#include "model/loop/filling.h"

namespace leat::model {

void make_site(Filling& fill, Loop& loop);
void make_vessels(Filling& fill, Loop& loop);
/// Lid, wall, cladding, ground and film of one vessel whose shape is known.
void wall_vessel(Filling& fill, const Component& c, Vessel& v);
void make_plumbing(Filling& fill, Loop& loop);
void make_living(Filling& fill, Loop& loop);
void make_waters(Filling& fill, Loop& loop);

/// The single part of that kind; one without any values when it is not described.
const Component& part_or_empty(const Filling& fill, std::string_view kind);

/// The vessel that a component names under `key`, or -1.
int vessel_of(const Filling& fill, const Component& c, std::string_view key, const Loop& loop);

}  // namespace leat::model
