/** The few shapes that the parts of the report are made of. */
import type { Scene } from "../figures/index.ts";
import { html, type Markup } from "./html.ts";

/** Draws a picture with its caption; none where it is empty. */
export type Draw = (scene: Scene, caption: string) => Markup;

export const notTold = (why: string): Markup => html`<p>It cannot be told: ${why}.</p>`;

export function list(items: readonly (Markup | string)[], none: string): Markup {
  return items.length === 0 ? html`<p>${none}</p>` : html`<ul>${items.map((item) => html`<li>${item}</li>`)}</ul>`;
}

export function table(heads: readonly string[], rows: readonly (readonly (string | number | Markup)[])[]): Markup {
  return html`<table><thead><tr>${heads.map((head) => html`<th scope="col">${head}</th>`)}</tr></thead>
<tbody>${rows.map((row) => html`<tr>${row.map((cell, i) => (i === 0 ? html`<th scope="row">${cell}</th>` : html`<td>${cell}</td>`))}</tr>`)}</tbody></table>`;
}
