// One request on its way through the server. For the files of the server only.
#pragma once

#include <microhttpd.h>

#include "doors/page/work.h"

namespace leat::doors {

struct Exchange {
  std::string method, path, body;
  std::string client;  ///< which page asks, by the header Leat-Page; only the same may stop a question
  bool too_large = false, asked = false;
  std::shared_ptr<Job> job;
};

/// A header that the request holds, or "".
std::string_view header_of(MHD_Connection* connection, const char* name);
/// What stands behind the question mark.
Values query_of(MHD_Connection* connection);

struct Reply {
  int status = 200;
  std::string type = "application/json", body;
  std::vector<std::pair<std::string, std::string>> headers;
};
Reply refused(int status, std::string_view why);
/// What a run of the command line says, as a reply.
Reply reply_of(const Job& job);
MHD_Result send(MHD_Connection* connection, const Reply& reply);
/// One of the page's own files; false if there is none.
bool send_asset(MHD_Connection* connection, const std::string& path, MHD_Result& sent);

}  // namespace leat::doors
