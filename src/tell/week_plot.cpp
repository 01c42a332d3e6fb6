// The plots of a week, SVG written out by hand: no script, no fonts, every mark a link to its entry.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "tell/drawing/layout/text.h"
#include "tell/week_text.h"

namespace leat::tell {
namespace {

using answers::WeekAnswer;
using drawing::escaped;

constexpr double kWidth = 720, kHeight = 220, kLeft = 48, kRight = 12, kTop = 14, kBottom = 30;
constexpr double kAcross = kWidth - kLeft - kRight, kDown = kHeight - kTop - kBottom;

/// A scale with round steps that holds all values.
struct Axis {
  double low, high, step;
  double y(double value) const { return kTop + kDown * (high - value) / (high - low); }
};

Axis axis_of(double low, double high) {
  const double span = std::max(high - low, 1e-6);
  double step = std::pow(10.0, std::floor(std::log10(span / 4.0)));
  for (const double by : {2.0, 2.5, 2.0})
    if (span / step > 6.0) step *= by;
  return {step * std::floor(low / step), step * std::max(std::ceil(high / step), std::floor(low / step) + 1.0), step};
}

std::string frame_of(const Axis& axis, const WeekAnswer& w) {
  std::string out;
  for (double v = axis.low; v <= axis.high + 0.01 * axis.step; v += axis.step)
    out += fmt::format(
        "<line class=\"grid\" x1=\"{0}\" x2=\"{1}\" y1=\"{2:.1f}\" y2=\"{2:.1f}\"/>"
        "<text class=\"tick\" x=\"{3}\" y=\"{4:.1f}\" text-anchor=\"end\">{5}</text>\n",
        kLeft, kWidth - kRight, axis.y(v), kLeft - 6, axis.y(v) + 4, drawing::number(v));
  const double day = kAcross / static_cast<double>(w.fed.size());
  for (std::size_t i = 0; i < w.fed.size(); ++i)
    out += fmt::format("<text class=\"tick\" x=\"{:.1f}\" y=\"{}\" text-anchor=\"middle\">{}</text>\n",
                       kLeft + (static_cast<double>(i) + 0.5) * day, kHeight - 10, w.fed[i].date.text().substr(5));
  return out;
}

std::string document(const std::string& title, const std::string& body) {
  return fmt::format(
      "<figure><figcaption>{0}</figcaption>\n<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {1} {2}\" "
      "role=\"img\"><title>{0}</title>\n{3}</svg></figure>\n",
      escaped(title), kWidth, kHeight, body);
}

/// A mark that leads to an entry and tells its number.
std::string marked(std::int64_t entry, const std::string& title, const std::string& shape) {
  return fmt::format("<a href=\"#e{}\"><title>{}</title>{}</a>\n", entry, escaped(title), shape);
}

}  // namespace

std::string swing_plot(const WeekAnswer& w, const Clock&) {
  double low = 1e9, high = -1e9;
  for (const auto& place : w.windows)
    for (const auto& one : place.now) {
      low = std::min(low, one.low);
      high = std::max(high, one.high);
    }
  if (low > high) return "";
  const Axis axis = axis_of(low, high);
  std::string body = frame_of(axis, w);
  const double all = static_cast<double>(w.to - w.from), width = 9.0;
  std::size_t row = 0;
  for (const auto& place : w.windows) {
    if (place.now.empty()) continue;
    const bool air = place.where == "outside";
    const double aside = air ? -0.5 * width - 1 : 0.5 * width + 1 + static_cast<double>(row++) * (width + 2);
    for (const auto& one : place.now) {
      const double x = kLeft + kAcross * static_cast<double>(one.to - w.from) / all + aside - 0.5 * width;
      const double top = axis.y(one.high), bottom = axis.y(one.low);
      const std::string words =
          fmt::format("{}, {} window: {:.1f} to {:.1f} degC, swing {:.1f} K", air ? "air" : place.where,
                      answers::window_word(one.kind), one.low, one.high, one.swing());
      body += marked(one.entries.empty() ? 0 : one.entries.front(), words,
                     fmt::format("<rect class=\"{}\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"{}\" height=\"{:.1f}\"/>",
                                 air ? "air" : "water", x, top, width, std::max(2.0, bottom - top)));
    }
  }
  return document("degC, lowest to highest in each window, by when it was read: water filled, air hollow", body);
}

std::string feed_plot(const WeekAnswer& w) {
  double most = 0.0;
  for (const auto& day : w.fed) most = std::max(most, day.grams);
  if (most <= 0.0) return "";
  const Axis axis = axis_of(0.0, most);
  std::string body = frame_of(axis, w);
  const double day = kAcross / static_cast<double>(w.fed.size());
  for (std::size_t i = 0; i < w.fed.size(); ++i) {
    const auto& fed = w.fed[i];
    const double left = kLeft + (static_cast<double>(i) + 0.2) * day, top = axis.y(fed.grams);
    if (!fed.noted) {
      body += fmt::format("<text class=\"tick\" x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"middle\">not noted</text>\n",
                          left + 0.3 * day, axis.y(0.0) - 4);
      continue;
    }
    body += marked(fed.entries.front(), fmt::format("{}: {:.0f} g", fed.date.text(), fed.grams),
                   fmt::format("<rect class=\"water\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\"/>",
                               left, top, 0.6 * day, std::max(1.0, axis.y(0.0) - top)));
  }
  return document("Feed each day, g", body);
}

}  // namespace leat::tell
