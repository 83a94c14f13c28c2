/** Pass, fail or cannot tell, for one thing that a rule asks, with what decides it. */
export type Verdict = "pass" | "fail" | "cannot-tell";

export interface Finding {
  readonly asks: string;
  readonly verdict: Verdict;
  readonly because: string;
  readonly joint?: string;
  readonly tool?: string;
  readonly part?: string;
}

/** One failure fails all; one that cannot be told leaves all untold. */
export function together(findings: readonly { readonly verdict: Verdict }[]): Verdict {
  if (findings.some((one) => one.verdict === "fail")) return "fail";
  return findings.some((one) => one.verdict === "cannot-tell") ? "cannot-tell" : "pass";
}

/** One pass is enough. */
export function either(findings: readonly { readonly verdict: Verdict }[]): Verdict {
  if (findings.some((one) => one.verdict === "pass")) return "pass";
  return findings.some((one) => one.verdict === "cannot-tell") ? "cannot-tell" : "fail";
}
