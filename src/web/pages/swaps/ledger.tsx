/** The job as a ledger: what lies bare, do, in hand, true before you go on; a change of tool is a rule across. */
import { Fragment } from "react";
import { SceneView } from "../../../draw/scene-view.tsx";
import type { Scene } from "../../../figures/index.ts";
import type { LedgerRow } from "../../../paper/ledger-words.ts";
import type { WorkSheet } from "../../../paper/work-rows.ts";
import { usePictureId } from "../../face/picture.tsx";

type Work = Extract<LedgerRow, { kind: "work" }>;

interface Stage {
  readonly title: string | null;
  readonly plan: Work["plan"];
  readonly rows: readonly LedgerRow[];
}

/** A stage begins where what lies bare changes; a rule before its first row belongs to it. */
export function stagesIn(rows: readonly LedgerRow[]): Stage[] {
  const stages: { title: string | null; plan: Work["plan"]; rows: LedgerRow[] }[] = [];
  let title: string | null = null;
  let waiting: LedgerRow[] = [];
  for (const row of rows) {
    if (row.kind === "part") title = row.title;
    else if (row.kind === "rule") waiting.push(row);
    else {
      if (row.plan !== undefined || stages.length === 0) {
        stages.push({ title, plan: row.plan, rows: [] });
        title = null;
      }
      stages.at(-1)!.rows.push(...waiting, row);
      waiting = [];
    }
  }
  return stages;
}

export function Ledger({ sheet }: { readonly sheet: WorkSheet }) {
  return (
    <table className="ledger">
      <caption className="unseen">The way in, the swap and the way back, in order</caption>
      <thead>
        <tr>
          <th scope="col">what lies bare</th>
          <th scope="col">do</th>
          <th scope="col">in hand</th>
          <th scope="col">true before you go on</th>
        </tr>
      </thead>
      {stagesIn(sheet.rows).map((stage, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: an order of work is its places
        <Fragment key={i}>
          {stage.title === null ? null : (
            <tbody>
              <tr className="part">
                <th colSpan={4} scope="rowgroup">
                  {stage.title}
                </th>
              </tr>
            </tbody>
          )}
          <tbody>
            {stage.rows.map((row, n) => (
              <tr
                // biome-ignore lint/suspicious/noArrayIndexKey: an order of work is its places
                key={n}
                className={row.kind === "rule" ? "rule" : row.kind === "work" && row.warm ? "warm" : undefined}
              >
                {n === 0 ? (
                  <td className="bare" rowSpan={stage.rows.length}>
                    {stage.plan ? <Bare {...stage.plan} /> : null}
                  </td>
                ) : null}
                <Cells row={row} />
              </tr>
            ))}
          </tbody>
        </Fragment>
      ))}
    </table>
  );
}

function Cells({ row }: { readonly row: LedgerRow }) {
  if (row.kind === "part") return null;
  if (row.kind === "rule") return <td colSpan={3}>{row.text}</td>;
  const [first, ...rest] = row.does;
  return (
    <>
      <td className="do">
        <b>{first}</b>
        <Lines lines={rest} />
      </td>
      <td className="hand">{row.hand}</td>
      <td>
        <Lines lines={row.true} />
      </td>
    </>
  );
}

function Lines({ lines }: { readonly lines: readonly string[] }) {
  return lines.map((text) => <p key={text}>{text}</p>);
}

function Bare({ scene, caption }: { readonly scene: Scene | null; readonly caption: string }) {
  const id = usePictureId();
  return (
    <figure>
      {scene === null ? null : <SceneView scene={scene} id={id} />}
      <figcaption className="soft">{caption}</figcaption>
    </figure>
  );
}
