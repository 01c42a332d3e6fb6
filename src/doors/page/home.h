// What a home network needs to reach the page: names, an authority and a certificate, kept beside the record.
#pragma once

#include <ctime>
#include <string>
#include <variant>

#include "doors/page/authority.h"

namespace leat::doors {

struct Home {
  HomeNames names;
  std::string authority, certificate, key;  ///< PEM
  std::string fingerprint;                  ///< of the authority
  std::string address;                      ///< the one to go by, "192.168.1.20"
};

/// The private addresses of this machine, and its name under .local.
HomeNames names_of_this_machine();

/// Reads what is kept under `base` ("/yard/loop" for loop.toml), and makes what is not there yet or no longer fits; the
/// authority stays the same. Or one sentence on what is wrong. Files are for this user only.
std::variant<Home, std::string> open_home(const std::string& base, const HomeNames& names, std::time_t now);

}  // namespace leat::doors
