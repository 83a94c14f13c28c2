import { useState } from "react";
import { faultsIn, type Fault as OneFault } from "../../../core/errors.ts";
import { decodeText } from "../../../core/narration/transcript/index.ts";
import type { TeardownRecord } from "../../../core/record/index.ts";
import { Fault } from "../../face/fault.tsx";
import { isRecording } from "./player.tsx";
import type { UseTalk } from "./use-talk.ts";

/** The words of a recording: a file of captions, or text that was pasted. */
export function Load({
  record,
  session,
  talk,
}: {
  readonly record: TeardownRecord;
  readonly session: string | null;
  readonly talk: UseTalk;
}) {
  const [pasted, setPasted] = useState("");
  const [faults, setFaults] = useState<readonly OneFault[]>([]);
  const { kept, load } = talk;
  const recordings = record.media.filter(isRecording);
  const take = (name: string, text: string) =>
    load({ name, text, session, media: kept?.media ?? recordings.at(-1)?.id ?? null, rejected: [] });
  const takeFile = async (file: File) => {
    setFaults([]);
    try {
      take(file.name, decodeText(new Uint8Array(await file.arrayBuffer())).text);
    } catch (error) {
      setFaults(faultsIn(error) ?? [{ path: file.name, found: String(error), expected: "a file that can be read" }]);
    }
  };
  return (
    <div className="paste">
      <div className="row">
        <label className="button file-button">
          {kept === null ? "choose captions or a transcript" : "choose another"}
          <input
            type="file"
            className="unseen"
            accept=".vtt,.srt,.txt,text/*"
            onChange={(event) => {
              const file = event.target.files?.[0];
              if (file !== undefined) void takeFile(file);
              event.target.value = "";
            }}
          />
        </label>
        {kept === null ? null : (
          <>
            <span className="soft">{kept.name}</span>
            <button type="button" className="button" onClick={() => load(null)}>
              put it away
            </button>
          </>
        )}
        {kept === null || recordings.length === 0 ? null : (
          <label>
            <span className="soft">these are the words of </span>
            <select value={kept.media ?? ""} onChange={(event) => load({ ...kept, media: event.target.value || null })}>
              <option value="">the session's own clock</option>
              {recordings.map((one) => (
                <option key={one.id} value={one.id}>
                  {one.file}
                </option>
              ))}
            </select>
          </label>
        )}
      </div>
      {talk.lasts ? null : (
        <p>The browser has no room for this text: it is here as long as the page is. What is taken is kept.</p>
      )}
      {faults.length === 0 ? null : <Fault title="The file could not be read" faults={faults} />}
      {kept === null ? (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            if (pasted.trim() !== "") take("pasted", pasted);
          }}
        >
          <label>
            or paste it: WebVTT, SubRip, lines that begin with a clock, or plain text
            <textarea rows={5} value={pasted} onChange={(event) => setPasted(event.target.value)} />
          </label>
          <button type="submit" className="button" disabled={pasted.trim() === ""}>
            read it
          </button>
        </form>
      ) : null}
    </div>
  );
}
