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

/// An address as it stands in a link: one of IPv6 in brackets.
std::string in_link(const std::string& address);

/// The private addresses of this machine, what others can reach first, and its name under .local. Not those of IPv6 that
/// hold on one cable only (fe80::): a browser has no way to write them.
HomeNames names_of_this_machine();

/// Reads what is kept under `base` ("/yard/loop" for loop.toml), and makes what is not there yet or no longer fits; the
/// authority stays the same. Or one sentence on what is wrong. Files are for this user only.
std::variant<Home, std::string> open_home(const std::string& base, const HomeNames& names, std::time_t now);

}  // namespace leat::doors
