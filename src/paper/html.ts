/** HTML as text in which data can never become markup: the tag escapes every value that is not made by it. */
import { escapeMarkup } from "../draw/svg.ts";

export class Markup {
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
}

type Value = Markup | string | number | null | undefined | false | readonly Value[];

function say(value: Value): string {
  if (value instanceof Markup) return value.text;
  if (Array.isArray(value)) return value.map(say).join("");
  if (value === null || value === undefined || value === false) return "";
  return escapeMarkup(String(value));
}

export function html(pieces: TemplateStringsArray, ...values: readonly Value[]): Markup {
  return new Markup(pieces.reduce((out, piece, i) => out + say(values[i - 1]) + piece));
}

/** Markup of our own making: pictures and styles. Never data. */
export const made = (text: string): Markup => new Markup(text);
