declare module 'jstat' {
  /** Of the library only what is used here and in tests. */
  const jstat: {
    beta: {
      /** Inverse of the regularized incomplete beta function: the value below which the fraction `p` lies. */
      inv(p: number, alpha: number, beta: number): number;
    };
    normal: {
      /** The fraction of a normal distribution below `x`. */
      cdf(x: number, mean: number, standardDeviation: number): number;
      inv(p: number, mean: number, standardDeviation: number): number;
    };
  };
  export default jstat;
}
