/**
 * Turns a rising curve of current over shaft power round, once for a motor, so that each sample costs one root and
 * one look-up: shaft power is tabulated over √(I² − I_0²), in which it is smooth. (Over the current itself
 * the curve stands nearly upright at no load.) The table is made when it is first asked for.
 */
const STEPS = 1024
const NEWTON_STEPS = 4

export interface RisingCurve {
  /** Current squared at a shaft power, A². */
  squareA2(shaftW: number): number
  /** Its rise with shaft power, A²/W; positive. */
  squareRise(shaftW: number): number
}

/** Shaft power in W at a current in A; nil at and below the current without load, in line with the table's end beyond it. */
export function shaftFromCurrent(curve: RisingCurve, highestW: number): (currentA: number) => number {
  const noLoadSquare = curve.squareA2(0)
  const reach = Math.sqrt(curve.squareA2(highestW) - noLoadSquare)
  const perStep = STEPS / reach
  let table: Float64Array | null = null

  const build = () => {
    const shafts = new Float64Array(STEPS + 1)
    for (let k = 1; k <= STEPS; k++) {
      const square = noLoadSquare + (k / perStep) ** 2
      let shaftW = k === 1 ? 0 : shafts[k - 1]
      for (let n = 0; n < NEWTON_STEPS; n++) {
        shaftW += (square - curve.squareA2(shaftW)) / curve.squareRise(shaftW)
      }
      shafts[k] = Math.max(shaftW, shafts[k - 1])
    }
    return shafts
  }

  return (currentA) => {
    const square = currentA * currentA - noLoadSquare
    if (!(square > 0) || !(currentA > 0)) return 0
    table ??= build()
    const place = Math.sqrt(square) * perStep
    const k = Math.min(Math.floor(place), STEPS - 1)
    return table[k] + (place - k) * (table[k + 1] - table[k])
  }
}
