#include "doors/page/authority.h"

#include <arpa/inet.h>
#include <fmt/core.h>
#include <gnutls/crypto.h>
#include <gnutls/gnutls.h>
#include <gnutls/x509-ext.h>
#include <gnutls/x509.h>

#include <array>

namespace leat::doors {
namespace {

constexpr std::time_t kDay = 86400, kAuthorityDays = 3650, kServerDays = 397, kMonth = 30 * kDay;

/// Something of GnuTLS that must be given back.
template <class T, int (*Make)(T*), void (*Free)(T)>
struct Held {
  T it{};
  Held() { Make(&it); }
  ~Held() { Free(it); }
  Held(const Held&) = delete;
  Held& operator=(const Held&) = delete;
};
using Certificate = Held<gnutls_x509_crt_t, gnutls_x509_crt_init, gnutls_x509_crt_deinit>;
using Key = Held<gnutls_x509_privkey_t, gnutls_x509_privkey_init, gnutls_x509_privkey_deinit>;
using Constraints =
    Held<gnutls_x509_name_constraints_t, gnutls_x509_name_constraints_init, gnutls_x509_name_constraints_deinit>;

gnutls_datum_t datum(const std::string& text) {
  return {reinterpret_cast<unsigned char*>(const_cast<char*>(text.data())), static_cast<unsigned>(text.size())};
}

/// The first thing that went wrong.
struct Steps {
  int wrong = 0;
  void operator()(int code) {
    if (wrong >= 0 && code < 0) wrong = code;
  }
  std::string why() const {
    return wrong < 0 ? fmt::format("no certificate could be made ({})", gnutls_strerror(wrong)) : "";
  }
};

std::string pem_of(const Certificate& c) {
  gnutls_datum_t out{};
  if (gnutls_x509_crt_export2(c.it, GNUTLS_X509_FMT_PEM, &out) < 0) return "";
  std::string text(reinterpret_cast<char*>(out.data), out.size);
  gnutls_free(out.data);
  return text;
}

std::string pem_of(const Key& k) {
  gnutls_datum_t out{};
  if (gnutls_x509_privkey_export2_pkcs8(k.it, GNUTLS_X509_FMT_PEM, nullptr, GNUTLS_PKCS_PLAIN, &out) < 0) return "";
  std::string text(reinterpret_cast<char*>(out.data), out.size);
  gnutls_free(out.data);
  return text;
}

int read_in(const Certificate& c, const std::string& pem) {
  const gnutls_datum_t text = datum(pem);
  return gnutls_x509_crt_import(c.it, &text, GNUTLS_X509_FMT_PEM);
}

/// What every certificate of ours has: number, time, key and its name.
void begin(Steps& step, const Certificate& c, const Key& key, const std::string& name, std::time_t now,
           std::time_t days) {
  std::array<unsigned char, 16> serial{};
  step(gnutls_rnd(GNUTLS_RND_NONCE, serial.data(), serial.size()));
  serial[0] = static_cast<unsigned char>((serial[0] & 0x3f) | 0x40);  // positive, and as long as it is
  step(gnutls_x509_privkey_generate(key.it, GNUTLS_PK_ECDSA, GNUTLS_CURVE_TO_BITS(GNUTLS_ECC_CURVE_SECP256R1), 0));
  step(gnutls_x509_crt_set_version(c.it, 3));
  step(gnutls_x509_crt_set_serial(c.it, serial.data(), serial.size()));
  step(gnutls_x509_crt_set_activation_time(c.it, now - kDay));  // a phone's clock may be behind
  step(gnutls_x509_crt_set_expiration_time(c.it, now + days * kDay));
  step(gnutls_x509_crt_set_dn_by_oid(c.it, GNUTLS_OID_X520_COMMON_NAME, 0, name.data(),
                                     static_cast<unsigned>(name.size())));
  step(gnutls_x509_crt_set_key(c.it, key.it));
  step(gnutls_x509_crt_set_key_purpose_oid(c.it, GNUTLS_KP_TLS_WWW_SERVER, 0));
  std::array<unsigned char, 64> id{};
  std::size_t size = id.size();
  step(gnutls_x509_privkey_get_key_id(key.it, 0, id.data(), &size));
  step(gnutls_x509_crt_set_subject_key_id(c.it, id.data(), std::min<std::size_t>(size, 20)));
}

/// Only names under .local and private addresses; critical, so that who does not know of it refuses.
void constrain(Steps& step, const Certificate& c) {
  const Constraints only;
  const std::string local = "local";
  const gnutls_datum_t name = datum(local);
  step(gnutls_x509_name_constraints_add_permitted(only.it, GNUTLS_SAN_DNSNAME, &name));
  for (const std::string& range : private_ranges()) {
    gnutls_datum_t bytes{};
    step(gnutls_x509_cidr_to_rfc5280(range.c_str(), &bytes));
    step(gnutls_x509_name_constraints_add_permitted(only.it, GNUTLS_SAN_IPADDRESS, &bytes));
    gnutls_free(bytes.data);
  }
  step(gnutls_x509_crt_set_name_constraints(c.it, only.it, 1));
}

std::string bytes_of(const std::string& address) {
  std::array<char, 16> b{};
  if (inet_pton(AF_INET, address.c_str(), b.data()) == 1) return {b.data(), 4};
  if (inet_pton(AF_INET6, address.c_str(), b.data()) == 1) return {b.data(), 16};
  return "";
}

}  // namespace

const std::vector<std::string>& private_ranges() {
  static const std::vector<std::string> ranges = {"10.0.0.0/8",  "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16",
                                                  "127.0.0.0/8", "fc00::/7",      "fe80::/10",      "::1/128"};
  return ranges;
}

std::variant<Signed, std::string> new_authority(const std::string& name, std::time_t now) {
  const Certificate c;
  const Key key;
  Steps step;
  begin(step, c, key, name, now, kAuthorityDays);
  step(gnutls_x509_crt_set_basic_constraints(c.it, 1, 0));
  step(gnutls_x509_crt_set_key_usage(c.it, GNUTLS_KEY_KEY_CERT_SIGN | GNUTLS_KEY_CRL_SIGN));
  constrain(step, c);
  step(gnutls_x509_crt_sign2(c.it, c.it, key.it, GNUTLS_DIG_SHA256, 0));
  if (step.wrong < 0) return step.why();
  return Signed{pem_of(c), pem_of(key)};
}

std::variant<Signed, std::string> new_certificate(const Signed& authority, const HomeNames& names, std::time_t now) {
  const Certificate c, ca;
  const Key key, ca_key;
  Steps step;
  step(read_in(ca, authority.certificate));
  const gnutls_datum_t ca_text = datum(authority.key);
  step(gnutls_x509_privkey_import(ca_key.it, &ca_text, GNUTLS_X509_FMT_PEM));
  begin(step, c, key, names.names.empty() ? "leat" : names.names.front(), now, kServerDays);
  step(gnutls_x509_crt_set_basic_constraints(c.it, 0, -1));
  step(gnutls_x509_crt_set_key_usage(c.it, GNUTLS_KEY_DIGITAL_SIGNATURE));
  for (const std::string& n : names.names)
    step(gnutls_x509_crt_set_subject_alt_name(c.it, GNUTLS_SAN_DNSNAME, n.data(), static_cast<unsigned>(n.size()),
                                              GNUTLS_FSAN_APPEND));
  for (const std::string& a : names.addresses) {
    const std::string bytes = bytes_of(a);
    if (bytes.empty()) return fmt::format("no certificate could be made: \"{}\" is no address", a);
    step(gnutls_x509_crt_set_subject_alt_name(c.it, GNUTLS_SAN_IPADDRESS, bytes.data(),
                                              static_cast<unsigned>(bytes.size()), GNUTLS_FSAN_APPEND));
  }
  std::array<unsigned char, 64> id{};
  std::size_t size = id.size();
  step(gnutls_x509_crt_get_subject_key_id(ca.it, id.data(), &size, nullptr));
  step(gnutls_x509_crt_set_authority_key_id(c.it, id.data(), size));
  step(gnutls_x509_crt_sign2(c.it, ca.it, ca_key.it, GNUTLS_DIG_SHA256, 0));
  if (step.wrong < 0) return step.why();
  return Signed{pem_of(c), pem_of(key)};
}

bool still_fits(const std::string& certificate, const std::string& authority, const HomeNames& names, std::time_t now) {
  const Certificate c, ca;
  if (read_in(c, certificate) < 0 || read_in(ca, authority) < 0) return false;
  if (gnutls_x509_crt_get_expiration_time(c.it) < now + kMonth) return false;
  unsigned wrong = 0;
  if (gnutls_x509_crt_verify(c.it, &ca.it, 1, 0, &wrong) < 0 || wrong != 0) return false;
  for (const std::string& n : names.names)
    if (gnutls_x509_crt_check_hostname(c.it, n.c_str()) == 0) return false;
  for (const std::string& a : names.addresses)
    if (gnutls_x509_crt_check_hostname(c.it, a.c_str()) == 0) return false;
  return true;
}

std::string fingerprint_of(const std::string& certificate) {
  const Certificate c;
  std::array<unsigned char, 32> hash{};
  std::size_t size = hash.size();
  if (read_in(c, certificate) < 0 || gnutls_x509_crt_get_fingerprint(c.it, GNUTLS_DIG_SHA256, hash.data(), &size) < 0)
    return "";
  std::string text;
  for (const unsigned char b : hash) text += fmt::format("{}{:02X}", text.empty() ? "" : ":", b);
  return text;
}

std::string der_of(const std::string& certificate) {
  const Certificate c;
  gnutls_datum_t out{};
  if (read_in(c, certificate) < 0 || gnutls_x509_crt_export2(c.it, GNUTLS_X509_FMT_DER, &out) < 0) return "";
  std::string bytes(reinterpret_cast<char*>(out.data), out.size);
  gnutls_free(out.data);
  return bytes;
}

std::string random_hex(std::size_t bytes) {
  std::string raw(bytes, '\0');
  if (gnutls_rnd(GNUTLS_RND_KEY, raw.data(), raw.size()) < 0) std::abort();  // without chance there is no secret
  std::string text;
  for (const char b : raw) text += fmt::format("{:02x}", static_cast<unsigned char>(b));
  return text;
}

}  // namespace leat::doors
