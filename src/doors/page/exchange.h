// One request on its way through the server. For the files of the server only.
#pragma once

#include <microhttpd.h>

#include "doors/page/reply.h"
#include "doors/page/work.h"

namespace leat::doors {

struct Exchange {
  std::string method, path, body;
  std::string device;  ///< of a home, by its cookie; "" when it is not known
  std::string client;  ///< which page asks, by the header Leat-Page; only the same may stop a question
  bool too_large = false, asked = false;
  std::shared_ptr<Job> job;
};

/// For MHD_start_daemon: only addresses of this home may connect.
MHD_Result only_private_peers(void*, const sockaddr* peer, socklen_t size);
/// The socket of a connection; it stays while a question of it is on its way.
int socket_of(MHD_Connection* connection);
/// Whether the other side has closed it.
bool hung_up(int socket);
/// A header that the request holds, or "".
std::string_view header_of(MHD_Connection* connection, const char* name);
/// What stands behind the question mark.
Values query_of(MHD_Connection* connection);

/// What a run of the command line says, as a reply.
Reply reply_of(const Job& job);
MHD_Result send(MHD_Connection* connection, const Reply& reply);
/// One of the page's own files; false if there is none.
bool send_asset(MHD_Connection* connection, const std::string& path, MHD_Result& sent);

}  // namespace leat::doors
