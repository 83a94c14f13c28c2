/** The shop's settings as a sheet to fill in; what is left empty stands as its default says. */
import { useEffect, useId, useState } from "react";
import { DEFAULTS, USUAL_LABOUR } from "../../core/service/swap/question.ts";
import { Segmented } from "../face/segmented.tsx";
import { type Shop, useShop } from "./use-shop.ts";

interface Entry {
  readonly key: Exclude<keyof Shop, "times" | "hands" | "learningModel">;
  readonly label: string;
  readonly unit: string;
  /** What holds where nothing is typed. */
  readonly usual: string;
}

const percent = (share: number): string => String(Math.round(share * 1e6) / 1e4);

const PRICE: readonly Entry[] = [
  { key: "labour", label: "labour", unit: "an hour", usual: USUAL_LABOUR.amount },
  { key: "currency", label: "currency", unit: "code", usual: USUAL_LABOUR.currency },
  { key: "overhead", label: "overhead on labour", unit: "%", usual: percent(DEFAULTS.overhead) },
  { key: "warranty", label: "jobs that come back", unit: "%", usual: percent(DEFAULTS.warranty) },
  { key: "margin", label: "margin of the price", unit: "%", usual: percent(DEFAULTS.margin) },
  { key: "tax", label: "tax on the price", unit: "%", usual: percent(DEFAULTS.tax) },
  { key: "jobsAMonth", label: "jobs that share a pack", unit: "a month", usual: "a share of the pack" },
];
const LEARNING: readonly Entry[] = [
  { key: "learningRate", label: "a doubling of repeats leaves", unit: "% of the time", usual: "no learning" },
  { key: "repeat", label: "this is repeat", unit: "of this job", usual: String(DEFAULTS.repeat) },
];
const LIMIT: readonly Entry[] = [
  { key: "success", label: "repairs that work", unit: "%", usual: percent(DEFAULTS.success) },
  { key: "successJobs", label: "known from", unit: "jobs", usual: String(DEFAULTS.successJobs) },
  { key: "lifeNew", label: "life of a new device", unit: "years", usual: String(DEFAULTS.lifeNew) },
  { key: "lifeRepaired", label: "life after the repair", unit: "years", usual: String(DEFAULTS.lifeRepaired) },
  { key: "interest", label: "interest", unit: "% a year", usual: percent(DEFAULTS.interest) },
];

/** How many settings differ from a new shop's. */
export const shopSet = (shop: Shop): number =>
  [...PRICE, ...LEARNING, ...LIMIT].filter(({ key }) => shop[key].trim() !== "").length;

export function ShopSettings() {
  const [shop, change] = useShop();
  const set = shopSet(shop);
  return (
    <details className="more">
      <summary>this shop's rates{set === 0 ? "" : ` (${set} set)`}</summary>
      <div className="opened">
        <p className="soft">Kept in this browser, for all records. Empty: what is shown in the field holds.</p>
        <Entries entries={PRICE} label="Price" />
        <Entries entries={LEARNING} label="Repeats get quicker" />
        <Segmented
          label="Learning model"
          value={shop.learningModel}
          options={[
            { value: "unit", label: "unit model" },
            { value: "cumulative", label: "cumulative average" },
          ]}
          onChange={(learningModel) => change({ learningModel })}
        />
        <Entries entries={LIMIT} label="Repair against a new device" />
      </div>
    </details>
  );
}

function Entries({ entries, label }: { readonly entries: readonly Entry[]; readonly label: string }) {
  const [shop, change] = useShop();
  return (
    <fieldset className="entries">
      <legend>{label}</legend>
      {entries.map((entry) => (
        <TextEntry
          key={entry.key}
          label={entry.label}
          unit={entry.unit}
          usual={entry.usual}
          value={shop[entry.key]}
          onChange={(value) => change({ [entry.key]: value })}
        />
      ))}
    </fieldset>
  );
}

/** A field that is taken when it is left or Enter is pressed, so that nothing is computed of half a number. */
export function TextEntry(props: {
  readonly label: string;
  readonly unit: string;
  readonly usual: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}) {
  const { label, unit, usual, value, onChange } = props;
  const [typed, setTyped] = useState(value);
  const id = useId();
  useEffect(() => setTyped(value), [value]);
  const take = () => {
    if (typed.trim() !== value) onChange(typed.trim());
  };
  return (
    <label className="entry" htmlFor={id}>
      <span>{label}</span>{" "}
      <input
        id={id}
        inputMode={/^[\d.]*$/.test(usual) || unit.startsWith("%") ? "decimal" : "text"}
        autoComplete="off"
        value={typed}
        placeholder={usual}
        onChange={(event) => setTyped(event.target.value)}
        onBlur={take}
        onKeyDown={(event) => {
          if (event.key === "Enter") take();
        }}
      />{" "}
      <span className="soft">{unit}</span>
    </label>
  );
}
