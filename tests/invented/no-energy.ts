/** A row of a month in which nothing flowed and nothing was paid: what a test sets beside it is all there is. */
export const NO_ENERGY = {
  electricJ: 0,
  motorLossJ: 0,
  pumpLossJ: 0,
  overReliefJ: 0,
  unloadingJ: 0,
  intoSystemJ: 0,
  meteringJ: 0,
  workJ: 0,
  unaccountedJ: 0,
  cost: 0,
  cycles: 0,
}
