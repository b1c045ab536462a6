#include "report/sheet_style.hpp"

#include <fmt/format.h>

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
constexpr const char* of_single_pictures = R"(
.ruler-staff{fill:#fff;stroke:#111;stroke-width:.3mm;vector-effect:non-scaling-stroke}
.ruler-block{fill:#111}
.ruler-number{fill:#111}
.ruler-band{fill:#9fb8cf;stroke:#00305e;stroke-width:.25mm;vector-effect:non-scaling-stroke}
.ruler-wedge{fill:#111}
.ruler-limit{fill:none;stroke:#111;stroke-width:.5mm;stroke-dasharray:5 2;
vector-effect:non-scaling-stroke}
.ruler-boat{fill:none;stroke:#111;stroke-width:.5mm;vector-effect:non-scaling-stroke}
.ruler-setting{fill:none;stroke:#00488c;stroke-width:.9mm;vector-effect:non-scaling-stroke}
.ruler-setting-head{fill:#00488c}
.ruler-test{fill:none;stroke:#00488c;stroke-width:.4mm;vector-effect:non-scaling-stroke}
.ruler-unknown{fill:#fff;stroke:#111;stroke-width:.2mm;stroke-dasharray:2 2;
vector-effect:non-scaling-stroke}
.ruler-hatch{fill:none;stroke:#555;stroke-width:.2mm;vector-effect:non-scaling-stroke}
.polar-holds{fill:#cfdbe6;stroke:#00305e;stroke-width:.25mm;vector-effect:non-scaling-stroke}
.polar-fails{fill:#fff;stroke:#111;stroke-width:.25mm;vector-effect:non-scaling-stroke}
.polar-hatch{fill:none;stroke:#333;stroke-width:.2mm;vector-effect:non-scaling-stroke}
.polar-unknown{fill:#fff;stroke:#111;stroke-width:.2mm;stroke-dasharray:2 2;
vector-effect:non-scaling-stroke}
.polar-rim{fill:none;stroke:#111;stroke-width:.3mm;vector-effect:non-scaling-stroke}
.polar-need{fill:none;stroke:#00488c;stroke-width:.8mm;vector-effect:non-scaling-stroke}
.polar-need-low{fill:none;stroke:#00488c;stroke-width:.4mm;stroke-dasharray:4 3;
vector-effect:non-scaling-stroke}
.polar-set{fill:none;stroke:#00488c;stroke-width:.5mm;stroke-dasharray:8 3 2 3;
vector-effect:non-scaling-stroke}
.polar-boom{fill:none;stroke:#111;stroke-width:.5mm;stroke-dasharray:1 2;
vector-effect:non-scaling-stroke}
.chart-figure{fill:#111;stroke:#fff;stroke-width:3;paint-order:stroke}
.hole-rim{fill:#fff;stroke:#111;stroke-width:.3mm;vector-effect:non-scaling-stroke}
.hole-pull{fill:#111}
.moved-seat{fill:#b9bec2;stroke:#111;stroke-width:.3mm;vector-effect:non-scaling-stroke}
.moved-open{fill:#fff;stroke:#111;stroke-width:.3mm;stroke-dasharray:2 2;
vector-effect:non-scaling-stroke}
.moved-line{fill:none;stroke:#00488c;stroke-width:.6mm;vector-effect:non-scaling-stroke}
.parts-ticks{list-style:none;padding:0}
.parts-tick{border-bottom:1px solid #888;padding:.15rem 0;break-inside:avoid}
.parts-tick label{display:flex;align-items:flex-start}
.parts-tick input{flex:none;margin:.15rem .5rem .15rem 0}
.parts-box{display:inline-block;border:1px solid #111;width:8em;height:1.7em;vertical-align:middle}
.parts-pick{white-space:nowrap;margin-left:.8em}
.parts-pick input{margin:0 .3em 0 0}
.parts-why{font-size:max(.94em,16px);color:#333}
code{font-family:ui-monospace,"DejaVu Sans Mono",monospace;font-size:1em}
.parts-row{border-bottom:1px solid #888;padding:.35rem 0;break-inside:avoid}
.parts-sketch{max-width:34rem}
@media screen and (max-width:44rem){
.parts-cut thead{position:absolute;clip-path:inset(50%);height:1px;width:1px;overflow:hidden}
.parts-cut tr{display:block;border-bottom:1px solid #888;padding:.4rem 0}
.parts-cut td,.parts-cut tbody th{display:block;border:0;padding:.1rem 0}
.parts-cut td[data-of]::before{content:attr(data-of) ": ";font-weight:700}
}
@media print{
.parts-ticks,.parts-rows,.parts-two{columns:2;column-gap:6mm}
.parts-tick input,.parts-pick input{width:10pt;height:10pt}
.parts-sketch{width:95mm}
table.parts-cut,.parts-why{font-size:10pt}
.parts-cut td:nth-child(2){width:34%}
.card h3{break-after:avoid}
.parts-row p+p{margin-top:.3mm}
.parts-row{padding:1mm 0}
}
.views-guess{fill:#f4f5f6;stroke:#555;stroke-width:.25mm;stroke-dasharray:4 3;
vector-effect:non-scaling-stroke}
.views-core{fill:#fff;stroke:#6b7378;stroke-width:.2mm;stroke-dasharray:1 2;
vector-effect:non-scaling-stroke}
.views-hit{fill:none;stroke:#111;stroke-width:.6mm;stroke-dasharray:8 3;
vector-effect:non-scaling-stroke}
.views-dot{fill:#111}
svg text.views-label{paint-order:stroke;stroke:#fff;stroke-width:3px;stroke-linejoin:round}
.pull-step{break-inside:avoid;border-top:1px solid #888;margin-top:.6rem}
.pull-box{display:block;border:1px solid #111;height:1.8em;min-width:2.6em}
.pull-boxes td{width:22%}
.pull-lines{border:1px solid #888;padding:.5rem;white-space:pre-wrap;overflow-wrap:anywhere;
font-size:1rem}
@media print,(min-width:44.01rem){.pull-step{display:grid;grid-template-columns:1fr 1fr;gap:0 1rem}
.pull-step h3{grid-column:1/-1}}
@media print{.pull-lines{columns:2}}
)";

constexpr const char* of_page = R"(
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0;background:#fff;color:#111;line-height:1.4;
font-family:Arial,"Helvetica Neue",Helvetica,Roboto,"DejaVu Sans Condensed",sans-serif;
font-size:17px;overflow-wrap:anywhere}
main{max-width:75rem;margin:0 auto;padding:.75rem .9rem 3rem;overflow:clip}
main *{max-width:100%}
h1,h2,h3,p,ul,ol,dl,dd,figure,table{margin:0}
h1{font-size:2.1rem;line-height:1.1;margin:.2rem 0 .5rem;letter-spacing:-.01em}
h2{font-size:1.2rem;line-height:1.2;margin:1.6rem 0 .5rem;padding-top:.35rem;
border-top:3px solid #111}
h3{font-size:1rem;margin:.7rem 0 .15rem}
p+p{margin-top:.4rem}
ul,ol{padding-left:1.3em}
a{color:#00488c}
small{font-size:max(.86em,14px)}
.sign{height:.95em;width:.95em;vertical-align:-.1em}
h1 .sign{height:1em;width:1em}
.title{font-weight:700}
.sentence{font-size:1.15rem}
.if{margin-top:.5rem}
nav{margin:.8rem 0 0}
nav ul{list-style:none;padding:0;display:flex;flex-wrap:wrap;gap:.2rem 1rem}
nav a{display:inline-block;padding:.35rem 0}
.limit{border:2px solid #111;padding:.5rem .7rem;margin-bottom:.6rem}
.limit h3{margin:0}
.large{font-size:1.7rem;line-height:1.15}
.large b{display:inline-block;font-size:2.5rem;line-height:1;color:#00488c}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.1rem .8rem;margin-top:.4rem}
dt{font-weight:700}
.changes li{margin-bottom:.6rem}
.what{font-weight:700}
.changes li p+p{margin-top:.1rem}
figure>svg{display:block;width:100%;height:auto}
figcaption{font-size:.95rem;margin-top:.2rem}
.pictures figure{margin-bottom:1rem}
.cautions ul{list-style:none;padding:0}
.cautions li{position:relative;padding-left:1.1em;margin-bottom:.25rem}
.cautions li::before{content:"!";position:absolute;left:.15em;font-weight:700}
.deferral{border:2px solid #111;padding:.5rem .7rem;margin-top:1.2rem}
.box{border:1px solid #111;padding:0 .7rem .6rem;margin-top:1.6rem}
.box h2{border-top:0;margin-top:.4rem}
table{border-collapse:collapse;width:100%;font-size:1rem}
caption{text-align:left;font-size:.95rem;margin-bottom:.2rem}
th,td{text-align:left;vertical-align:top;padding:.3rem .5rem .3rem 0;border-bottom:1px solid #888}
thead th{border-bottom:2px solid #111}
tbody th{font-weight:400}
thead th,td{overflow-wrap:normal}
td.case{overflow-wrap:anywhere}
td.n{white-space:nowrap;font-variant-numeric:tabular-nums}
.sign-cell{width:6.2em}
.fine{font-size:.95rem}
.made{margin-top:1.2rem}
.sign-line{margin-top:1rem}
.foot,.paper,.on-paper{display:none}
.seasons th,.seasons td{border:1px solid #888;padding:.3rem;text-align:center}
input[type=checkbox]{width:1.5rem;height:1.5rem;vertical-align:-.25em;margin:.5rem .4rem .5rem 0}
main>label{margin-right:1.4rem}
input:focus-visible,a:focus-visible{outline:3px solid #00488c;outline-offset:2px}
.card{break-before:page}
@media screen and (max-width:44rem){
table.checks thead,table.loads thead{position:absolute;clip-path:inset(50%);height:1px;width:1px;
overflow:hidden}
table.checks tr,table.loads tr{display:flex;flex-wrap:wrap;gap:0 .9rem;
border-bottom:1px solid #888;padding:.4rem 0}
table.checks td,table.checks tbody th,table.loads td,table.loads tbody th{border:0;padding:0}
table.checks tbody th,table.loads tbody th{flex:1 0 100%;font-weight:700;order:-1}
table.checks td[data-of]::before,table.loads td[data-of]::before{content:attr(data-of) " "}
}
@media screen and (min-width:44.01rem){
.pictures{columns:2;column-gap:2rem}
.pictures h2{column-span:all}
.pictures figure{break-inside:avoid}
.answers{columns:2;column-gap:2rem}
.answers>section{break-inside:avoid}
.cautions ul{columns:2;column-gap:2rem}
.cautions li{break-inside:avoid}
.run{columns:2;column-gap:2rem}
}
)";

// Two pages, each a grid as high as the paper. Texts take what they take, pictures what is left:
// down to `least`, then the page runs on to another leaf. Nothing is cut.
constexpr const char* on_paper = R"(
@media print{
body{font-size:10pt;line-height:1.11;-webkit-print-color-adjust:exact;print-color-adjust:exact}
main{max-width:none;padding:0;overflow:visible}
nav,main>input,main>label,.card,.on-screen{display:none}
.foot,.paper,.on-paper{display:block}
tr.paper{display:table-row}
li.paper{display:list-item}
.foot{font-size:8.5pt;margin-top:1mm}
h1{font-size:17pt;margin:0 0 .5mm}
h2{font-size:11pt;margin:0 0 .6mm;padding-top:.6mm;border-top:.5mm solid #111}
h3{font-size:10pt;margin:.6mm 0 0}
h2,h3{break-after:avoid}
p+p{margin-top:.6mm}
.sentence{font-size:11pt}
.if{margin-top:.6mm}
a{color:#111;text-decoration:none}
small{font-size:1em}
.page{display:grid;grid-template-columns:minmax(0,1fr) minmax(0,1fr);gap:.8mm 5mm;
min-height:var(--page)}
.page>*{grid-column:1/-1;margin:0}
.one{grid-template-rows:auto auto minmax(auto,1fr)}
.one>header{display:flex;flex-wrap:wrap;align-items:baseline;gap:0 4mm}
.one>header>*{flex:1 0 100%;margin:0}
.one>header>h1{order:-1;flex:none}
.one>header>.title{flex:1}
.answers{columns:2;column-gap:5mm}
.answers>section{margin-bottom:.5mm}
.views{display:flex;flex-direction:column}
.views>.row{flex:1000 1 auto;max-height:calc(var(--high)*62mm);display:grid;
grid-auto-flow:column;grid-auto-columns:minmax(0,1fr);
gap:3mm}
.two{break-before:page;grid-template-rows:minmax(auto,1fr)}
.two>.column{grid-column:auto;display:flex;flex-direction:column;gap:1mm}
section.flexible{flex:1 1 auto;display:flex;flex-direction:column;columns:auto}
figure.flexible{--wide:93mm;--words:8mm;flex:var(--high) 1 var(--words);
min-height:calc(var(--high)*var(--narrow) + var(--words));
max-height:calc(var(--high)*var(--wide) + var(--words));display:flex;flex-direction:column}
.views figure.flexible{--wide:62mm;--words:0mm;min-height:var(--least)}
.bare>figcaption,.spare>figure{display:none}
.spare{flex:1 1 0;container-type:size;display:flex;justify-content:center}
@container (min-height:58mm){.spare>figure.flexible{display:flex;flex:none;width:93mm;height:100%;
max-height:85mm}}
figure.flexible>svg{flex:1 1 0;min-height:0;width:100%}
figure.flexible>figcaption{flex:none}
figcaption{font-size:8.5pt;margin:0}
.limit{border-width:.4mm;padding:.8mm 2mm;margin-bottom:1mm}
.large{font-size:14pt}
.large b{font-size:19pt}
dl{margin-top:.6mm}
dt,dd{display:inline}
dt::after{content:" "}
dd::after{content:"; "}
dd:last-child::after{content:"."}
.limit h3{float:right;margin:0 0 0 3mm}
.limit .how,.limit dl:not(.on-screen){display:inline}
.limit .how::after{content:" "}
.changes li{margin-bottom:.6mm}
.changes li p:not(.on-screen){display:inline}
.changes li p+p::before{content:" "}
.changes li:nth-child(n+4){display:none}
figure,tr,.limit,.changes li{break-inside:avoid}
.case{display:none}
.cautions,.order{border-top:.5mm solid #111;padding-top:.6mm}
.cautions{columns:2;column-gap:5mm}
.cautions h2,.order h2,.order h2+p{display:inline;border:0}
.cautions h2::after,.order h2::after{content:": "}
.cautions ul,.cautions li{display:inline;padding:0}
.cautions li::before{content:"! ";position:static}
.cautions li::after{content:". "}
.run{columns:auto}
.deferral{border-width:.4mm;padding:1mm 2mm}
.deferral p{display:inline}
.deferral p+p::before{content:" "}
.sign-cell{width:auto;white-space:nowrap}
.sign-cell .sign{max-width:none}
.tabled h2{display:none}
.checks tbody th{width:42%}
caption{font-size:11pt;font-weight:700;padding-top:.6mm;border-top:.5mm solid #111}
.inputs,.inputs h3,.not-checked,.margins{font-size:8.5pt}
.inputs h3{display:inline}
.inputs ul{display:inline}
.inputs h3::after{content:" "}
.not-checked p{display:inline}
.two>.deferral{padding:.4mm 2mm}
.sources ol{columns:2;column-gap:5mm}
.sign-line small{font-size:8.5pt}
table{font-size:8.5pt}
th,td{padding:.25mm 1.5mm .25mm 0;border-bottom:.1mm solid #888}
thead th{border-bottom:.3mm solid #111}
.fine{font-size:8.5pt}
.box{padding:.8mm 2mm 1mm}
.box h2{padding-top:0}
.run{list-style:none;padding:0}
.run li{display:inline}
.run li.paper{display:inline}
.run li::after{content:"; "}
.run li:last-child::after{content:"."}
.made{font-size:8.5pt}
#print-tables:not(:checked)~.two .extra,.spare figcaption ul,
#print-tables:not(:checked)~.two :is(.hole-table,figcaption ul){display:none}
#print-tables:checked~.page .paper{display:none}
#print-tables:checked~.page .case{display:table-cell}
#print-tables:checked~.two,#print-tables:checked~.two>.column{display:block}
#print-tables:checked~.two figure.flexible{display:block;max-height:none}
#print-cards:checked~.card{display:block}
}
)";

// ISO 216 and ANSI Y14.1, in mm, less margins and what printers round away.
std::string paper_of(Paper paper) {
  const bool a4 = paper == Paper::a4;
  return fmt::format(
      "@page{{margin:{}mm 8.5mm;size:{}}}\n@media "
      "print{{main{{--page:{}mm;--least:{}mm;--narrow:{}mm}}}}\n",
      a4 ? 6 : 5, a4 ? "A4" : "letter", a4 ? 284 : 269, a4 ? 36 : 34, a4 ? 68 : 62);
}

}  // namespace

std::string of_pictures() { return std::string(of_all_pictures).append(of_single_pictures); }
std::string of_sheet(Paper paper) { return of_pictures() + of_page + on_paper + paper_of(paper); }

}  // namespace thole::style
