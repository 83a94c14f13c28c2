/** The oracle ships no types; these are the few functions that the checks call. */
declare module "jstat" {
  interface Continuous {
    inv(p: number, ...parameters: number[]): number;
    cdf(x: number, ...parameters: number[]): number;
  }
  const jstat: {
    readonly normal: Continuous;
    readonly studentt: Continuous;
    readonly chisquare: Continuous;
    readonly centralF: Continuous;
    gammaln(x: number): number;
  };
  export default jstat;
}
