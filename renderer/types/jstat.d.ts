// jstat ships no types; declared here are the few functions that are used.
declare module 'jstat' {
  interface Continuous1 {
    cdf(x: number, a: number): number;
    inv(p: number, a: number): number;
  }
  interface Continuous2 {
    cdf(x: number, a: number, b: number): number;
    inv(p: number, a: number, b: number): number;
  }
  export const jStat: {
    normal: Continuous2;
    chisquare: Continuous1;
    studentt: Continuous1;
    centralF: Continuous2;
    gammaln(x: number): number;
    lowRegGamma(a: number, x: number): number;
    ibeta(x: number, a: number, b: number): number;
  };
  const defaultExport: { jStat: typeof jStat };
  export default defaultExport;
}
