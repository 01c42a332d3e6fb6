// What cannot be done, told on the stream for mistakes and fitted to its terminal.
#pragma once

#include <string>
#include <string_view>

#include "base/result/problem.h"

namespace leat::doors {

/// "leat VERB: why." The exit code of what needs mending, 2.
int refused(std::string_view verb, const std::string& why);
/// All mistakes at once; 2.
int refused(const Problems& problems);

}  // namespace leat::doors
