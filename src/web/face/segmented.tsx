export interface SegmentedProps<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly options: readonly { readonly value: T; readonly label: string; readonly disabled?: boolean }[];
  readonly onChange: (value: T) => void;
}

/** One of a few: buttons in a row, the chosen one filled with ink. */
export function Segmented<T extends string>({ label, value, options, onChange }: SegmentedProps<T>) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset brings a frame and a legend that the row does not want
    <div className="segmented" role="group" aria-label={label}>
      {options.map((option) => (
        <button
          key={option.value}
          type="button"
          aria-pressed={option.value === value}
          disabled={option.disabled}
          onClick={() => onChange(option.value)}
        >
          {option.label}
        </button>
      ))}
    </div>
  );
}

/** Any of a few, each by itself. */
export function Switches<T extends string>({
  label,
  on,
  options,
  onChange,
}: {
  readonly label: string;
  readonly on: readonly T[];
  readonly options: readonly { readonly value: T; readonly label: string }[];
  readonly onChange: (on: readonly T[]) => void;
}) {
  return (
    <fieldset className="switches">
      <legend>{label}</legend>
      {options.map((option) => (
        <label key={option.value}>
          <input
            type="checkbox"
            checked={on.includes(option.value)}
            onChange={(event) =>
              onChange(event.target.checked ? [...on, option.value] : on.filter((one) => one !== option.value))
            }
          />
          <span>{option.label}</span>
        </label>
      ))}
    </fieldset>
  );
}
