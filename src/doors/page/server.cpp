#include "doors/page/server.h"

#include <arpa/inet.h>
#include <fmt/core.h>
#include <netinet/in.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <atomic>
#include <ctime>
#include <fstream>

#include "base/units/parse.h"
#include "doors/page/assets.h"
#include "doors/page/body.h"
#include "doors/page/crowd.h"
#include "doors/page/events.h"
#include "doors/page/exchange.h"
#include "doors/page/guard.h"
#include "doors/page/home_answers.h"
#include "doors/page/last_readings.h"
#include "doors/page/metrics.h"

namespace leat::doors {
namespace {

constexpr unsigned kMostConnections = 1500, kTimeout_s = 15;
constexpr std::size_t kHeaderMemory = 24u << 10, kMostBody = 256u << 10, kMostJobsAtOnce = 200;

/// When a file was last written, and how long it is; "" if it is not there.
std::string stamp(const std::string& path) {
  struct stat s {};
  return stat(path.c_str(), &s) == 0 ? fmt::format("{}.{}.{}", s.st_mtim.tv_sec, s.st_mtim.tv_nsec, s.st_size) : "";
}

/// A loop's file as it stands; "" if it is not there.
std::string text_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::string text(256u << 10, '\0');
  in.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(std::max<std::streamsize>(in.gcount(), 0)));
  return text;
}

void allow_many_files() {
  rlimit limit{};
  if (getrlimit(RLIMIT_NOFILE, &limit) != 0 || limit.rlim_cur >= 4096) return;
  limit.rlim_cur = std::min<rlim_t>(limit.rlim_max, 4096);
  setrlimit(RLIMIT_NOFILE, &limit);
}

}  // namespace

struct Server::Inside {
  ServeSettings settings;
  Work work;
  Events events;
  std::vector<std::string> names;
  Devices devices;  ///< asked only when a home is served
  Crowd crowd;      ///< likewise
  MHD_Daemon* daemon = nullptr;
  std::atomic<long> requests{0}, refusals{0}, too_large{0};
  std::atomic<long> on_the_way{0};
  std::atomic<bool> ready{false};  ///< what the first request needs stands only after the daemon has begun
  double began = static_cast<double>(std::time(nullptr));
  std::jthread watcher;

  explicit Inside(const ServeSettings& s) : settings(s), work(s.folder, s.loop, s.weather), devices(s.devices_path()) {}

  std::string record_path() const {
    const std::string loop = work.loop_path();
    return loop.substr(0, loop.rfind('.')) + ".record.db";
  }
  MHD_Result access(MHD_Connection* c, const char* url, const char* method, const char* data, std::size_t* size,
                    void** state);
  MHD_Result answer(MHD_Connection* c, Exchange& x);
  MHD_Result ask(MHD_Connection* c, Exchange& x, const Route& route);
  bool own(const Exchange& x, Reply& reply);
  std::optional<Reply> unknown_device(MHD_Connection* c, Exchange& x);
  std::string state() const;
  Served served() const;
  void watch(std::stop_token stop);
  /// Whether a new connection is taken at all.
  bool takes(const sockaddr* peer) const {
    return only_private_peers(nullptr, peer, 0) == MHD_YES && (!settings.home || crowd.admits(peer_address(peer)));
  }
};

namespace {

PeerAddress address_of(MHD_Connection* c) {
  const MHD_ConnectionInfo* info = MHD_get_connection_info(c, MHD_CONNECTION_INFO_CLIENT_ADDRESS);
  return peer_address(info ? info->client_addr : nullptr);
}

/// A connection begins or ends; what it was counted under is kept with it.
void on_connection(void* crowd, MHD_Connection* c, void** kept, MHD_ConnectionNotificationCode what) {
  if (what == MHD_CONNECTION_NOTIFY_STARTED) {
    auto* from = new PeerAddress(address_of(c));
    static_cast<Crowd*>(crowd)->opened(*from);
    *kept = from;
  } else if (auto* from = static_cast<PeerAddress*>(*kept)) {
    static_cast<Crowd*>(crowd)->closed(*from);
    delete from;
    *kept = nullptr;
  }
}

void on_end(void*, MHD_Connection*, void** state, MHD_RequestTerminationCode) {
  delete static_cast<Exchange*>(*state);
  *state = nullptr;
}

}  // namespace

