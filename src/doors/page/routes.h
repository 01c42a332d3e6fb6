// What may be asked over HTTP: one row a question, each answered by the same verb as on the command line.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace leat::doors {

enum class Form {
  text,   ///< --name=value
  flag,   ///< --name when "true" or "1"
  list,   ///< --name=value, as often as it is given
  first,  ///< the value alone, before the words
  words,  ///< the value alone, after all flags
  each,   ///< the same, as often as it is given
  plan,   ///< a text that is put in a file of its own, whose name follows the loop's
  file    ///< a text that is put in a file of its own: --name=FILE
};

struct Parameter {
  std::string_view name;
  Form form = Form::text;
  std::string_view meaning, example;
};

struct Route {
  std::string_view name;    ///< /api/NAME
  std::string_view method;  ///< "GET" asks, "POST" notes or carries a text
  std::string_view verb, asks;
  std::span<const std::string_view> fixed;  ///< flags that always go along
  std::span<const Parameter> parameters;
  std::string_view type = "application/json";
  bool writes = false;              ///< puts something into the record
  bool steady = true;               ///< the same answer while loop file, record and minute are the same
  bool of_loop = true;              ///< the loop's file goes along
  std::string_view loop_flag = "";  ///< "--loop=": how it goes along; "" where it simply follows
};

std::span<const Route> routes();
/// The row of a name and a method; nullptr if there is none.
const Route* find_route(std::string_view name, std::string_view method);

using Values = std::vector<std::pair<std::string, std::string>>;

/// A question, ready for the command line.
struct Question {
  const Route* route = nullptr;
  std::vector<std::string> flags;  ///< after the verb and the loop's file
  std::vector<std::string> words;  ///< after "--"
  std::string plan;                ///< text that goes into a file
  std::string plan_flag;           ///< "--wording=": what its name follows; "" for a plan, which follows the loop's
  std::string job;                 ///< a name by which it can be stopped
};

/// The question that the values ask, or one sentence on what is wrong with them. `ago_s`: how long ago, in seconds, a
/// note was made that is sent only now.
std::variant<Question, std::string> question_of(const Route& route, const Values& values);

}  // namespace leat::doors
