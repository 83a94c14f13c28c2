/**
 * Sheets held against what they promise: true scale, real text, the same bytes, editions and recalls. Where poppler's tools are
 * installed the files are also read and rasterised by them.
 */
import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { inflateSync } from "node:zlib";
import { afterAll, describe, expect, it } from "vitest";
import type { TeardownRecord } from "../core/record/index.ts";
import { swapOf } from "../core/service/swap/index.ts";
import { recallsOf, screwsOf } from "./edition.ts";
import type { Imprint } from "./frame.ts";
import { Words } from "./ledger-words.ts";
import { makeSheets, type SheetOptions } from "./make-sheets.ts";
import type { PageItem, PageSize } from "./page.ts";
import { measurer, printable, writePdf } from "./pdf-writer.ts";
import { confusable, letterOf, numberScrews } from "./screw-numbers.ts";
import { type Measured, screwSheet } from "./screw-sheet.ts";
import { de } from "./words/de.ts";
import { en } from "./words/en.ts";
import { LANGUAGES, sayer, wordListFrom } from "./words/index.ts";
import { workSheet } from "./work-rows.ts";
import { workSheetHtml } from "./work-sheet-html.ts";
import { workSheetPdf } from "./work-sheet-pdf.ts";
import { crc32, zipOf } from "./zip.ts";

const read = (name: string): TeardownRecord =>
  JSON.parse(readFileSync(new URL(`../../examples/${name}.json`, import.meta.url), "utf8"));
const phone = read("thrandle-5");
const tablet = read("halverim-11");
const now = (): number => performance.now();
const imprint: Imprint = {
  device: phone.device.name,
  revision: "0123456789ab",
  edition: 3,
  date: "2026-03-02",
  replaces: { edition: 2, date: "2026-02-01" },
  recalls: [],
};
const say = sayer(LANGUAGES.en!);
const swapTo = (record: TeardownRecord, part: string) => {
  const swap = swapOf(record, { replace: [part], settings: { trials: 200 } }, { now, deadline: now() + 10_000 });
  if ("unreachable" in swap) throw new Error(JSON.stringify(swap));
  return swap;
};
const board = swapTo(phone, "main-board");
const screwsFor = (
  record: TeardownRecord,
  swap: ReturnType<typeof swapTo>,
  size: PageSize = "a4",
  measured?: Measured,
) =>
  screwSheet({
    record,
    screws: numberScrews(record, swap.wayIn),
    parts: "x",
    imprint,
    say,
    words: new Words(record, say),
    measure: measurer(),
    size,
    ...(measured === undefined ? {} : { measured }),
  });
const flat = (items: readonly PageItem[]): PageItem[] =>
  items.flatMap((item) => ("items" in item ? [item, ...flat(item.items)] : [item]));

