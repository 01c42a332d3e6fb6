// Who may ask: the names this server goes by, and whether a request came from its own page.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leat::doors {

/// What a request says of itself; empty where it says nothing.
struct Said {
  std::string_view host, origin, fetch_site, content_type;
};

/// Names with their port, lower case: "127.0.0.1:8017", "localhost:8017".
std::vector<std::string> own_names(int port);
/// Those and more: "yard.local:8017".
std::vector<std::string> own_names(int port, const std::vector<std::string>& more);

struct Refusal {
  int status = 403;
  std::string why;
};

/// Nothing when the request may go on. A name that is not ours is refused (another site may have been pointed at this
/// address); a write must come from our own page, or from a program that is no browser.
std::optional<Refusal> refusal(const Said& said, bool write, const std::vector<std::string>& names,
                               std::string_view scheme);

}  // namespace leat::doors
