/** Breaks text at spaces so that no line is wider than `width`; words that are longer stand alone. */
export function wrap(text: string, width: number, first = "", next = first): string {
  const rows = [first];
  let empty = true;
  for (const word of text.split(/\s+/).filter((w) => w !== "")) {
    const row = rows.at(-1)!;
    if (!empty && row.length + 1 + word.length > width) {
      rows.push(next + word);
    } else {
      rows[rows.length - 1] = empty ? row + word : `${row} ${word}`;
    }
    empty = false;
  }
  return rows.join("\n");
}
