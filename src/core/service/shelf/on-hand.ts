import { InputError } from "../../errors.ts";
import { readTable } from "./table.ts";

/** What is on the shelf already: columns `number` (or id, name) and `count`. Empty: nothing. @throws InputError */
export function readOnHand(text: string): Map<string, number> {
  const stock = new Map<string, number>();
  if (text.trim() === "") return stock;
  const { heads, rows } = readTable(text);
  const number = heads.findIndex((head) => /^(number|id|name)$/i.test(head));
  const count = heads.findIndex((head) => /^(count|onhand|on-hand|quantity)$/i.test(head));
  if (number < 0 || count < 0)
    throw new InputError({ path: "heading", found: heads.join(", "), expected: "columns number and count" });
  for (const { line, cells } of rows) {
    const amount = cells[count] ?? "";
    if (!/^\d{1,9}(\.\d+)?$/.test(amount))
      throw new InputError({
        path: `line ${line}, count`,
        found: JSON.stringify(amount),
        expected: "a number of 0 or more",
      });
    stock.set(cells[number] ?? "", (stock.get(cells[number] ?? "") ?? 0) + Number(amount));
  }
  return stock;
}
