export { effectiveCount } from './autocorrelation.ts'
export {
  type BootstrapOptions,
  bootstrapResiduals,
  type Interval,
  shortestInterval,
  symmetricInterval,
} from './bootstrap.ts'
export {
  type CusumSettings,
  type CusumState,
  cusumStep,
  type EwmaSettings,
  ewmaLimits,
  ewmaStep,
} from './controlChart.ts'
export { coverageFactor95 } from './coverageFactor.ts'
export {
  type CurveInBoth,
  type FitInBoth,
  fitCurveInBoth,
  fitLineInBoth,
  type LineInBoth,
  type ScatteredPoints,
} from './errorsInBoth.ts'
export { exceededDischarge, exceededDischargeInterpolated } from './flowDuration.ts'
export { incompleteBeta, logGamma } from './incompleteBeta.ts'
export { type Solution, solveLeastSquares } from './leastSquares.ts'
export {
  fitNonlinear,
  jacobianOf,
  type NonlinearFit,
  type NonlinearModel,
} from './nonlinearLeastSquares.ts'
export { normalCumulative, normalDensity, normalQuantile } from './normal.ts'
export { combineCorrelated, contributionsOf, correlation, covarianceOf, type Model } from './propagation.ts'
export { median, medianAbsoluteDeviation, quantileInterpolated, quantileWeibull } from './quantiles.ts'
export { createNormal, createRandom, type Random } from './randomGenerator.ts'
export { type Reconciliation, type ReconciliationInput, reconcile } from './reconciliation.ts'
export { rectangleCoverage } from './rectangleCoverage.ts'
export { evaluatePolynomial, type Fit, fitLinear, fitPolynomial, type LinearModel } from './regression.ts'
export { type Filtered, hampelFilter } from './robustFilter.ts'
export {
  type SteadinessState,
  type SteadinessWeights,
  startSteadiness,
  stepSteadiness,
  USUAL_CRITICAL_RATIO,
  USUAL_WEIGHTS,
} from './steadyState.ts'
export { studentQuantile, studentTail } from './studentT.ts'
export {
  createRunningSummary,
  type RunningSummary,
  successiveDeviation,
  summarise,
  vonNeumannRatio,
} from './summary.ts'
export {
  type Contribution,
  combineUncertainties,
  coverageFactor,
  type ExpandedUncertainty,
  effectiveDegreesOfFreedom,
  expandUncertainty,
  meanUncertainty,
  normalUncertainty,
  rectangularUncertainty,
} from './uncertainty.ts'
