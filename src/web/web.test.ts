import { describe, expect, it } from "vitest";
import { smallPhone } from "../../test/fixtures/small-phone.ts";
import { handWay } from "../../test/fixtures/small-way.ts";
import { obstaclesOf } from "../figures/index.ts";
import { stateAfter } from "./bench/bench.tsx";
import { neighbour, nextDepth } from "./frame/neighbour.ts";
import { understand } from "./line/understand.ts";
import { addressOf, parsePlace } from "./router.ts";
import { listWord, questionFrom } from "./ways/question.ts";

const vocabulary = {
  pages: [
    { id: "structure", label: "Structure" },
    { id: "ways-in", label: "Ways in" },
    { id: "law", label: "Law" },
  ],
  parts: smallPhone.parts,
};
const said = (line: string) => understand(line, vocabulary);

describe("the line", () => {
  it.each([
    ["battery", [{ kind: "part", part: "battery" }], "Battery"],
    [
      "ways in to the battery",
      [
        { kind: "page", page: "ways-in" },
        { kind: "part", part: "battery" },
      ],
      "Ways in · Battery",
    ],
    [
      "main board law",
      [
        { kind: "part", part: "board" },
        { kind: "page", page: "law" },
      ],
      "Main board · Law",
    ],
    ["open at 1,2 mm", [{ kind: "depth", mm: 1.2 }], "opened to 1.2 mm"],
    ["from the display", [{ kind: "side", seen: "front" }], "from the display"],
    ["close", [{ kind: "close" }], "closed"],
    ["DISPLAY", [{ kind: "part", part: "display" }], "Display"],
    ["charging coil", [{ kind: "part", part: "coil" }], "Charging coil"],
    ["rear camera", [{ kind: "part", part: "cameras" }], "Cameras"],
  ])("understands %s", (line, acts, words) => {
    expect(said(line)).toEqual({ acts, words, unknown: [] });
  });
  it("names what it does not understand and does nothing for it", () => {
    expect(said("frobnicate the speaker")).toEqual({
      acts: [{ kind: "part", part: "speaker" }],
      words: "Loudspeaker",
      unknown: ["frobnicate"],
    });
    expect(said("")).toEqual({ acts: [], words: "", unknown: [] });
    expect(said("<script>").acts).toEqual([]);
  });
});

describe("the address", () => {
  it("goes there and back, whatever is in an id", () => {
    const address = addressOf(["records", "a/b ü%"], new URLSearchParams({ part: "x&y" }));
    const place = parsePlace(address);
    expect(place.segments).toEqual(["records", "a/b ü%"]);
    expect(place.search.get("part")).toBe("x&y");
    expect(parsePlace("/records/%E0%A4%A").segments).toEqual(["records", "%E0%A4%A"]);
  });
  it("holds a question; what is not known is left out", () => {
    const search = new URLSearchParams(
      "least=steps&damage=allowed&accept=short,fire&condition=swollen,cold&isolation=off&doubt=none&gone=back,coil",
    );
    expect(questionFrom(search, "battery")).toEqual({
      to: ["battery"],
      least: "steps",
      damage: true,
      accept: ["short"],
      conditions: ["swollen"],
      isolation: false,
      doubt: "none",
      gone: ["back", "coil"],
    });
    expect(questionFrom(new URLSearchParams("least=luck"), "x")).toEqual({ to: ["x"], least: "seconds" });
    expect([listWord([]), listWord(["a", "b"])]).toEqual([null, "a,b"]);
  });
});

describe("arrow keys", () => {
  const choices = [
    { part: "a", name: "a", x: 0, y: 0 },
    { part: "b", name: "b", x: 50, y: 4 },
    { part: "c", name: "c", x: 40, y: 60 },
    { part: "d", name: "d", x: 2, y: 70 },
  ];
  it("lead to the nearest part ahead, and stay where there is none", () => {
    expect(neighbour(choices, "a", "ArrowRight")).toBe("b");
    expect(neighbour(choices, "a", "ArrowDown")).toBe("d");
    expect(neighbour(choices, "c", "ArrowLeft")).toBe("d");
    expect(neighbour(choices, "a", "ArrowUp")).toBeNull();
    expect(neighbour(choices, null, "ArrowUp")).toBe("a");
  });
  it("reach every part from every other", () => {
    const reached = new Set(["a"]);
    for (let round = 0; round < 4; round++)
      for (const from of [...reached])
        for (const arrow of ["ArrowUp", "ArrowDown", "ArrowLeft", "ArrowRight"] as const)
          reached.add(neighbour(choices, from, arrow) ?? from);
    expect(reached.size).toBe(4);
  });
  it("page keys go from level to level", () => {
    expect(nextDepth([0.7, 0, 1.1, 0.7], 0, 1)).toBe(0.7);
    expect(nextDepth([0.7, 0, 1.1], 0.7, -1)).toBe(0);
    expect(nextDepth([0.7], 5, 1)).toBe(5);
  });
});

describe("a way in gone through", () => {
  it("takes off what has been lifted so far, with what comes out with it", () => {
    const { away, released } = stateAfter(smallPhone, handWay, 6);
    expect([...away].sort()).toEqual(["back", "cover"]);
    expect([...released].sort()).toEqual(["cover-screws", "rim", "speaker-screws"]);
  });
  it("is made of its obstacles: their times and steps add up to it", () => {
    const obstacles = obstaclesOf(smallPhone, handWay);
    expect(obstacles.map((one) => one.part.id)).toEqual(["back", "cover", "speaker", "coil", "battery"]);
    expect(obstacles.reduce((sum, one) => sum + one.seconds, 0)).toBeCloseTo(handWay.seconds, 9);
    expect(obstacles.reduce((sum, one) => sum + one.steps, 0)).toBe(handWay.steps);
    expect(obstacles.find((one) => one.part.id === "back")).toMatchObject({ heat: true, guess: false });
    expect(obstacles.find((one) => one.part.id === "speaker")).toMatchObject({ guess: true });
  });
});
