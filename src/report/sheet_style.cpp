#include "report/sheet_style.hpp"

namespace thole::style {

namespace {

// Ink on paper with one accent, which only repeats what shape, line and word say as well.
constexpr const char* of_all_pictures = R"(
svg{font-family:system-ui,"Segoe UI",Roboto,"Helvetica Neue",Arial,sans-serif;
color:#111;fill:none;stroke:none;overflow:hidden}
svg text{fill:#111;stroke:none}
.text{fill:#111}
.strong{font-weight:700}
.note{fill:#4a4a4a}
.hull{fill:#eef0f1;stroke:#6b7378;stroke-width:.35mm;vector-effect:non-scaling-stroke}
.part{fill:#fff;stroke:#111;stroke-width:.4mm;vector-effect:non-scaling-stroke}
.part2{fill:#d9dcde;stroke:#111;stroke-width:.3mm;vector-effect:non-scaling-stroke}
.gear{fill:#b9bec2;stroke:#111;stroke-width:.3mm;vector-effect:non-scaling-stroke}
.thin{fill:none;stroke:#555;stroke-width:.2mm;vector-effect:non-scaling-stroke}
.hidden{fill:none;stroke:#333;stroke-width:.25mm;stroke-dasharray:5 3;
vector-effect:non-scaling-stroke}
.centre{fill:none;stroke:#333;stroke-width:.2mm;stroke-dasharray:10 3 2 3;
vector-effect:non-scaling-stroke}
.load{fill:none;stroke:#00488c;stroke-width:.9mm;vector-effect:non-scaling-stroke}
.load.head{fill:#00488c;stroke-width:.2mm}
text.load{fill:#00488c;stroke:none;font-weight:700}
.worst{fill:none;stroke:#111;stroke-width:.7mm;vector-effect:non-scaling-stroke}
text.worst{fill:#111;stroke:none;font-weight:700}
.sector{fill:#00488c;fill-opacity:.14;stroke:#00488c;stroke-width:.25mm;
vector-effect:non-scaling-stroke}
.forbidden{fill:#777;fill-opacity:.3;stroke:#111;stroke-width:.2mm;stroke-dasharray:1 1;
vector-effect:non-scaling-stroke}
.water{fill:#dfe9f1;stroke:#5b7f9c;stroke-width:.2mm;vector-effect:non-scaling-stroke}
.dim{fill:none;stroke:#333;stroke-width:.18mm;vector-effect:non-scaling-stroke}
.dim.head{fill:#333}
text.dim{fill:#111;stroke:none}
.moved{fill:#00488c;fill-opacity:.1;stroke:#00488c;stroke-width:.5mm;stroke-dasharray:6 2;
vector-effect:non-scaling-stroke}
.unknown{fill:#fff;stroke:#111;stroke-width:.25mm;stroke-dasharray:2 2;
vector-effect:non-scaling-stroke}
.grid{fill:none;stroke:#b5babd;stroke-width:.15mm;vector-effect:non-scaling-stroke}
.axis{fill:none;stroke:#111;stroke-width:.3mm;vector-effect:non-scaling-stroke}
.mark{fill:none;stroke:#111;stroke-linejoin:round;stroke-linecap:round}
)";

// What single pictures add. Prefix the names.
constexpr const char* of_single_pictures = R"()";

}  // namespace

std::string of_pictures() { return std::string(of_all_pictures) + of_single_pictures; }
std::string of_sheet(Paper) { return of_pictures(); }

}  // namespace thole::style
