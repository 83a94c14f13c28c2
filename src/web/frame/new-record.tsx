/** A record begun: from nothing, from the structure of the model before, or from what was said over the recording. */
import { type FormEvent, useState } from "react";
import { faultsIn, type Fault as OneFault } from "../../core/errors.ts";
import { mergeDraft, readNarration, readTranscript } from "../../core/narration/index.ts";
import { type Device, emptyRecord, fromSibling, type TeardownRecord } from "../../core/record/index.ts";
import type { KeptRecord, RecordHead, Saved } from "../../server/api.ts";
import { ask, Failed } from "../data/client.ts";
import { forget } from "../data/use-answer.ts";
import { Fault } from "../face/fault.tsx";
import { Section } from "../face/page-head.tsx";
import { Segmented } from "../face/segmented.tsx";
import { addressOf, go } from "../router.ts";

type From = "nothing" | "sibling" | "narration";
const KINDS: readonly { readonly value: Device["kind"]; readonly label: string }[] = [
  { value: "smartphone", label: "smartphone" },
  { value: "slate-tablet", label: "slate tablet" },
  { value: "other", label: "other device" },
];

export function NewRecord({ heads }: { readonly heads: readonly RecordHead[] }) {
  const [name, setName] = useState("");
  const [kind, setKind] = useState<Device["kind"]>("smartphone");
  const [foldable, setFoldable] = useState(false);
  const [from, setFrom] = useState<From>("nothing");
  const [sibling, setSibling] = useState(heads[0]?.id ?? "");
  const [file, setFile] = useState<File | null>(null);
  const [faults, setFaults] = useState<readonly OneFault[]>([]);
  const [busy, setBusy] = useState(false);

  const begin = async (): Promise<TeardownRecord> => {
    const id = crypto.randomUUID();
    const device: Device = { name: name.trim(), kind, foldable };
    if (from === "sibling") {
      const kept = await ask<KeptRecord>(`/api/records/${encodeURIComponent(sibling)}`);
      return fromSibling(kept.record, id, device);
    }
    const empty = emptyRecord(id, device);
    if (from === "nothing" || file === null) return empty;
    const bytes = new Uint8Array(await file.arrayBuffer());
    return mergeDraft(empty, readNarration(readTranscript(bytes)).draft).record;
  };
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    setBusy(true);
    setFaults([]);
    try {
      const saved = await ask<Saved>("/api/records", {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify(await begin()),
      });
      forget("/api/records");
      go(addressOf(["records", saved.id, "structure"], new URLSearchParams({ table: "fill-in" })));
    } catch (error) {
      const found = error instanceof Failed ? error.faults : faultsIn(error);
      if (found === undefined) throw error;
      setFaults(found);
    } finally {
      setBusy(false);
    }
  };
  return (
    <Section title="A record more">
      <form className="new-record" onSubmit={submit}>
        <label>
          <span>name of the device</span>
          <input value={name} onChange={(event) => setName(event.target.value)} required maxLength={400} />
        </label>
        <Segmented label="Kind of device" value={kind} options={KINDS} onChange={setKind} />
        <label className="new-record-switch">
          <input type="checkbox" checked={foldable} onChange={(event) => setFoldable(event.target.checked)} />
          <span>it folds</span>
        </label>
        <Segmented
          label="Begin from"
          value={from}
          options={[
            { value: "nothing", label: "from nothing" },
            { value: "sibling", label: "from a sibling", disabled: heads.length === 0 },
            { value: "narration", label: "from a narration" },
          ]}
          onChange={setFrom}
        />
        {from === "sibling" ? (
          <label>
            <span>the model before: its structure is taken over as a guess, its figures stay there</span>
            <select value={sibling} onChange={(event) => setSibling(event.target.value)}>
              {heads.map((head) => (
                <option key={head.id} value={head.id}>
                  {head.name}
                </option>
              ))}
            </select>
          </label>
        ) : null}
        {from === "narration" ? (
          <label>
            <span>captions or notes: WebVTT, SubRip or text</span>
            <input type="file" required onChange={(event) => setFile(event.target.files?.[0] ?? null)} />
          </label>
        ) : null}
        <button type="submit" className="button" disabled={busy || name.trim() === ""}>
          begin
        </button>
        {faults.length === 0 ? null : <Fault title="No record was begun" faults={faults} />}
      </form>
    </Section>
  );
}
