// Vessels, bars and pipes drawn on a sheet; each tells which signs it used.
#pragma once

#include <set>

#include "tell/drawing/symbols.h"

namespace leat::tell::drawing {

using Signs = std::set<Sign>;

struct Pen {
  Svg& svg;
  const Sheet& sheet;
  const model::Loop& loop;
  const answers::CheckAnswer& answer;
  Signs& signs;
};

/// Heights in metres at the left, with faint lines across.
void draw_scale(Pen& pen);
void draw_vessels(Pen& pen);
void draw_pipes(Pen& pen);
/// Symbols on and in vessels and pipes: over the pipes.
void draw_symbols(Pen& pen);
void draw_labels(Pen& pen);
void draw_words(Pen& pen, const Label& label);
/// Around the part that the first finding is about, if it is drawn.
void draw_ring(Pen& pen, const std::string& path);

}  // namespace leat::tell::drawing