/// What the page may want to look at again: changes when record or loop file do.
std::string Server::Inside::state() const {
  return texts_body(
      {{"record", stamp(record_path()) + stamp(record_path() + "-wal")}, {"loop", stamp(work.loop_path())}});
}

/// Tells the pages what is new, and every 15 s that this server is still there.
void Server::Inside::watch(std::stop_token stop) {
  std::string before = state(), devices_before = stamp(devices.path());
  for (int tick = 0; !stop.stop_requested(); ++tick) {
    timespec pause{0, 500'000'000};
    nanosleep(&pause, nullptr);
    work.stop_gone();
    // Looked at also while nobody listens: who opens a stream and is put out before the next look must not keep it.
    if (const std::string known = stamp(devices.path()); known != devices_before) {
      events.drop();  // they come back, if they are still known
      crowd.forget();
      devices_before = known;
    }
    if (events.count() == 0) continue;
    const std::string now = state();
    if (now != before) events.tell(event_text("changed", now));
    before = now;
    const auto jobs = work.shown();
    if (!jobs.empty()) events.tell(event_text("jobs", jobs_body(jobs)));
    if (tick % 30 == 0) events.tell(": still here\n\n");
  }
}

Served Server::Inside::served() const {
  const MHD_DaemonInfo* open = MHD_get_daemon_info(daemon, MHD_DAEMON_INFO_CURRENT_CONNECTIONS);
  Served all{requests,
             refusals,
             too_large,
             open ? static_cast<long>(open->num_connections) : 0,
             static_cast<long>(events.count()),
             -1,
             began,
             {}};
  all.readings = last_readings(record_path(), all.entries);
  return all;
}

/// What this server answers by itself. False when it is not one of these.
bool Server::Inside::own(const Exchange& x, Reply& reply) {
  const bool get = x.method == "GET";
  if (settings.home && answer_home(devices, {x.method, x.path, x.body, x.device}, std::time(nullptr), reply))
    return true;
  if (x.path == "/api/about" && get) {
    reply.body = about_body({settings.loop, settings.version, !stamp(work.loop_path()).empty(),
                             !stamp(record_path()).empty(), work.shows_example(), settings.home.has_value(), true});
  } else if (x.path == "/api/loop" && get) {
    reply.body = texts_body({{"file", settings.loop}, {"text", text_of(work.loop_path())}});
  } else if (x.path == "/api/last" && get) {
    long entries = 0;
    reply.body = readings_body(last_readings(record_path(), entries), static_cast<double>(std::time(nullptr)));
  } else if (x.path == "/api/jobs" && get) {
    reply.body = jobs_body(work.shown());
  } else if (x.path == "/api/openapi.json" && get) {
    reply.body = openapi(settings.version);
  } else if (x.path == "/metrics" && get) {
    reply.type = "application/openmetrics-text; version=1.0.0; charset=utf-8";
    reply.body = metrics_text(served(), work.counts(), work.shown().size());
  } else if (x.path == "/api/own" && x.method == "POST") {
    work.show_own();
    reply.body = "{\"example\":false}\n";
  } else if (x.path == "/api/stop" && x.method == "POST") {
    const auto values = values_of_body(x.body);
    const auto* said = std::get_if<Values>(&values);
    const bool found =
        said && !said->empty() && said->front().first == "job" && work.stop(said->front().second, x.client);
    reply = found ? Reply{200, "application/json", "{\"stopped\":true}\n", {}} : refused(404, "no such job is running");
  } else {
    return false;
  }
  return true;
}

