import type { RecordHead } from "../../server/api.ts";
import { useBench } from "../bench/bench.tsx";
import { Link } from "../link.tsx";
import { addressOf, go, usePlace } from "../router.ts";
import { AppearanceChoice } from "./appearance-choice.tsx";

/** Name of the app, the record that is open with the one it is compared with, and the way to another. */
export function Heading({ heads }: { readonly heads: readonly RecordHead[] }) {
  const { record } = useBench();
  const { segments } = usePlace();
  const sibling = heads.find((head) => head.id === record.sibling);
  return (
    <header className="heading">
      <Link className="mark" href="/">
        unseam
      </Link>
      {heads.length > 1 ? (
        <label>
          <span className="unseen">Record</span>
          <select
            value={record.id}
            onChange={(event) => go(addressOf(["records", event.target.value, ...segments.slice(2, 3)]))}
          >
            {heads.map((head) => (
              <option key={head.id} value={head.id}>
                {head.name}
              </option>
            ))}
          </select>
        </label>
      ) : (
        <span>{record.device.name}</span>
      )}
      {sibling === undefined ? null : <span className="soft">against {sibling.name}</span>}
      <AppearanceChoice />
    </header>
  );
}
