// Reading what the command line names. All that is wrong goes to Problems; nothing throws.
#pragma once

#include <optional>
#include <string>

#include "model/loop/loop.h"

namespace leat::doors {

/// The whole of a file, or a problem that says why not.
std::optional<std::string> read_file(const std::string& path, Problems& problems);

/// The loop that a file describes. Empty when there are problems.
std::optional<model::Loop> read_loop(const std::string& path, Problems& problems);

/// Writes a new file. Refuses one that is there already; never leaves half a file.
bool write_new_file(const std::string& path, const std::string& text, std::string& why_not);

/// Writes a drawing, over an older drawing if there is one. Refuses to write over anything else.
bool write_drawing(const std::string& path, const std::string& svg, std::string& why_not);

}  // namespace leat::doors
