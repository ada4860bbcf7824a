import type { Stretch } from './stretch'

/** At rest a load keeps no more than this share of the pump's pressure, offsets of two sensors and friction included. */
const REST_SHARE = 0.025
/** Less than this share of the pump's pressure at the load is none. */
export const LOAD_SHARE = 0.1
/** Lines and a valve that is wide open cost less than this share of the pump's pressure. */
const WIDE_OPEN_SHARE = 0.1

/** A load without pressure behind a pump that has some: the valve between them is shut, and no oil moves. */
export const loadIsAtRest = ({ means: { loadPressurePa, pumpPressurePa } }: Stretch) =>
  loadPressurePa < REST_SHARE * pumpPressurePa

/**
 * A load under pressure, yet far below the pump: oil flows to it through a restriction, or a shut valve locks it in.
 * False where no load pressure is logged.
 */
export const loadIsBehindRestriction = ({ means: { loadPressurePa, pumpPressurePa } }: Stretch) =>
  loadPressurePa > LOAD_SHARE * pumpPressurePa &&
  pumpPressurePa - loadPressurePa > WIDE_OPEN_SHARE * pumpPressurePa