const folder = mkdtempSync(join(tmpdir(), "unseam-paper-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const has = (tool: string): boolean => spawnSync(tool, ["-v"]).error === undefined;
const textOf = (bytes: Uint8Array): string => {
  const file = join(folder, "text.pdf");
  writeFileSync(file, bytes);
  return execFileSync("pdftotext", ["-layout", file, "-"], { encoding: "utf8" });
};

describe("the screw sheet", () => {
  const sheet = screwsFor(phone, board);
  const numbered = numberScrews(phone, board.wayIn);
  it("has every screw of the way once, in the order of work", () => {
    const joints = board.wayIn.operations.flatMap(
      ({ joint }) => phone.joints.find(({ id, kind }) => id === joint && kind === "screw") ?? [],
    );
    expect(numbered.map(({ number }) => number)).toEqual(numbered.map((_, i) => i + 1));
    expect(numbered).toHaveLength(joints.reduce((sum, joint) => sum + (joint.count ?? 1), 0));
    expect([...new Set(numbered.map(({ joint }) => joint))]).toEqual(joints.map(({ id }) => id));
  });
  it("puts every spot at its coordinates: mm on the page are mm of the device", () => {
    expect(sheet.spots).toHaveLength(numbered.length);
    const [first] = sheet.spots;
    const at = (joint: string, index: number) => phone.joints.find(({ id }) => id === joint)!.screws!.each![index]!.at!;
    const [x0, y0] = at(first!.joint, first!.index);
    for (const spot of sheet.spots) {
      const [x, y] = at(spot.joint, spot.index);
      expect(spot.x - first!.x).toBeCloseTo(x - x0, 6);
      expect(spot.y - first!.y).toBeCloseTo(y0 - y, 6);
    }
    const circles = flat(sheet.document.pages[0]!.items).filter((item) => item.kind === "circle");
    for (const { x, y } of sheet.spots)
      expect(circles.some((item) => Math.hypot(item.cx - x, item.cy - y) < 1e-9)).toBe(true);
  });
  it("seen from the display it is mirrored", () => {
    const swap = swapTo(tablet, "cell");
    const spots = screwsFor(tablet, swap).spots.filter(({ side }) => side === "front");
    expect(spots.length).toBeGreaterThan(1);
    const at = (index: number) =>
      tablet.joints.find(({ id }) => id === spots[index]!.joint)!.screws!.each![spots[index]!.index]!.at!;
    expect(spots[1]!.x - spots[0]!.x).toBeCloseTo(at(0)[0] - at(1)[0], 6);
  });
  it("a device larger than the page is drawn in parts, each spot once", () => {
    const large: TeardownRecord = {
      ...phone,
      parts: phone.parts.map((part) => ({
        ...part,
        ...(part.outline
          ? { outline: part.outline.map((ring) => ring.map(([x, y]): [number, number] => [x * 4, y * 3])) }
          : {}),
      })),
      joints: phone.joints.map((joint) =>
        joint.screws?.each
          ? {
              ...joint,
              screws: {
                ...joint.screws,
                each: joint.screws.each.map((one) =>
                  one.at ? { ...one, at: [one.at[0] * 4, one.at[1] * 3] as [number, number] } : one,
                ),
              },
            }
          : joint,
      ),
    };
    const drawn = screwsFor(large, swapTo(large, "main-board"));
    expect(drawn.document.pages.length).toBeGreaterThan(3);
    expect(new Set(drawn.spots.map(({ label }) => label)).size).toBe(numbered.length);
    expect(drawn.spots).toHaveLength(numbered.length);
  });
  it.each(["a4", "letter"] as const)("has bars of 50 and 100 mm both ways on %s, and corrects them", (size) => {
    for (const measured of [undefined, { across: 98.5, down: 101 }]) {
      const { bars, document } = screwsFor(phone, board, size, measured);
      expect(bars.map(({ length, direction }) => `${length} ${direction}`).sort()).toEqual([
        "100 across",
        "100 down",
        "50 across",
        "50 down",
      ]);
      const rings = flat(document.pages[0]!.items).filter((item) => item.kind === "rings");
      for (const bar of bars) {
        const drawn = rings.find((item) => item.rings[0]?.[0]?.[0] === bar.x && item.rings[0]?.[0]?.[1] === bar.y)!
          .rings[0]!;
        const along = bar.direction === "across" ? drawn[2]![0] - drawn[0]![0] : drawn[2]![1] - drawn[0]![1];
        const factor = measured === undefined ? 1 : 100 / measured[bar.direction];
        expect(along).toBeCloseTo(bar.length * factor, 9);
      }
    }
  });
  it("silhouettes are as long as their screws", () => {
    const rings = flat(sheet.document.pages[0]!.items).filter((item) => item.kind === "rings" && item.fill === "ink");
    const widths = rings.map((item) => (item.kind === "rings" ? item.rings[0]![1]![0] - item.rings[0]![0]![0] : 0));
    for (const { length } of numbered)
      expect(
        widths.some((width) => Math.abs(width - length!) < 1e-9),
        String(length),
      ).toBe(true);
  });
  it("warns of lengths that are easy to confuse, names screws without a place or length, and a missing outline", () => {
    expect(sheet.warnings.join()).toMatch(/Easy to confuse: .*1\.2 \/ 1\.4 mm/);
    expect(confusable(numbered).every(({ a, b }) => b > a && b - a <= 1.0000001)).toBe(true);
    const bare: TeardownRecord = {
      ...phone,
      parts: phone.parts.map((part) => {
        const { outline: _, ...rest } = part;
        return part.base ? rest : part;
      }),
      joints: phone.joints.map((joint) => {
        if (joint.id !== "foil-screw") return joint;
        const { each: _e, length: _l, ...screws } = joint.screws!;
        return { ...joint, screws };
      }),
    };
    const warnings = screwsFor(bare, swapTo(bare, "main-board")).warnings.join("\n");
    expect(warnings).toMatch(/No place recorded for .*Ground foil/);
    expect(warnings).toMatch(/No length recorded for .*Ground foil/);
    expect(warnings).toMatch(/No outline is recorded for Side band/);
    const none = {
      ...bare,
      joints: bare.joints.map((joint) => (joint.screws ? { ...joint, screws: { drive: joint.screws.drive } } : joint)),
    };
    expect(screwsFor(none, swapTo(none, "main-board")).spots).toEqual([]);
  });
  it("stages go on after Z", () => {
    expect([0, 25, 26, 51, 52, 701, 702].map(letterOf)).toEqual(["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
  });
  it("in the file the bar is 100 mm in points and the viewer is asked not to scale", async () => {
    const bytes = Buffer.from(await writePdf(sheet.document));
    const raw = bytes.toString("latin1");
    expect(raw).toMatch(/\/PrintScaling \/None|PrintScaling/);
    const streams = [...raw.matchAll(/\/FlateDecode[^>]*>>\s*stream\r?\n/g)].map((match) => {
      const from = match.index + match[0].length;
      try {
        return inflateSync(bytes.subarray(from)).toString("latin1");
      } catch {
        return "";
      }
    });
    const bar = sheet.bars.find(({ length, direction }) => length === 100 && direction === "across")!;
    const number = (mm: number): string => String(Math.round((mm * 72 * 1e6) / 25.4) / 1e6);
    const found = streams.some(
      (stream) =>
        stream.includes(`${number(bar.x)} ${number(bar.y)} m`) &&
        stream.includes(`${number(bar.x + 100)} ${number(bar.y)} l`),
    );
    expect(found).toBe(true);
  });
  it.skipIf(!has("pdftoppm"))(
    "rasterised at 1200 dpi the bars measure 100.00 and 50.00 mm within 0.02 mm, and spots lie within 0.1 mm",
    async () => {
      const file = join(folder, "screws.pdf");
      writeFileSync(file, await writePdf(sheet.document));
      const px = 1200 / 25.4;
      const crop = (
        x: number,
        y: number,
        width: number,
        height: number,
      ): { width: number; height: number; dark: (x: number, y: number) => boolean } => {
        const [left, top] = [Math.floor(x * px), Math.floor(y * px)];
        const args = [
          "-r",
          "1200",
          "-gray",
          "-f",
          "1",
          "-l",
          "1",
          "-x",
          left,
          "-y",
          top,
          "-W",
          Math.ceil(width * px),
          "-H",
          Math.ceil(height * px),
          file,
        ];
        const pgm = execFileSync("pdftoppm", args.map(String), { maxBuffer: 1e9 });
        const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(pgm.subarray(0, 40).toString("latin1"))!;
        const [w, h] = [Number(head[1]), Number(head[2])];
        return { width: w, height: h, dark: (i, j) => pgm[head[0].length + j * w + i]! < 128 };
      };
      for (const bar of sheet.bars) {
        const across = bar.direction === "across";
        const image = across
          ? crop(bar.x - 2, bar.y + 0.5, bar.length + 4, 0.2)
          : crop(bar.x + 0.5, bar.y - 2, 0.2, bar.length + 4);
        let dark = 0;
        for (let i = 0; i < (across ? image.width : image.height); i += 1)
          if (across ? image.dark(i, 1) : image.dark(1, i)) dark += 1;
        expect(Math.abs(dark / px - bar.length), `${bar.length} ${bar.direction}`).toBeLessThanOrEqual(0.02);
      }
      // The dot in the middle of a spot is its very place.
      for (const spot of sheet.spots.slice(0, 4)) {
        const image = crop(spot.x - 0.4, spot.y - 0.4, 0.8, 0.8);
        let [sumX, sumY, n] = [0, 0, 0];
        for (let j = 0; j < image.height; j += 1)
          for (let i = 0; i < image.width; i += 1)
            if (image.dark(i, j)) {
              sumX += i;
              sumY += j;
              n += 1;
            }
        expect(n).toBeGreaterThan(50);
        const [x, y] = [
          (Math.floor((spot.x - 0.4) * px) + sumX / n + 0.5) / px,
          (Math.floor((spot.y - 0.4) * px) + sumY / n + 0.5) / px,
        ];
        expect(Math.hypot(x - spot.x, y - spot.y)).toBeLessThan(0.1);
      }
    },
  );
});

describe("the work sheet", () => {
  const swap = swapTo(phone, "cell");
  const sheet = workSheet({ record: phone, swap, say, warm: new Map() });
  it("has a row for every operation in and back, a rule for every change of tool", () => {
    const work = sheet.rows.filter(({ kind }) => kind === "work");
    expect(work).toHaveLength(swap.wayIn.operations.length + swap.wayBack.operations.length);
    const changes = [...swap.wayIn.operations, ...swap.wayBack.operations].filter(
      ({ fetch, turn }) => fetch.length > 0 || turn,
    ).length;
    expect(sheet.rows.filter(({ kind }) => kind === "rule").length).toBe(changes);
  });
  it("leaves no place of a text unfilled, in either language", () => {
    for (const list of Object.values(LANGUAGES)) {
      const other = workSheet({ record: phone, swap, say: sayer(list), warm: new Map() });
      expect(
        JSON.stringify({
          ...other,
          rows: other.rows.map((row) => (row.kind === "work" ? { ...row, plan: row.plan?.caption } : row)),
        }),
      ).not.toMatch(/\{\w+\}/);
    }
  });
  it("begins with the cautions and names the cell first", () => {
    expect(sheet.cautions[0]).toMatch(/swollen, hot or venting cell/);
    expect(sheet.cautions.at(-1)).toMatch(/Local rules and qualified people/);
  });
  it("heat without a window comes before all other cautions", () => {
    const zone = swap.wayIn.operations.find(({ zone: one }) => one !== undefined)!.zone!;
    const warned = workSheet({ record: phone, swap, say, warm: new Map([[zone, { kind: "none", why: "too hot" }]]) });
    expect(warned.cautions[0]).toMatch(/No warm window: too hot/);
  });
  it("is a page that needs nothing from anywhere and runs nothing", () => {
    const text = workSheetHtml(sheet, imprint, say);
    expect(text).not.toMatch(/<script|<link|<img|<iframe|@import|\son\w+=/i);
    const rowspans = [...text.matchAll(/rowspan="(\d+)"/g)].map((match) => Number(match[1]));
    expect(rowspans.every((rows) => rows >= 1)).toBe(true);
    expect(text).toContain("Record 0123456789ab · edition 3 · 2026-03-02 · replaces edition 2 of 2026-02-01");
  });
  it("shows markup in names as text", () => {
    const named = {
      ...phone,
      parts: phone.parts.map((part) => (part.id === "cell" ? { ...part, name: "<b>Cell & co</b>" } : part)),
    };
    const text = workSheetHtml(
      workSheet({ record: named, swap: swapTo(named, "cell"), say, warm: new Map() }),
      imprint,
      say,
    );
    expect(text).toContain("&lt;b&gt;Cell &amp; co&lt;/b&gt;");
    expect(text).not.toContain("<b>Cell");
  });
  it.skipIf(!has("pdftotext"))("as PDF: real text, embedded faces, tags, title, every operation on it", async () => {
    const text = textOf(await writePdf(workSheetPdf(sheet, imprint, say, measurer(), "a4")));
    for (const words of [
      "Replace Battery",
      "What lies bare",
      "True before you go on",
      "Lift out Battery",
      "edition 3",
      "page 1 of",
    ])
      expect(text).toContain(words);
    const info = execFileSync("pdfinfo", [join(folder, "text.pdf")], { encoding: "utf8" });
    expect(info).toMatch(/Tagged:\s+yes/);
    expect(info).toMatch(/Title:\s+Thrandle 5: Replace Battery/);
    const fonts = execFileSync("pdffonts", [join(folder, "text.pdf")], { encoding: "utf8" })
      .split("\n")
      .slice(2)
      .filter((row) => row !== "");
    expect(fonts.length).toBeGreaterThan(0);
    for (const row of fonts) expect(row).toMatch(/yes yes yes/);
  });
});

describe("text on paper", () => {
  it("signs that the face has not are named, controls left out", () => {
    expect(printable("10 kΩ, 5 µm ± 1, łódź")).toBe("10 kΩ, 5 µm ± 1, łódź");
    expect(printable("中")).toBe("[U+4E2D]");
    expect(printable("a\u0007b\u202ec\nd")).toBe("abc d");
  });
  it.skipIf(!has("pdftotext"))("comes out as it was meant", async () => {
    const words = "Ω µ ± ł ő ß é Ж π ≤ √ − ° ² × → fi ffl 中";
    const pages = [
      {
        width: 210,
        height: 297,
        items: [
          {
            kind: "tagged" as const,
            tag: "P" as const,
            items: [{ kind: "text" as const, x: 20, y: 20, text: words, size: 11 }],
          },
        ],
      },
    ];
    const bytes = await writePdf({ title: words, subject: "", language: "en", date: "2026-01-01", pages });
    expect(textOf(bytes).trim()).toBe(printable(words));
  });
});

describe("word lists", () => {
  it("have the same keys and places", () => {
    expect(Object.keys(de).sort()).toEqual(Object.keys(en).sort());
    expect(() => wordListFrom(de)).not.toThrow();
  });
  it("refuse what is missing, unknown or has unknown places", () => {
    const { "do.lift": _, ...missing } = en;
    expect(() => wordListFrom(missing)).toThrow(/do\.lift/);
    expect(() => wordListFrom({ ...en, "do.lft": "x" })).toThrow(/nearest: do\.lift/);
    expect(() => wordListFrom({ ...en, "do.lift": "Lift {prat}" })).toThrow(/\{prat\}/);
    expect(() => wordListFrom([])).toThrow(/object/);
  });
});

describe("editions", () => {
  const options: SheetOptions = {
    jobs: [["sim-tray"]],
    words: LANGUAGES.en!,
    size: "a4",
    date: "2026-03-02",
    version: "0",
    editions: [],
    limit: 2000,
    question: { settings: { trials: 200 } },
  };
  const port = { ...options, jobs: [["charge-port"]] };
  it("the same record gives the same bytes; a second making keeps edition and date", async () => {
    const first = await makeSheets(phone, port);
    const again = await makeSheets(phone, { ...port, date: "2026-05-05", editions: first.editions });
    expect(again.edition).toEqual(first.edition);
    for (const [index, file] of first.files.entries())
      expect(Buffer.compare(Buffer.from(file.bytes), Buffer.from(again.files[index]!.bytes)), file.name).toBe(0);
    expect(zipOf(first.files, "2026-03-02")).toEqual(zipOf(again.files, "2026-03-02"));
  });
  it("a changed length is the next edition and recalls the ones before it", async () => {
    const first = await makeSheets(phone, port);
    const longer = {
      ...phone,
      joints: phone.joints.map((joint) =>
        joint.id === "port-screws"
          ? {
              ...joint,
              screws: {
                ...joint.screws!,
                each: joint.screws!.each!.map((one, i) => (i === 0 ? { ...one, length: 9.9 } : one)),
              },
            }
          : joint,
      ),
    };
    const second = await makeSheets(longer, { ...port, date: "2026-04-01", editions: first.editions });
    expect(second.edition).toMatchObject({ edition: 2, date: "2026-04-01" });
    expect(second.recalls).toHaveLength(1);
    expect(second.recalls[0]).toMatchObject({ sheet: "replace-charge-port", recall: { editions: [1], now: 9.9 } });
    const html = new TextDecoder().decode(
      second.files.find(({ name }) => name === "work/replace-charge-port.html")!.bytes,
    );
    expect(html).toContain("Recall edition 1: screw");
    expect(html).toContain("replaces edition 1 of 2026-03-02");
  });
  it("recalls name every edition that had another length", () => {
    const numbered = numberScrews(phone, board.wayIn);
    const now_ = screwsOf(numbered);
    const [key] = Object.keys(now_);
    const then = (length: number | null) => ({
      edition: 1,
      date: "2026-01-01",
      revision: "x",
      screws: { s: { ...now_, [key!]: { number: "1A", length } } },
    });
    expect(
      recallsOf("s", now_, [then(1), { ...then(1), edition: 2 }, { ...then(2), edition: 3 }]).map(
        ({ editions }) => editions,
      ),
    ).toEqual([[1, 2], [3]]);
    expect(recallsOf("s", now_, [{ edition: 1, date: "2026-01-01", revision: "x", screws: { s: now_ } }])).toEqual([]);
  });
});

describe("zip (PKWARE APPNOTE)", () => {
  it("CRC-32 of the nine digits is CBF43926, the check value of the algorithm", () => {
    expect(crc32(new TextEncoder().encode("123456789")).toString(16)).toBe("cbf43926");
  });
  it.skipIf(spawnSync("unzip", ["-v"]).error !== undefined)("is read by unzip", () => {
    const file = join(folder, "a.zip");
    writeFileSync(
      file,
      zipOf([{ name: "µ/a.txt", bytes: new TextEncoder().encode("one\n".repeat(100)) }], "2026-03-02"),
    );
    expect(execFileSync("unzip", ["-p", file], { encoding: "utf8" })).toBe("one\n".repeat(100));
  });
});