/// Who is not paired reads and writes nothing: the page's files, which hold no data, and the asking for a code are all.
std::optional<Reply> Server::Inside::unknown_device(MHD_Connection* c, Exchange& x) {
  if (!settings.home) return std::nullopt;
  x.device = devices.device_of(token_of(header_of(c, "Cookie")));
  if (!x.device.empty()) {
    crowd.knows(address_of(c));
    x.client = x.device + ' ' + x.client;
    return std::nullopt;
  }
  if (x.path == "/api/about" && x.method == "GET")
    return Reply{200, "application/json", "{\"program\":\"leat\",\"home\":true,\"paired\":false}\n", {}};
  if (x.path == "/api/pair" || find_asset(x.path) != nullptr) return std::nullopt;
  return refused(401, "this device is not known here; it becomes so with the code that the terminal shows");
}

MHD_Result Server::Inside::ask(MHD_Connection* c, Exchange& x, const Route& route) {
  Values values;
  if (x.method == "GET") {
    values = query_of(c);
  } else {
    auto sent = values_of_body(x.body);
    if (const auto* wrong = std::get_if<std::string>(&sent)) return send(c, refused(400, *wrong));
    values = std::move(std::get<Values>(sent));
  }
  auto question = question_of(route, values);
  if (const auto* wrong = std::get_if<std::string>(&question)) return send(c, refused(422, *wrong));
  if (on_the_way >= static_cast<long>(kMostJobsAtOnce)) return send(c, refused(503, "too many questions wait already"));
  x.job = std::make_shared<Job>();
  x.job->client = x.client;
  x.job->question = std::move(std::get<Question>(question));
  x.job->gone = [socket = socket_of(c)] { return hung_up(socket); };
  x.job->done = [this, c] {
    MHD_resume_connection(c);
    --on_the_way;  // last: once it is nought the server may stop
  };
  x.asked = true;
  ++on_the_way;
  MHD_suspend_connection(c);
  if (!work.ask(x.job)) {
    x.job->run.err = "too many questions wait already";
    x.job->run.stopped = true;
    x.job->done();
  }
  return MHD_YES;
}

MHD_Result Server::Inside::answer(MHD_Connection* c, Exchange& x) {
  if (x.asked) return send(c, reply_of(*x.job));
  if (!ready) return send(c, refused(503, "the server is just beginning"));
  ++requests;
  x.client = header_of(c, "Leat-Page").substr(0, 64);
  const bool write = x.method == "POST";
  if (x.method != "GET" && !write) return send(c, refused(405, "only GET and POST are answered"));
  const Said said{header_of(c, "Host"), header_of(c, "Origin"), header_of(c, "Sec-Fetch-Site"),
                  header_of(c, "Content-Type")};
  // A page may be opened from anywhere; what it asks for may not.
  const bool page = !write && find_asset(x.path) != nullptr;
  Said seen = said;
  if (page) seen.fetch_site = "";
  if (const auto no = refusal(seen, write, names, settings.home ? "https" : "http")) {
    ++refusals;
    return send(c, refused(no->status, no->why));
  }
  if (x.too_large) {
    ++too_large;
    return send(c, refused(413, "what was sent is larger than 256 KB"));
  }
  if (const auto no = unknown_device(c, x)) return send(c, *no);
  MHD_Result sent = MHD_NO;
  if (!write && send_asset(c, x.path, sent)) return sent;
  if (x.path == "/api/events" && !write)
    return events.open(c, event_text("changed", state()), sent)
               ? sent
               : send(c, refused(503, "too many pages listen already"));
  Reply reply;
  if (own(x, reply)) return send(c, reply);
  if (x.path.starts_with("/api/"))
    if (const Route* route = find_route(x.path.substr(5), x.method)) return ask(c, x, *route);
  if (x.path == "/" && assets().empty())
    return send(c, {200, "text/plain", "This leat was built without its page; /api answers all the same.\n", {}});
  return send(c, refused(404, "nothing is here; /api/openapi.json tells what may be asked"));
}

MHD_Result Server::Inside::access(MHD_Connection* c, const char* url, const char* method, const char* data,
                                  std::size_t* size, void** state) {
  if (!*state) {
    *state = new Exchange{method, url, "", "", "", false, false, nullptr};
    return MHD_YES;
  }
  auto& x = *static_cast<Exchange*>(*state);
  if (*size > 0) {
    x.too_large = x.too_large || x.body.size() + *size > kMostBody;
    if (x.too_large)
      x.body.clear();
    else
      x.body.append(data, *size);
    *size = 0;
    return MHD_YES;
  }
  return answer(c, x);
}

