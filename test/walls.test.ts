/**
 * The walls of the house hold: the lint rule that keeps the core pure is proved to bite by planting violations.
 */
import { spawnSync } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("..", import.meta.url));

/** Lints one planted file in a house of its own that has the same rules. */
function lint(path: string, source: string): string {
  const house = mkdtempSync(join(tmpdir(), "walls-"));
  try {
    copyFileSync(join(root, "biome.json"), join(house, "biome.json"));
    mkdirSync(dirname(join(house, path)), { recursive: true });
    writeFileSync(join(house, path), source);
    const biome = join(root, "node_modules/@biomejs/biome/bin/biome");
    const run = spawnSync(process.execPath, [biome, "lint", "--colors=off", path], { cwd: house, encoding: "utf8" });
    return `${run.stdout}${run.stderr}`;
  } finally {
    rmSync(house, { recursive: true, force: true });
  }
}

describe("the walls", () => {
  it.each([
    [
      "src/core/heat/planted.ts",
      'import { readFileSync } from "node:fs";\nexport const a = readFileSync;\n',
      "The core is pure",
    ],
    [
      "src/core/route/planted.ts",
      'import { open } from "../../store/index.ts";\nexport const a = open;\n',
      "The core is pure",
    ],
    ["src/core/law/planted.ts", 'import { useState } from "react";\nexport const a = useState;\n', "The core is pure"],
    [
      "src/figures/planted.ts",
      'import { renderSvg } from "../draw/svg.ts";\nexport const a = renderSvg;\n',
      "Figures import the core",
    ],
  ])("refuse an import in %s", (path, source, message) => {
    expect(lint(path, source)).toContain(message);
  });

  it("let the core import the core", () => {
    expect(
      lint("src/core/law/planted.ts", 'import { InputError } from "../errors.ts";\nexport const a = InputError;\n'),
    ).not.toContain("noRestrictedImports");
  });

  it("keep clocks and chance out of the core", () => {
    const offenders = sources(join(root, "src/core")).filter((file) =>
      /Date\.now\(|new Date\(\)|Math\.random\(|performance\.now\(/.test(readFileSync(file, "utf8")),
    );
    expect(offenders).toEqual([]);
  });

  it("leave no file without end", () => {
    // Word lists are data; an algorithm that is one piece may be longer, and says so at its head.
    const long = sources(join(root, "src")).filter(
      (file) => !file.includes("/lexicon/") && readFileSync(file, "utf8").split("\n").length > 640,
    );
    expect(long).toEqual([]);
  });
});

function sources(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name) && !entry.name.includes(".test."))
    .map((entry) => join(entry.parentPath, entry.name));
}
