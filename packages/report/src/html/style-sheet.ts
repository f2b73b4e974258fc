import { COLOURS, type Theme } from "@alcedo-dosimetry/figures";
import type { ReportDocument } from "../document/document.ts";

/** The colours of a page that figures do not have, by theme. */
const PAGE: Readonly<Record<Theme, Readonly<Record<string, string>>>> = {
  light: { ground: "#f5f1e6", panel: "#fffef9", rule: "#d8d0bb", tint: "#f6e7dc" },
  dark: { ground: "#11171c", panel: "#182026", rule: "#33404a", tint: "#2f2620" },
  print: { ground: "#ffffff", panel: "#ffffff", rule: "#999999", tint: "#eeeeee" },
};

const variables = (theme: Theme) =>
  Object.entries({ ...COLOURS[theme], ...PAGE[theme] })
    .map(([name, colour]) => `--${name}:${colour}`)
    .join(";");

/** Figures are drawn in the colours of the light theme; the others put their own in their place. */
const repainted = (theme: Theme) =>
  Object.entries(COLOURS.light)
    .flatMap(([role, colour]) =>
      ["fill", "stroke"].map(
        (paint) => `figure svg [${paint}="${colour}"]{${paint}:${COLOURS[theme][role as keyof typeof COLOURS.light]}}`,
      ),
    )
    .join("");

/** A text as a string of a style sheet. */
const quoted = (text: string) =>
  `"${text.replace(/[^\w :.·,▲-]/gu, (character) => `\\${character.codePointAt(0)!.toString(16)} `)}"`;

/**
 * The style of a page that stands alone: light or dark as the reader's system says, and on paper, where each page bears
 * the digest of the input, the version, its number, and the marking of data that nobody measured.
 */