Server::Server(const ServeSettings& settings) : inside_(std::make_unique<Inside>(settings)) {}

bool Server::start(std::string& why_not) {
  allow_many_files();
  Inside& in = *inside_;
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(static_cast<std::uint16_t>(in.settings.port));
  address.sin_addr.s_addr = htonl(in.settings.home ? INADDR_ANY : INADDR_LOOPBACK);
  sockaddr_in6 both{};
  both.sin6_family = AF_INET6;
  both.sin6_port = address.sin_port;
  const auto call = [](void* self, MHD_Connection* c, const char* url, const char* method, const char*,
                       const char* data, std::size_t* size,
                       void** state) { return static_cast<Inside*>(self)->access(c, url, method, data, size, state); };
  const auto taken = [](void* self, const sockaddr* peer, socklen_t) {
    return static_cast<const Inside*>(self)->takes(peer) ? MHD_YES : MHD_NO;
  };
  std::vector<MHD_OptionItem> more;
  if (const auto& home = in.settings.home) {
    more.push_back({MHD_OPTION_HTTPS_MEM_CERT, 0, const_cast<char*>(home->certificate.c_str())});
    more.push_back({MHD_OPTION_HTTPS_MEM_KEY, 0, const_cast<char*>(home->key.c_str())});
    more.push_back({MHD_OPTION_HTTPS_PRIORITIES, 0, const_cast<char*>("NORMAL:-VERS-ALL:+VERS-TLS1.3:+VERS-TLS1.2")});
  }
  more.push_back({MHD_OPTION_END, 0, nullptr});
  const unsigned flags =
      MHD_USE_EPOLL_INTERNAL_THREAD | MHD_ALLOW_SUSPEND_RESUME | (in.settings.home ? unsigned{MHD_USE_TLS} : 0u);
  const auto begin = [&](unsigned kind, void* where) {
    return MHD_start_daemon(
        flags | kind, static_cast<std::uint16_t>(in.settings.port), +taken, &in, +call, &in, MHD_OPTION_SOCK_ADDR,
        static_cast<sockaddr*>(where), MHD_OPTION_CONNECTION_LIMIT, kMostConnections, MHD_OPTION_NOTIFY_CONNECTION,
        &on_connection, &in.crowd, MHD_OPTION_CONNECTION_TIMEOUT, kTimeout_s, MHD_OPTION_CONNECTION_MEMORY_LIMIT,
        kHeaderMemory, MHD_OPTION_NOTIFY_COMPLETED, &on_end, nullptr, MHD_OPTION_ARRAY, more.data(), MHD_OPTION_END);
  };
  if (in.settings.home) in.daemon = begin(MHD_USE_DUAL_STACK, &both);
  if (!in.daemon) in.daemon = begin(0, &address);  // a machine without IPv6
  if (!in.daemon) {
    why_not = fmt::format("port {} cannot be had; another program may use it. Try --port {}", in.settings.port,
                          in.settings.port + 1);
    return false;
  }
  std::vector<std::string> names;
  if (const auto& home = in.settings.home) {
    names = home->names.names;
    for (const std::string& a : home->names.addresses) names.push_back(in_link(a));
  }
  in.names = own_names(port(), names);
  in.ready = true;
  in.watcher = std::jthread([&in](std::stop_token stop) { in.watch(stop); });
  return true;
}

int Server::port() const {
  const MHD_DaemonInfo* info =
      inside_->daemon ? MHD_get_daemon_info(inside_->daemon, MHD_DAEMON_INFO_BIND_PORT) : nullptr;
  return info ? info->port : 0;
}

Server::~Server() {
  Inside& in = *inside_;
  in.watcher = {};
  if (!in.daemon) return;
  in.events.close();
  in.work.stop_all();
  while (in.on_the_way > 0) {
    timespec pause{0, 20'000'000};
    nanosleep(&pause, nullptr);
  }
  MHD_stop_daemon(in.daemon);
}

}  // namespace leat::doors
