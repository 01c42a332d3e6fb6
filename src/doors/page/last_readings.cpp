#include "doors/page/last_readings.h"

#include <algorithm>
#include <filesystem>

#include "record/series.h"
#include "record/store.h"

namespace leat::doors {

std::vector<LastReading> last_readings(const std::string& record_path, long& entries) {
  entries = -1;
  std::error_code none;
  if (!std::filesystem::exists(record_path, none)) return {};
  const auto opened = record::Store::open_to_read(record_path);
  const auto* store = std::get_if<record::Store>(&opened);
  if (!store) return {};
  if (const auto size = store->size(); const auto* n = std::get_if<std::int64_t>(&size)) entries = *n;
  record::Filter filter;
  filter.what = "reading";
  filter.latest = 1000;
  const auto found = store->entries(filter);
  const auto* all = std::get_if<std::vector<record::Entry>>(&found);
  std::vector<LastReading> last;
  if (!all) return last;
  const auto take = [&](const LastReading& r) {
    const auto at = std::find_if(last.begin(), last.end(),
                                 [&](const LastReading& l) { return l.what == r.what && l.where == r.where; });
    if (at == last.end())
      last.push_back(r);
    else if (r.at_s >= at->at_s)
      *at = r;
  };
  for (const record::Entry& e : *all)
    if (e.amount.low && e.amount.high)
      take({e.extreme.empty() ? e.what : e.what + " " + e.extreme, e.where, e.amount.unit,
            0.5 * (*e.amount.low + *e.amount.high), 1e-3 * static_cast<double>(e.to)});
  const auto sensors = record::all_series(*store);
  if (const auto* every = std::get_if<std::vector<record::Series>>(&sensors))
    for (const record::Series& s : *every)
      if (s.count > 0)
        take({s.name.what, s.name.where, s.name.unit, s.last.value, 1e-3 * static_cast<double>(s.last.at)});
  return last;
}

}  // namespace leat::doors
