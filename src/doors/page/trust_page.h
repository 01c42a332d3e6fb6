// The one page without https: how a phone learns to trust this home's authority, and how it forgets it again. It holds
// no secret and takes nothing.
#pragma once

#include <string>

struct MHD_Daemon;

namespace leat::doors {

class TrustPage {
  std::string page_, der_;
  MHD_Daemon* daemon_ = nullptr;

 public:
  /// `site`: where the page itself is, "https://192.168.1.20:8017/".
  TrustPage(const std::string& site, const std::string& fingerprint, const std::string& authority_pem);
  ~TrustPage();
  TrustPage(const TrustPage&) = delete;
  TrustPage& operator=(const TrustPage&) = delete;
  /// The port that was taken, for 0 any that is free; 0 when it cannot be had.
  int start(int port);
  const std::string& page() const { return page_; }
  const std::string& der() const { return der_; }
};

}  // namespace leat::doors