export function styleSheet({ input, version, campaign, marking }: ReportDocument): string {
  return `:root{color-scheme:light dark;${variables("light")}}
@media screen and (prefers-color-scheme:dark){:root{${variables("dark")}}${repainted("dark")}}
@media print{:root{color-scheme:light;${variables("print")}}${repainted("print")}}
*{box-sizing:border-box}
html{background:var(--ground);color:var(--ink);font:100%/1.5 "IBM Plex Sans","Segoe UI","Helvetica Neue",Arial,"Noto Sans","DejaVu Sans",sans-serif}
body{max-width:68rem;margin:0 auto;padding:1rem;overflow-wrap:break-word}
h1,h2,h3,h4{font-family:"Source Serif 4","Source Serif Pro",Georgia,"Noto Serif","DejaVu Serif",serif;line-height:1.25;margin:1.6em 0 .5em}
h1{font-size:1.9rem;margin-top:.2em}h2{font-size:1.45rem;border-top:2px solid var(--ink);padding-top:.6rem}h3{font-size:1.15rem}h4{font-size:1rem}
p{margin:.5em 0}a{color:var(--attention)}
a:focus-visible,.scroll:focus-visible{outline:3px solid var(--attention);outline-offset:2px}
.type{color:var(--attention);font-weight:600;margin:0}
.marking{position:sticky;top:0;z-index:1;margin:0 0 1rem;padding:.4rem .8rem;background:var(--panel);color:var(--attention);border:2px solid var(--attention);font-weight:600}
nav ul{columns:14rem;padding-left:1.2rem}
.lead{font-size:1.1rem}p.strong{font-weight:600}.dim,.legend{color:var(--muted)}.legend{font-size:.85rem;margin-top:.2em}
.attention{color:var(--attention)}
.number,td.number,tbody th.number,td.code,tbody th.code,.formula{font-family:"IBM Plex Mono",Consolas,Menlo,"DejaVu Sans Mono",monospace;font-variant-numeric:tabular-nums}
sub{font-size:.72em;line-height:0}
dl{display:grid;gap:.15rem .9rem;margin:.7em 0}dl>div{display:grid;grid-template-columns:minmax(7rem,11rem) 1fr;gap:.8rem}dt{color:var(--muted)}dd{margin:0;min-width:0}
.scroll{overflow-x:auto;margin:.9em 0 .3em}
table{border-collapse:collapse;background:var(--panel);font-size:.88rem;min-width:100%}
caption{text-align:left;font-weight:600;padding:.2rem 0 .35rem;caption-side:top}
th,td{padding:.22rem .55rem;text-align:left;vertical-align:top;border-bottom:1px solid var(--rule)}
thead th[class]{font-family:inherit}thead th{border-bottom:1.5px solid var(--ink);color:var(--muted);font-weight:600;vertical-align:bottom}
tbody th{font-weight:400}th.number,td.number{text-align:right;white-space:nowrap}
td.text,th.text{min-width:6rem}.broken{min-width:14rem}
th,td{overflow-wrap:normal}.broken,dd,p,h1{overflow-wrap:anywhere}.whole{white-space:nowrap}thead th{overflow-wrap:normal;word-break:normal}
td.channel-1{color:var(--channel-1)}td.channel-2{color:var(--channel-2)}
tr.left-out>*{background:var(--tint)}tr.left-out td.number{text-decoration:line-through}tr.reference>*{border-bottom-color:var(--ink)}
.share rect{fill:var(--attention)}
.figures{display:flex;flex-wrap:wrap;gap:0 1.2rem;align-items:flex-end}
figure{margin:.9em 0;max-width:100%}figure .scroll{margin:0}figure svg{display:block}
.formula{background:var(--panel);border-left:3px solid var(--rule);padding:.4rem .8rem;margin:.6em 0;font-size:.88rem}.formula p{margin:.15em 0;padding-left:1.2em;text-indent:-1.2em}
.finding{border-left:4px solid var(--muted);background:var(--panel);padding:.3rem .8rem;margin:.7em 0}.finding.error,.finding.warning{border-color:var(--attention)}
.blank{display:flex;gap:.6rem;align-items:flex-end;margin:.9em 0;min-height:1.6em}.blank>span:first-child{min-width:5rem}.line{flex:1;border-bottom:1px solid var(--ink);min-width:6rem}
.signature{border:1px solid var(--rule);background:var(--panel);padding:.5rem 1rem;margin:.8rem 0;max-width:40rem}
.page-break{border:0;margin:0}
footer{border-top:1px solid var(--rule);margin-top:2rem;padding-top:.5rem;color:var(--muted);font-size:.85rem}
@media (max-width:40rem){dl>div{grid-template-columns:1fr;gap:0}h1{font-size:1.5rem}}
@page{size:A4;margin:16mm 15mm 18mm;
@top-left{content:${quoted(marking === undefined ? "" : `▲ ${marking}`)};font:600 8pt sans-serif;color:#8c2f06}
@top-right{content:${quoted(campaign)};font:7.5pt sans-serif;color:#4d4d4d}
@bottom-left{content:${quoted(input)};font:6.2pt monospace;color:#4d4d4d}
@bottom-right{content:${quoted(`alcedo ${version} · page `)} counter(page) " of " counter(pages);font:7.5pt sans-serif;color:#4d4d4d}}
@media print{html{font-size:9pt}body{max-width:none;padding:0}nav,.marking{display:none}.scroll{overflow:visible}
h1,h2,h3,h4{break-after:avoid}table{font-size:7pt;min-width:0;width:100%}thead{display:table-header-group}tr,figure,.finding,.signature,.formula{break-inside:avoid}
th,td{padding:.12rem .3rem}td.text,th.text{min-width:0}.broken{min-width:14mm}.small{break-inside:avoid}table.wide{font-size:6pt}table.wide th,table.wide td{padding:.1rem .2rem}caption{break-after:avoid}.page-break{break-after:page}p{orphans:3;widows:3}
*{print-color-adjust:exact}}`;
}
