#include "doors/page/trust_page.h"

#include <arpa/inet.h>
#include <fmt/core.h>
#include <microhttpd.h>
#include <netinet/in.h>

#include <string_view>

#include "doors/page/authority.h"
#include "doors/page/exchange.h"

namespace leat::doors {
namespace {

constexpr std::string_view kPage = R"(<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>leat at home: trust it on this phone</title>
<style>body{{font:18px/1.5 system-ui,sans-serif;max-width:40rem;margin:0 auto;padding:1rem;color:#111;background:#fff}}code{{overflow-wrap:anywhere;font-size:1.05rem}}a.go{{display:inline-block;padding:.8rem 1.2rem;border-radius:.5rem;background:#0b4f6c;color:#fff;text-decoration:none;font-weight:600}}li{{margin:.4rem 0}}
@media(prefers-color-scheme:dark){{body{{color:#f2f5f6;background:#101416}}a{{color:#8fd3f0}}a.go{{background:#8fd3f0;color:#06222e}}}}</style></head>
<body><h1>Trust this home's leat</h1>
<p>So that the page works on this phone without a connection, and nobody on the network reads along, the phone must know
the authority that this home made for itself. It can vouch for names that end in .local and for addresses inside a home,
for no site on the internet.</p>
<p><a class="go" href="/leat-home.crt">1. Fetch the certificate</a></p>
<p>2. Compare. The phone shows a SHA-256 fingerprint; it must be the one that the terminal shows, not only the one here:</p>
<p><code>{fingerprint}</code></p>
<p>If one letter differs, stop: somebody stands between.</p>
<h2>3. Put it in</h2>
<p>The words may differ a little from phone to phone.</p>
<ul>
<li><strong>iPhone, iPad</strong>: Settings, Profile downloaded, Install. Then Settings, General, About, Certificate Trust
Settings: switch it on.</li>
<li><strong>Android</strong>: Settings, Security, more, Encryption and credentials, Install a certificate, CA certificate. It
warns that the network may be watched; that holds for any certificate that is put in by hand.</li>
<li><strong>Windows</strong>: open the file, Install, Current user, Trusted Root Certification Authorities.</li>
<li><strong>Mac</strong>: open the file in Keychain Access, then Trust: always, for SSL.</li>
<li><strong>Linux, Firefox</strong>: Settings, Certificates, Authorities, Import: for websites.</li>
</ul>
<p><a class="go" href="{site}">4. Open the page</a></p>
<p>It asks for the code that stands in the terminal.</p>
<h2>To take it out again</h2>
<ul>
<li><strong>iPhone, iPad</strong>: Settings, General, VPN and Device Management: remove the profile.</li>
<li><strong>Android</strong>: Settings, Security, Trusted credentials, User: remove it.</li>
<li><strong>Others</strong>: the same list where it was put in.</li>
</ul>
<p>Then, at the terminal: <code>leat serve --devices</code> lists who is known, <code>leat serve --forget</code> makes one unknown.
Remove the two files that end in .home-authority.pem and .home.pem beside the loop's file, and the authority is gone for good.</p>
</body></html>
)";

MHD_Result put(MHD_Connection* c, unsigned status, const std::string& body, const char* type,
               const char* file = nullptr) {
  MHD_Response* r = MHD_create_response_from_buffer(body.size(), const_cast<char*>(body.data()), MHD_RESPMEM_MUST_COPY);
  MHD_add_response_header(r, "Content-Type", type);
  MHD_add_response_header(r, "X-Content-Type-Options", "nosniff");
  MHD_add_response_header(r, "Cache-Control", "no-store");
  MHD_add_response_header(r, "Content-Security-Policy",
                          "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'");
  if (file) MHD_add_response_header(r, "Content-Disposition", fmt::format("attachment; filename={}", file).c_str());
  const MHD_Result sent = MHD_queue_response(c, status, r);
  MHD_destroy_response(r);
  return sent;
}

MHD_Result answer(void* self, MHD_Connection* c, const char* url, const char* method, const char*, const char*,
                  std::size_t* size, void** state) {
  static int seen;
  if (!*state) {
    *state = &seen;
    return MHD_YES;
  }
  if (*size > 0) {
    *size = 0;  // nothing is taken
    return MHD_YES;
  }
  const auto& page = *static_cast<const TrustPage*>(self);
  const std::string_view path = url, asked = method;
  if (asked != "GET") return put(c, 405, "Only GET.\n", "text/plain");
  if (path == "/") return put(c, 200, page.page(), "text/html; charset=utf-8");
  if (path == "/leat-home.crt") return put(c, 200, page.der(), "application/x-x509-ca-cert", "leat-home.crt");
  return put(c, 404, "Nothing is here.\n", "text/plain");
}

}  // namespace

TrustPage::TrustPage(const std::string& site, const std::string& fingerprint, const std::string& authority_pem)
    : page_(fmt::format(fmt::runtime(kPage), fmt::arg("site", site), fmt::arg("fingerprint", fingerprint))),
      der_(der_of(authority_pem)) {}

int TrustPage::start(int port) {
  for (const unsigned kind : {unsigned{MHD_USE_DUAL_STACK}, 0u})  // the second is for a machine without IPv6
    if (!daemon_)
      daemon_ =
          MHD_start_daemon(MHD_USE_EPOLL_INTERNAL_THREAD | kind, static_cast<std::uint16_t>(port), &only_private_peers,
                           nullptr, &answer, this, MHD_OPTION_CONNECTION_LIMIT, 64u, MHD_OPTION_CONNECTION_TIMEOUT, 15u,
                           MHD_OPTION_CONNECTION_MEMORY_LIMIT, std::size_t{16} << 10, MHD_OPTION_END);
  const MHD_DaemonInfo* info = daemon_ ? MHD_get_daemon_info(daemon_, MHD_DAEMON_INFO_BIND_PORT) : nullptr;
  return info ? info->port : 0;
}

TrustPage::~TrustPage() {
  if (daemon_) MHD_stop_daemon(daemon_);
}

}  // namespace leat::doors
