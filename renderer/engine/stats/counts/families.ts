import { logGamma } from '../distributions';

/** A distribution of counts given their mean μ, log link. */
export interface CountFamily {
  /** Variance at mean μ. */
  variance(mu: number): number;
  /** Twice the log-likelihood lost by predicting μ instead of y itself. */
  unitDeviance(y: number, mu: number): number;
  logLik(y: number, mu: number): number;
}

export const poisson: CountFamily = {
  variance: (mu) => mu,
  unitDeviance: (y, mu) => 2 * ((y > 0 ? y * Math.log(y / mu) : 0) - (y - mu)),
  logLik: (y, mu) => (y > 0 ? y * Math.log(mu) : 0) - mu - logGamma(y + 1),
};

/** Variance μ + μ²/θ; θ → ∞ is Poisson. */
export function negativeBinomial(theta: number): CountFamily {
  return {
    variance: (mu) => mu + (mu * mu) / theta,
    unitDeviance: (y, mu) =>
      2 * ((y > 0 ? y * Math.log(y / mu) : 0) - (y + theta) * Math.log1p((y - mu) / (mu + theta))),
    logLik: (y, mu) => {
      let rising = 0;
      for (let k = 0; k < y; k++) rising += Math.log1p(k / theta);
      // log Γ(y+θ)/Γ(θ) − y log θ is the sum above, which keeps its digits where θ is large.
      return (
        rising -
        logGamma(y + 1) +
        (y > 0 ? y * Math.log(mu) : 0) -
        (y + theta) * Math.log1p(mu / theta)
      );
    },
  };
}
