/** The core writes units as they are typed; the page writes them as they are read. */
export function readable(words: string): string {
  return words.replaceAll("degC", "°C").replaceAll("W/(m2.K)", "W/(m²·K)").replaceAll("W/(m.K)", "W/(m·K)");
}
