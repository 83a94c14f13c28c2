import { type FormEvent, useState } from "react";
import { useBench } from "../bench/bench.tsx";
import { KeptState } from "../keep/index.ts";
import { PAGES } from "../pages/registry.ts";
import { addressOf, go, usePlace } from "../router.ts";
import { type Understood, understand } from "./understand.ts";

/** The line at the bottom of every page: takes typed words, says in large type what it understood, and what is kept. */
export function TheLine() {
  const { record, choose, look, setDepth, device, seen } = useBench();
  const { search } = usePlace();
  const [words, setWords] = useState("");
  const [answer, setAnswer] = useState<Understood | null>(null);

  const take = (event: FormEvent) => {
    event.preventDefault();
    const understood = understand(words, { pages: PAGES, parts: record.parts });
    setAnswer(understood);
    if (understood.acts.length === 0) return;
    setWords("");
    for (const act of understood.acts)
      switch (act.kind) {
        case "part":
          choose(act.part, true);
          break;
        case "page": {
          const next = new URLSearchParams(search);
          const part = understood.acts.find((one) => one.kind === "part");
          if (part?.kind === "part") next.set("part", part.part);
          go(addressOf(["records", record.id, act.page], next));
          break;
        }
        case "depth":
          setDepth(act.mm);
          break;
        case "side":
          look(act.seen);
          break;
        case "close":
          if (device) setDepth(seen === "back" ? device.depth[0] : device.depth[1]);
      }
  };

  return (
    <form className="line" aria-label="The line" onSubmit={take}>
      <label>
        <span className="unseen">Say or type a part, a page or a depth</span>
        <input
          value={words}
          onChange={(event) => setWords(event.target.value)}
          placeholder="battery, ways in, 1.2 mm"
          autoComplete="off"
          spellCheck={false}
          maxLength={200}
        />
      </label>
      <output className="line-answer">
        {answer === null ? null : (
          <>
            {answer.words === "" ? null : <b>{answer.words}</b>}
            {answer.unknown.length === 0 ? null : (
              <span className="soft">
                {" "}
                not understood: {answer.unknown.join(", ")}. Say a part, a page or a depth in mm.
              </span>
            )}
          </>
        )}
      </output>
      <KeptState />
    </form>
  );
}
