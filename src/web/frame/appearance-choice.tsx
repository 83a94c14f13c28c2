import { APPEARANCES, type Appearance, useAppearance } from "./appearance.ts";

const WORDS: Readonly<Record<Appearance, string>> = { system: "as the system", light: "light", dark: "dark" };

export function AppearanceChoice() {
  const [appearance, change] = useAppearance();
  return (
    <label className="appearance">
      <span className="unseen">Appearance</span>
      <select value={appearance} onChange={(event) => change(event.target.value as Appearance)}>
        {APPEARANCES.map((one) => (
          <option key={one} value={one}>
            {WORDS[one]}
          </option>
        ))}
      </select>
    </label>
  );
}
