#include "answers/sizing.h"

#include <fmt/core.h>

namespace leat::answers {

std::string smallest_pipe(const model::Loop& loop, std::span<const science::PipeSize> sizes, Length<> now,
                          const Resize& resize, const Passes& passes) {
  for (const science::PipeSize& size : sizes) {
    const Length<> bore(1e-3 * size.bore_mm);
    if (bore <= now) continue;
    model::Loop other = loop;
    resize(other, bore);
    const model::Plumbing plumbing(other);
    if (passes(plumbing, model::find_cycle(plumbing, model::water_at_rest(other))))
      return fmt::format("{:g} mm pipe ({:.1f} mm inside) is enough", size.outside_mm, size.bore_mm);
  }
  return fmt::format("no pipe up to {:g} mm alone is enough", sizes.back().outside_mm);
}

}  // namespace leat::answers
