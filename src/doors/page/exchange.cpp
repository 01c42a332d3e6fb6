#include "doors/page/exchange.h"

#include <fmt/core.h>
#include <netinet/in.h>
#include <poll.h>

#include "doors/page/assets.h"
#include "doors/page/body.h"
#include "doors/page/private_address.h"

namespace leat::doors {
namespace {

constexpr const char* kPolicy =
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; "
    "manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

void put_guards(MHD_Response* response) {
  MHD_add_response_header(response, "Content-Security-Policy", kPolicy);
  MHD_add_response_header(response, "X-Content-Type-Options", "nosniff");
  MHD_add_response_header(response, "Referrer-Policy", "no-referrer");
  MHD_add_response_header(response, "Cross-Origin-Opener-Policy", "same-origin");
  MHD_add_response_header(response, "Cross-Origin-Resource-Policy", "same-origin");
}

MHD_Result take_pair(void* into, MHD_ValueKind, const char* name, const char* value) {
  static_cast<Values*>(into)->emplace_back(name, value ? value : "");
  return MHD_YES;
}

}  // namespace

MHD_Result only_private_peers(void*, const sockaddr* peer, socklen_t) {
  if (peer->sa_family == AF_INET6)
    return is_private_v6(reinterpret_cast<const sockaddr_in6*>(peer)->sin6_addr.s6_addr) ? MHD_YES : MHD_NO;
  if (peer->sa_family != AF_INET) return MHD_NO;
  return is_private(ntohl(reinterpret_cast<const sockaddr_in*>(peer)->sin_addr.s_addr)) ? MHD_YES : MHD_NO;
}

int socket_of(MHD_Connection* connection) {
  const MHD_ConnectionInfo* info = MHD_get_connection_info(connection, MHD_CONNECTION_INFO_CONNECTION_FD);
  return info ? info->connect_fd : -1;
}

bool hung_up(int socket) {
  pollfd one{socket, POLLRDHUP, 0};
  return socket >= 0 && poll(&one, 1, 0) > 0 && (one.revents & (POLLRDHUP | POLLHUP | POLLERR)) != 0;
}

std::string_view header_of(MHD_Connection* connection, const char* name) {
  const char* value = MHD_lookup_connection_value(connection, MHD_HEADER_KIND, name);
  return value ? value : "";
}

Values query_of(MHD_Connection* connection) {
  Values values;
  MHD_get_connection_values(connection, MHD_GET_ARGUMENT_KIND, take_pair, &values);
  return values;
}

Reply refused(int status, std::string_view why) {
  return {status, "application/json", problem_body(why), {}};
}

Reply reply_of(const Job& job) {
  const Run& run = job.run;
  if (run.stopped) return refused(503, "stopped");
  if (run.too_long) return refused(503, "this took longer than five minutes and was stopped; ask for less");
  if (run.too_much) return refused(503, "the answer was larger than 16 MB; ask for less");
  if (!run.could_not.empty()) return refused(500, run.could_not);
  if (run.code < 0) return refused(500, "the answer broke off; the same question on the command line may say why");
  Reply reply{200, std::string(job.question.route->type), run.out, {}};
  if (run.code == 2 || run.out.empty()) reply = refused(422, run.err);
  reply.headers.emplace_back("Leat-Exit", std::to_string(run.code));
  return reply;
}

MHD_Result send(MHD_Connection* connection, const Reply& reply) {
  MHD_Response* response =
      MHD_create_response_from_buffer(reply.body.size(), const_cast<char*>(reply.body.data()), MHD_RESPMEM_MUST_COPY);
  if (!response) return MHD_NO;
  put_guards(response);
  MHD_add_response_header(response, "Content-Type", reply.type.c_str());
  MHD_add_response_header(response, "Cache-Control", "no-store");
  for (const auto& [name, value] : reply.headers) MHD_add_response_header(response, name.c_str(), value.c_str());
  const MHD_Result sent = MHD_queue_response(connection, static_cast<unsigned>(reply.status), response);
  MHD_destroy_response(response);
  return sent;
}

bool send_asset(MHD_Connection* connection, const std::string& path, MHD_Result& sent) {
  const Asset* asset = find_asset(path);
  if (!asset) return false;
  const std::string tag = fmt::format("\"{}\"", asset->tag);
  const bool same = header_of(connection, "If-None-Match") == tag;
  const bool packed = header_of(connection, "Accept-Encoding").find("gzip") != std::string_view::npos;
  const std::string_view bytes = same ? "" : packed ? asset->packed : asset->plain;
  MHD_Response* response =
      MHD_create_response_from_buffer(bytes.size(), const_cast<char*>(bytes.data()), MHD_RESPMEM_PERSISTENT);
  put_guards(response);
  MHD_add_response_header(response, "Content-Type", std::string(asset->type).c_str());
  MHD_add_response_header(response, "ETag", tag.c_str());
  MHD_add_response_header(response, "Cache-Control", "no-cache");
  MHD_add_response_header(response, "Vary", "Accept-Encoding");
  if (packed && !same) MHD_add_response_header(response, "Content-Encoding", "gzip");
  sent = MHD_queue_response(connection, same ? 304 : 200, response);
  MHD_destroy_response(response);
  return true;
}

}  // namespace leat::doors
