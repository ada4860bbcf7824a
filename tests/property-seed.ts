import fc from 'fast-check'

/**
 * Properties meet the same cases in every run, so that a change that is green here is green elsewhere. Others are
 * met with PROPERTY_SEED, and more of them by raising a property's `numRuns`.
 */
fc.configureGlobal({ seed: Number(process.env.PROPERTY_SEED ?? 1) })
