import { useState } from "react";
import { useBench } from "../../bench/bench.tsx";
import { useLineSettings } from "../../line/settings.ts";

/** What the line takes for granted: the session, the instrument in hand, the key under the foot. */
export function LineSetup() {
  const { record } = useBench();
  const [settings, change] = useLineSettings(record.id);
  const [listening, setListening] = useState(false);
  return (
    <>
      <p>
        Say or type what you do: "six screws top shield, one longer, cup four", "29.41 g", "where are the screws of the
        cable cover?", "undo". What is not understood is kept and waits here.
      </p>
      <div className="row placing">
        <label>
          session
          <select value={settings.session ?? ""} onChange={(event) => change({ session: event.target.value || null })}>
            <option value="">today's, or a new one</option>
            {(record.sessions ?? []).map((one) => (
              <option key={one.id} value={one.id}>
                {one.id}, {one.kind}, {one.started.slice(0, 10)}
              </option>
            ))}
          </select>
        </label>
        <label>
          instrument in hand (its unit is meant where a number has none)
          <select
            value={settings.instrument ?? ""}
            onChange={(event) => change({ instrument: event.target.value || null })}
          >
            <option value="">none</option>
            {record.instruments.map((one) => (
              <option key={one.id} value={one.id}>
                {one.name ?? one.kind}, {one.resolution.unit}
              </option>
            ))}
          </select>
        </label>
        <button
          type="button"
          className="button"
          aria-live="polite"
          onClick={() => setListening(true)}
          onBlur={() => setListening(false)}
          onKeyDown={(event) => {
            if (!listening || event.code === "Tab") return;
            event.preventDefault();
            setListening(false);
            // A key that leaves what is typed alone; Escape unbinds.
            change({ key: event.code === "Escape" ? null : event.code });
          }}
        >
          {listening ? "press the switch now (Escape: none)" : `key or foot switch: ${settings.key ?? "none"}`}
        </button>
      </div>
      <p className="soft">
        One press marks the moment, to be named later; two are the last again with the next cup; a long one takes back.
        A key that is bound types nothing: choose one that you do not write with.
      </p>
    </>
  );
}
