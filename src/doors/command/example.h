// The loop of examples/first-loop, which travels inside the program.
#pragma once

#include <string_view>

namespace leat::doors {

std::string_view example_loop();

}  // namespace leat::doors
