import { expect, it } from "vitest";
import { meantPart } from "./meant-part.ts";

const parts = [
  { id: "cell", name: "Battery pack", role: "battery" as const },
  { id: "spk-1", name: "Upper speaker", role: "speaker" as const },
  { id: "spk-2", name: "Lower speaker", role: "speaker" as const },
];

it("finds a part by its role, its name, or the nearest spelling", () => {
  expect(meantPart({ parts }, "battery")).toBe("cell");
  expect(meantPart({ parts }, "Battery Pack")).toBe("cell");
  expect(meantPart({ parts }, "lower_speaker")).toBe("spk-2");
  expect(meantPart({ parts }, "cel")).toBe("cell");
});

it("does not guess between two of a role, nor from afar", () => {
  expect(meantPart({ parts }, "speaker")).toBeUndefined();
  expect(meantPart({ parts }, "gramophone")).toBeUndefined();
});
