// What is sent to the page's server, and what it says by itself, as JSON.
#pragma once

#include <string>
#include <variant>

#include "doors/page/devices.h"
#include "doors/page/metrics.h"
#include "doors/page/work.h"

namespace leat::doors {

/// A flat object of texts, numbers, yes and no, and lists of texts; or a sentence on what is wrong.
std::variant<Values, std::string> values_of_body(std::string_view body);

/// {"problems": "..."}
std::string problem_body(std::string_view said);
std::string jobs_body(const std::vector<JobShown>& jobs);

struct About {
  std::string loop_file, version;
  bool has_loop = false, has_record = false, example = false, home = false, paired = false;
};
std::string about_body(const About& about);
/// Who is known, without any secret; `own` is marked as this one.
std::string devices_body(const std::vector<Device>& devices, const std::string& own);
/// The last readings, with how long ago each was.
std::string readings_body(const std::vector<LastReading>& readings, double now_s);
/// {"name": "value", ...} with texts only.
std::string texts_body(const Values& values);

/// The description of all that may be asked, OpenAPI 3.1.
std::string openapi(std::string_view version);

}  // namespace leat::doors
