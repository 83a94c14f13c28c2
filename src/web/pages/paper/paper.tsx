import "../../shop/shop.css";
import { useState } from "react";
import { CONDITIONS, PRIORITY_ROLES } from "../../../core/record/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Fault } from "../../face/fault.tsx";
import { PageHead, Section, Waiting } from "../../face/page-head.tsx";
import { Segmented, Switches } from "../../face/segmented.tsx";
import { useKeep } from "../../keep/index.ts";
import { ShopSettings, TextEntry } from "../../shop/shop-settings.tsx";
import { settingsFrom, useShop } from "../../shop/use-shop.ts";
import { CONDITION_WORDS } from "../../ways/words.ts";
import { LaidOutSheets } from "./laid-out.tsx";
import { ShopAnswers } from "./shop-answers.tsx";
import { useSheets } from "./use-sheets.ts";

type Language = "en" | "de";
type Size = "a4" | "letter";

/** The day here, which is the day that stands on paper. */
function today(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((one) => String(one).padStart(2, "0")).join("-");
}

const millimetres = (text: string): number => (text.trim() === "" ? 100 : Number(text.trim().replace(",", ".")));

export function PaperPage() {
  const { record, part } = useBench();
  const { state: keeping } = useKeep();
  const [shop] = useShop();
  const usual = record.parts.filter(
    (one) => !one.base && (PRIORITY_ROLES as readonly string[]).includes(one.role ?? ""),
  );
  const offered = part === null || part.base || usual.some(({ id }) => id === part.id) ? usual : [...usual, part];
  const [jobs, setJobs] = useState<readonly string[] | null>(null);
  const chosen = jobs ?? offered.map(({ id }) => id);
  const [language, setLanguage] = useState<Language>("en");
  const [size, setSize] = useState<Size>("a4");
  const [across, setAcross] = useState("");
  const [down, setDown] = useState("");
  const [conditions, setConditions] = useState<readonly string[]>([]);
  const { state, layOut, cancel, issue, address } = useSheets(record.id);
  const measured = across.trim() !== "" || down.trim() !== "";
  const [a, d] = [millimetres(across), millimetres(down.trim() === "" ? across : down)];
  const fits = (value: number): boolean => value >= 80 && value <= 125;
  const begin = () =>
    layOut({
      jobs: chosen.map((id) => [id]),
      language,
      size,
      ...(measured ? { measured: { across: a, down: d } } : {}),
      date: today(),
      ...(conditions.length > 0 ? { conditions } : {}),
      settings: settingsFrom(shop),
    });
  return (
    <>
      <PageHead title="Paper">
        <p>
          A work sheet and a screw sheet at true scale for each swap, the report, tables and the record: laid out to be
          looked at first, then issued as an edition.
        </p>
      </PageHead>
      <Section title="Which swaps">
        <Switches
          label="Sheets for"
          on={chosen}
          options={offered.map(({ id, name }) => ({ value: id, label: name }))}
          onChange={setJobs}
        />
        {offered.length === 0 ? (
          <p>No part carries a priority role yet: choose one in the drawing, and it can be taken here.</p>
        ) : null}
      </Section>
      <Section title="How they are printed">
        <div className="row">
          <Segmented
            label="Language"
            value={language}
            options={[
              { value: "en", label: "English" },
              { value: "de", label: "Deutsch" },
            ]}
            onChange={setLanguage}
          />
          <Segmented
            label="Page"
            value={size}
            options={[
              { value: "a4", label: "A4" },
              { value: "letter", label: "Letter" },
            ]}
            onChange={setSize}
          />
        </div>
        <fieldset className="entries">
          <legend>What the 100 mm bars measured on paper, where the printer does not keep the scale</legend>
          <TextEntry label="bar across" unit="mm" usual="100" value={across} onChange={setAcross} />
          <TextEntry label="bar down" unit="mm" usual="100" value={down} onChange={setDown} />
        </fieldset>
        {measured && !(fits(a) && fits(d)) ? (
          <Fault
            title="The bars cannot have measured that"
            faults={[{ path: "", found: `${across || "100"} and ${down || across}`, expected: "80 to 125 mm each" }]}
          />
        ) : null}
        <div className="row">
          <details className="more">
            <summary>at intake{conditions.length === 0 ? "" : ` (${conditions.length} set)`}</summary>
            <div className="opened">
              <Switches
                label="These units are"
                on={conditions}
                options={CONDITIONS.map((one) => ({ value: one as string, label: CONDITION_WORDS[one] }))}
                onChange={setConditions}
              />
            </div>
          </details>
          <ShopSettings />
        </div>
      </Section>
      <div className="row">
        <button
          type="button"
          className="button strong"
          disabled={chosen.length === 0 || state.kind === "working" || (measured && !(fits(a) && fits(d)))}
          onClick={begin}
        >
          lay the sheets out
        </button>
        {keeping === "kept" ? null : (
          <span className="soft">Changes that the server has not taken yet are not on the sheets.</span>
        )}
      </div>
      {state.kind === "working" ? (
        <Waiting stop={cancel}>
          Laying out{state.of === 0 ? "" : `, ${Math.round((100 * state.done) / state.of)} % done`}.
        </Waiting>
      ) : null}
      {state.kind === "refused" ? (
        <Fault title="The sheets could not be made" faults={state.faults} again={begin} />
      ) : null}
      {state.kind === "here" ? (
        <LaidOutSheets set={state.set} address={address} issue={() => void issue(state.set)} />
      ) : null}
      <ShopAnswers parts={offered} />
    </>
  );
}
