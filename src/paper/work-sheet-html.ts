/** The work sheet as one HTML page that opens without a network: the same ledger, the same words, plans as drawings. */
import { drawingCss, svgText, tokensCss } from "../draw/index.ts";
import { editionLine, type Imprint, recallLines } from "./frame.ts";
import { html, made } from "./html.ts";
import type { Say } from "./words/index.ts";
import type { WorkSheet } from "./work-rows.ts";

const CSS = `
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:17px/1.35 "Atkinson Hyperlegible Next","Atkinson Hyperlegible","DejaVu Sans",sans-serif;font-variant-numeric:tabular-nums}
body{max-width:1180px;margin:0 auto;padding:24px 20px 60px}
h1{font-size:30px;line-height:1.15;margin:0 0 4px}h2{font-size:19px;margin:20px 0 6px}
.soft,figcaption,thead th,footer{color:var(--soft)}
.caution{border-left:4px solid var(--accent);padding:1px 0 1px 12px;margin:0 0 6px}
table{border-collapse:collapse;width:100%}
th,td{text-align:left;vertical-align:top;font-weight:400;padding:6px 16px 6px 0;border-top:1px solid var(--hair)}
thead th{border-top:0;font-size:14px}
td.do{font-size:20px}td.do p:first-child{font-weight:700}td p{margin:0}
tr.part th{font-size:20px;font-weight:700;border-top:2px solid var(--ink);padding-top:14px}
tr.rule td{border-top:0;border-bottom:2px solid var(--accent);color:var(--accent);font-weight:700}
tr.warm td{background:var(--warm)}tr.warm td.bare{background:none}
td.bare{width:190px;border-top:1px solid var(--ink)}figure{margin:0}figure svg{display:block;width:auto;max-width:170px;max-height:300px;height:auto}
footer{margin-top:28px;border-top:1px solid var(--hair);padding-top:8px;font-size:14px}
@media (max-width:720px){td.bare{width:110px}figure svg{max-width:100px}}
@media print{@page{size:landscape;margin:10mm}body{max-width:none;padding:0}html{background:none;font-size:12px}td.do{font-size:14px}tr{break-inside:avoid}thead{display:table-header-group}}
`;

export function workSheetHtml(sheet: WorkSheet, imprint: Imprint, say: Say, typeface = ""): string {
  let pictures = 0;
  const spanOf = (index: number): number => {
    let rows = 1;
    for (let i = index + 1; i < sheet.rows.length; i += 1) {
      const row = sheet.rows[i]!;
      if (row.kind === "part" || (row.kind === "work" && row.plan !== undefined)) break;
      // A rule before the next stage's plan belongs to that stage.
      const next = sheet.rows[i + 1];
      if (row.kind === "rule" && (next?.kind !== "work" || next.plan !== undefined)) break;
      rows += 1;
    }
    return rows;
  };
  const body = sheet.rows.map((row, index) => {
    if (row.kind === "part") return html`<tr class="part"><th colspan="4" scope="rowgroup">${row.title}</th></tr>`;
    const lies = ((): boolean => {
      for (let i = index - 1; i >= 0; i -= 1) {
        const before = sheet.rows[i]!;
        if (before.kind === "part") return false;
        if (before.kind === "work" && before.plan !== undefined) return index < i + spanOf(i);
      }
      return false;
    })();
    if (row.kind === "rule") return html`<tr class="rule"><td colspan="${lies ? 3 : 4}">${row.text}</td></tr>`;
    const plan =
      row.plan === undefined
        ? lies
          ? ""
          : html`<td></td>`
        : html`<td class="bare" rowspan="${spanOf(index)}"><figure>${row.plan.scene === null ? "" : made(svgText(row.plan.scene, { id: `p${++pictures}` }))}<figcaption>${row.plan.caption}</figcaption></figure></td>`;
    return html`<tr${made(row.warm ? ' class="warm"' : "")}>${plan}<td class="do">${row.does.map((text) => html`<p>${text}</p>`)}</td><td>${row.hand}</td><td>${row.true.map((text) => html`<p>${text}</p>`)}</td></tr>`;
  });
  const page = html`<!doctype html>
<html lang="${say("language")}"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${`${imprint.device}: ${sheet.title}`}</title><style>${made(typeface)}${made(tokensCss())}${made(drawingCss())}${made(CSS)}</style></head>
<body><header><h1>${imprint.device}. ${sheet.title}</h1><p class="soft">${sheet.time}</p>
${recallLines(imprint, say).map((text) => html`<p class="caution"><b>${text}</b></p>`)}</header>
<main><h2>${say("part.cautions")}</h2>${sheet.cautions.map((text) => html`<p class="caution">${text}</p>`)}
<table><thead><tr><th scope="col">${say("head.bare")}</th><th scope="col">${say("head.do")}</th><th scope="col">${say("head.hand")}</th><th scope="col">${say("head.true")}</th></tr></thead>
<tbody>${body}</tbody></table>
</main><footer>${editionLine(imprint, say)}</footer></body></html>
`;
  return page.text;
}
