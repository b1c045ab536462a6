#include "report/svg.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "report/html.hpp"

namespace thole::svg {

std::string number(double v) {
  if (!std::isfinite(v)) return "0";
  std::string out = fmt::format("{:.3f}", v);
  while (out.back() == '0') out.pop_back();
  if (out.back() == '.') out.pop_back();
  return out == "-0" ? "0" : out;
}

namespace {

std::string of_class(std::string_view of) {
  return of.empty() ? "" : " class=\"" + std::string(of) + "\"";
}

std::string points_of(const std::vector<Point>& points) {
  std::string out;
  for (const Point& p : points) {
    if (!out.empty()) out += ' ';
    out += number(p.x) + "," + number(p.y);
  }
  return out;
}

}  // namespace

Drawing::Drawing(std::string id, double width, double height, std::string title,
                 std::string description, bool scale_1_to_1)
    : id_(std::move(id)),
      width_(width),
      height_(height),
      title_(std::move(title)),
      description_(std::move(description)),
      true_size_(scale_1_to_1) {}

void Drawing::line(Point a, Point b, std::string_view of) {
  body_ += "<line" + of_class(of) + " x1=\"" + number(a.x) + "\" y1=\"" + number(a.y) + "\" x2=\"" +
           number(b.x) + "\" y2=\"" + number(b.y) + "\"/>";
}

void Drawing::polyline(const std::vector<Point>& points, std::string_view of) {
  body_ += "<polyline" + of_class(of) + " points=\"" + points_of(points) + "\"/>";
}

void Drawing::polygon(const std::vector<Point>& points, std::string_view of) {
  body_ += "<polygon" + of_class(of) + " points=\"" + points_of(points) + "\"/>";
}

void Drawing::rectangle(Point corner, double width, double height, std::string_view of) {
  body_ += "<rect" + of_class(of) + " x=\"" + number(corner.x) + "\" y=\"" + number(corner.y) +
           "\" width=\"" + number(width) + "\" height=\"" + number(height) + "\"/>";
}

void Drawing::circle(Point middle, double radius, std::string_view of) {
  body_ += "<circle" + of_class(of) + " cx=\"" + number(middle.x) + "\" cy=\"" + number(middle.y) +
           "\" r=\"" + number(radius) + "\"/>";
}

void Drawing::path(const std::string& data, std::string_view of) {
  body_ += "<path" + of_class(of) + " d=\"" + data + "\"/>";
}

void Drawing::text(Point at, const std::string& any, double size, Anchor anchor,
                   std::string_view of, double turned) {
  body_ += "<text" + of_class(of) + " x=\"" + number(at.x) + "\" y=\"" + number(at.y) +
           "\" font-size=\"" + number(size) + "\"";
  if (anchor == Anchor::middle) body_ += " text-anchor=\"middle\"";
  if (anchor == Anchor::end) body_ += " text-anchor=\"end\"";
  if (turned != 0) {
    body_ +=
        " transform=\"rotate(" + number(turned) + " " + number(at.x) + " " + number(at.y) + ")\"";
  }
  body_ += ">" + html::text(any, 120) + "</text>";
}

void Drawing::arrow(Point tail, Point head_at, double head, std::string_view of) {
  const double dx = head_at.x - tail.x;
  const double dy = head_at.y - tail.y;
  const double length = std::hypot(dx, dy);
  if (!(length > 0)) return;
  const double ux = dx / length;
  const double uy = dy / length;
  const Point neck{head_at.x - ux * head, head_at.y - uy * head};
  line(tail, neck, of);
  const double half = head * 0.4;
  polygon(
      {head_at, {neck.x - uy * half, neck.y + ux * half}, {neck.x + uy * half, neck.y - ux * half}},
      std::string(of) + " head");
}

void Drawing::begin_group(std::string_view of, const std::string& transform) {
  body_ += "<g" + of_class(of);
  if (!transform.empty()) body_ += " transform=\"" + transform + "\"";
  body_ += ">";
}

void Drawing::end_group() { body_ += "</g>"; }

std::string Drawing::element() const {
  std::string out = "<svg id=\"" + id_ + "\" role=\"img\" aria-labelledby=\"" + id_ + "-t " + id_ +
                    "-d\" viewBox=\"0 0 " + number(width_) + " " + number(height_) + "\"";
  if (true_size_) {
    out += " width=\"" + number(width_) + "mm\" height=\"" + number(height_) + "mm\"";
  }
  return out + "><title id=\"" + id_ + "-t\">" + html::text(title_, 120) + "</title><desc id=\"" +
         id_ + "-d\">" + html::text(description_, 2000) + "</desc>" + body_ + "</svg>";
}

std::string Drawing::file(const std::string& style) const {
  std::string out = element();
  out.insert(4, " xmlns=\"http://www.w3.org/2000/svg\"");
  const std::size_t at = out.find("</desc>") + 7;
  out.insert(at, "<style>" + style + "</style>");
  return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + out + "\n";
}

}  // namespace thole::svg
