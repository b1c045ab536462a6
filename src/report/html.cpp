#include "report/html.hpp"

#include <fmt/format.h>

#include <cmath>

#include "report/svg.hpp"
#include "report/text.hpp"

namespace thole::html {
namespace {

constexpr double inch = 0.0254;

// Length of the sequence that a valid UTF-8 character starts at `i`, 0 when it is broken.
std::size_t sequence_at(const std::string& s, std::size_t i) {
  const auto byte = [&](std::size_t k) { return static_cast<unsigned char>(s[k]); };
  const unsigned lead = byte(i);
  std::size_t n = 0;
  if (lead < 0x80) return 1;
  if (lead >= 0xc2 && lead <= 0xdf) n = 2;
  if (lead >= 0xe0 && lead <= 0xef) n = 3;
  if (lead >= 0xf0 && lead <= 0xf4) n = 4;
  if (n == 0 || i + n > s.size()) return 0;
  for (std::size_t k = 1; k < n; ++k) {
    if ((byte(i + k) & 0xc0U) != 0x80U) return 0;
  }
  const unsigned second = byte(i + 1);
  if (lead == 0xe0 && second < 0xa0) return 0;   // overlong
  if (lead == 0xed && second >= 0xa0) return 0;  // surrogates
  if (lead == 0xf0 && second < 0x90) return 0;   // overlong
  if (lead == 0xf4 && second >= 0x90) return 0;  // beyond U+10FFFF
  return n;
}

// Whole steps of `step`; a hair beyond one counts as it.
double steps(double v, double step, Rounding r) {
  const double in = v / step;
  if (r == Rounding::up) return std::ceil(in - 1e-6);
  if (r == Rounding::down) return std::floor(in + 1e-6);
  return std::round(in);
}

std::string sixteenths(Length v, Rounding r) {
  const long n = std::lround(steps(std::abs(v.value()), inch / 16, r));
  const bool off = std::abs(std::abs(v.value()) - double(n) / 16 * inch) > 1e-4;
  const std::string sign = v.value() < 0 && n > 0 ? "-" : "";
  long numerator = n % 16;
  long denominator = 16;
  while (numerator > 0 && numerator % 2 == 0) {
    numerator /= 2;
    denominator /= 2;
  }
  std::string out = sign;
  if (n / 16 > 0 || numerator == 0) out += std::to_string(n / 16);
  if (numerator > 0) {
    if (n / 16 > 0) out += ' ';
    out += std::to_string(numerator) + "/" + std::to_string(denominator);
  }
  return (off ? "about " : "") + out + " in";
}

std::string millimetres(Length v, Rounding r = Rounding::nearest) {
  return show_number(steps(v.value(), 1e-4, r) / 10) + " mm";
}

std::string in_order(const std::string& in, const std::string& mm, ReaderUnits u) {
  return u == ReaderUnits::inch ? in + " (" + mm + ")" : mm + " (" + in + ")";
}

}  // namespace

std::string clean(const std::string& any, std::size_t most) {
  std::string whole;
  for (std::size_t i = 0; i < any.size();) {
    const std::size_t n = sequence_at(any, i);
    if (n == 0) {
      whole += "\xef\xbf\xbd";
      ++i;
      continue;
    }
    whole.append(any, i, n);
    i += n;
  }
  return text::plain(text::printable(whole), most);
}

std::string text(const std::string& any, std::size_t most) {
  std::string out;
  for (const char c : clean(any, most)) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string users(const std::string& any, std::size_t most) {
  return "<bdi>" + text(any, most) + "</bdi>";
}

Mark mark_of(Verdict v) {
  switch (v) {
    case Verdict::holds:
      return Mark::tick;
    case Verdict::holds_if:
      return Mark::triangle;
    case Verdict::does_not_hold:
      return Mark::cross;
    case Verdict::no_verdict:
      break;
  }
  return Mark::question;
}

Mark mark_of(const CheckResult& c) {
  if (c.standing != Standing::applies) return Mark::question;
  if (!c.holds) return Mark::cross;
  return c.assumed.empty() ? Mark::tick : Mark::triangle;
}

std::string mark_shape(Mark m, double x, double y, double size) {
  const auto at = [&](double dx, double dy) {
    return svg::number(x + dx * size) + " " + svg::number(y + dy * size);
  };
  const std::string width = svg::number(size * 0.14);
  switch (m) {
    case Mark::tick:
      return "<path class=\"mark tick\" fill=\"none\" stroke-width=\"" + width + "\" d=\"M" +
             at(-0.42, 0.02) + " L" + at(-0.12, 0.36) + " L" + at(0.44, -0.38) + "\"/>";
    case Mark::triangle:
      return "<path class=\"mark triangle\" fill=\"none\" stroke-width=\"" + width + "\" d=\"M" +
             at(0, -0.4) + " L" + at(0.44, 0.38) + " L" + at(-0.44, 0.38) + " Z\"/>";
    case Mark::cross:
      return "<path class=\"mark cross\" fill=\"none\" stroke-width=\"" + width + "\" d=\"M" +
             at(-0.38, -0.38) + " L" + at(0.38, 0.38) + " M" + at(0.38, -0.38) + " L" +
             at(-0.38, 0.38) + "\"/>";
    case Mark::question:
      break;
  }
  return "<path class=\"mark question\" fill=\"none\" stroke-width=\"" + width + "\" d=\"M" +
         at(-0.24, -0.2) + " C" + at(-0.2, -0.52) + " " + at(0.3, -0.5) + " " + at(0.24, -0.16) +
         " C" + at(0.2, 0.04) + " " + at(0, 0) + " " + at(0, 0.2) + " M" + at(0, 0.36) + " L" +
         at(0, 0.44) + "\"/>";
}

std::string mark(Mark m) {
  return "<svg class=\"sign\" viewBox=\"-12 -12 24 24\" aria-hidden=\"true\" focusable=\"false\">" +
         mark_shape(m, 0, 0, 20) + "</svg>";
}

std::string both(Length v, ReaderUnits u, Rounding r) {
  return in_order(sixteenths(v, r), millimetres(v, r), u);
}

std::string both_decimal(Length v, ReaderUnits u) {
  return in_order(fmt::format("{:.3f} in", v.value() / inch), millimetres(v), u);
}

std::string both(Force v, ReaderUnits u, Rounding r) {
  const ReaderUnits other = u == ReaderUnits::inch ? ReaderUnits::metric : ReaderUnits::inch;
  return about(v, u, r) + " (" + about(v, other, r) + ")";
}

std::string element(std::string_view tag, const std::string& content, std::string_view of) {
  std::string out = "<" + std::string(tag);
  if (!of.empty()) out += " class=\"" + std::string(of) + "\"";
  return out + ">" + content + "</" + std::string(tag) + ">";
}

}  // namespace thole::html
