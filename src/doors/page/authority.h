// A private authority for one home, made on the spot: it can sign for names under .local and for private addresses, and
// for nothing else, and it can make no other authority.
#pragma once

#include <ctime>
#include <string>
#include <variant>
#include <vector>

namespace leat::doors {

/// A certificate and its key, PEM.
struct Signed {
  std::string certificate, key;
};

/// Names and addresses that a certificate is for: "yard.local", "192.168.1.20".
struct HomeNames {
  std::vector<std::string> names, addresses;
};

/// A new authority, or why there is none. Ten years; ECDSA on P-256.
std::variant<Signed, std::string> new_authority(const std::string& name, std::time_t now);

/// A certificate for a server, signed by the authority. 397 days, which every phone takes. Whether the names lie within
/// what the authority may sign is for who reads it to judge: they refuse it if not.
std::variant<Signed, std::string> new_certificate(const Signed& authority, const HomeNames& names, std::time_t now);

/// Whether a certificate was signed by this authority, is for all of these, and holds for another month at least.
bool still_fits(const std::string& certificate, const std::string& authority, const HomeNames& names, std::time_t now);

/// SHA-256 over the certificate, as phones show it: "AB:CD:...". "" when it cannot be read.
std::string fingerprint_of(const std::string& certificate);
/// The certificate as DER, which phones take.
std::string der_of(const std::string& certificate);

/// Random bytes as hexadecimal digits, from the system.
std::string random_hex(std::size_t bytes);

/// The ranges of addresses that are never routed outside, "10.0.0.0/8".
const std::vector<std::string>& private_ranges();

}  // namespace leat::doors
