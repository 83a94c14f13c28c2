/** Each claim: what was said, what the figures say of it, the strip, and what may be said instead. */
import type { ClaimVerdict, Figures, PlanStep } from "../../../core/measure/index.ts";
import { drawClaimStrip } from "../../../figures/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Section } from "../../face/page-head.tsx";
import { Picture } from "../../face/picture.tsx";
import { Table } from "../../face/table.tsx";
import { chanceWords, instrumentName, nameIn, small, VERDICT_WORDS } from "./figure-words.ts";
import { Opening } from "./opening.tsx";

export function ClaimsView({ figures }: { readonly figures: Figures }) {
  const { record, part, choose } = useBench();
  const subjects = (verdict: ClaimVerdict): readonly string[] => {
    const claim = record.claims.find((one) => one.id === verdict.id);
    return claim === undefined ? [] : [...claim.subject, ...(claim.than === undefined ? [] : [claim.than])];
  };
  const shown = part === null ? figures.claims : figures.claims.filter((one) => subjects(one).includes(part.id));
  const count = (verdict: ClaimVerdict["verdict"]) => shown.filter((one) => one.verdict === verdict).length;
  return (
    <>
      <p className="sentence">
        {shown.length === 0
          ? part === null
            ? "No claim was made."
            : `No claim was made about ${part.name}.`
          : `${count("supported")} of ${shown.length} supported by the readings, ${count("not-supported")} not supported, ${count("cannot-tell")} cannot be told.`}
        {part === null ? null : (
          <>
            {" "}
            <button type="button" className="quiet" onClick={() => choose(null)}>
              all claims, not only about {part.name}
            </button>
          </>
        )}
      </p>
      <div className="claims">
        {shown.map((one) => (
          <Claim key={one.id} claim={one} figures={figures} />
        ))}
      </div>
      <Plan figures={figures} />
    </>
  );
}

function Claim({ claim, figures }: { readonly claim: ClaimVerdict; readonly figures: Figures }) {
  const strip = drawClaimStrip(claim, 200) !== null;
  const open = figures.open.find((one) => one.claim === claim.id);
  return (
    <article className="claim" aria-label={claim.text}>
      <div>
        <h2>“{claim.text}”</h2>
        <p className="soft">
          <b className="verdict">{VERDICT_WORDS[claim.verdict]}</b>
          {claim.probability === null ? "" : `, ${chanceWords(claim.probability)}`}
          {claim.probabilityOfMeasured === undefined
            ? ""
            : `; of what was measured ${chanceWords(claim.probabilityOfMeasured)}`}
        </p>
      </div>
      <div>
        {strip ? <Picture most={340} draw={(width) => drawClaimStrip(claim, width)!} /> : null}
        <p>{claim.wording}</p>
        {open === undefined ? null : <p className="soft">{open.text}</p>}
        <Opening title="What it rests on">
          <Rests claim={claim} figures={figures} />
        </Opening>
      </div>
    </article>
  );
}

function Rests({ claim, figures }: { readonly claim: ClaimVerdict; readonly figures: Figures }) {
  const { record } = useBench();
  const nameOf = nameIn(record);
  const own = figures.readings.filter((one) => claim.restsOn.includes(one.id));
  const there = claim.restsOn.filter((id) => id.startsWith("sibling:"));
  const unit = claim.unit === "" || claim.unit === "1" ? "" : ` ${claim.unit}`;
  return (
    <ul>
      {own.map((one) => (
        <li key={one.id}>
          {one.id}: {one.of.map(nameOf).join(" + ")}, {one.quantity} {one.text}
          {one.warnings.length === 0 ? "" : ` (${one.warnings.join("; ")})`}
        </li>
      ))}
      {there.length === 0 ? null : (
        <li>of the other device: {there.map((id) => id.slice("sibling:".length)).join(", ")}</li>
      )}
      {claim.restsOn.length === 0 ? <li>no reading: counted or printed figures alone</li> : null}
      {claim.shared.length === 0 ? null : <li>errors that both sides share: {claim.shared.join(", ")}</li>}
      {claim.u === null || claim.u === 0 ? null : (
        <li>
          standard uncertainty of what is judged {small(claim.u)}
          {unit}
        </li>
      )}
      {claim.smallest === null || claim.smallest === 0 ? null : (
        <li>
          the smallest difference that these instruments could bear out: {small(claim.smallest)}
          {unit}
        </li>
      )}
      {claim.warnings.map((text) => (
        <li key={text}>{text}</li>
      ))}
    </ul>
  );
}

/** Which readings to take again so that open claims can be decided, cheapest first. */
function Plan({ figures }: { readonly figures: Figures }) {
  const { record } = useBench();
  const nameOf = nameIn(record);
  if (figures.plan.length === 0) return null;
  const minutes = (seconds: number) => `${Math.max(1, Math.ceil(seconds / 60))}`;
  const instrument = (id: string) => {
    const one = record.instruments.find((other) => other.id === id);
    return one === undefined ? id : instrumentName(one);
  };
  return (
    <Section title="To measure again, cheapest first">
      <p className="soft">
        Taken that the measured value stays as it is. Times at the bench are a setting of our own, no source.
      </p>
      <Table<PlanStep>
        caption="Readings to take again"
        rows={figures.plan}
        rowKey={(one) => `${one.claim} ${one.instrument} ${one.repeats} ${one.readings.join()}`}
        columns={[
          { head: "claim", cell: (one) => figures.claims.find((claim) => claim.id === one.claim)?.text ?? one.claim },
          {
            head: "measure",
            cell: (one) =>
              one.of.length > 3
                ? `${one.of.length} things`
                : one.of.map((ids) => ids.map(nameOf).join(" + ")).join("; "),
          },
          { head: "with", cell: (one) => instrument(one.instrument) },
          { head: "times", number: true, cell: (one) => String(one.repeats) },
          { head: "about", unit: "min", number: true, cell: (one) => minutes(one.seconds) },
          {
            head: "then",
            cell: (one) => `${VERDICT_WORDS[one.verdict]}${one.cheapest ? "; the cheapest way" : ""}`,
          },
        ]}
      />
    </Section>
  );
}
