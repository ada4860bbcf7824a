import type { PhaseKind } from '@/lib/contract/result'
import { readerOf } from '@/lib/samples/samples'
import type { Trace } from '@/lib/samples/trace'
import type { Account } from './account'
import { ACCOUNT_KEYS, accountArrays } from './account-series'
import { BLOCK_SAMPLES } from './columns'

/** A part of a step that no edge divides. The next piece is handed out in the same object. */
export interface Piece {
  readonly kind: PhaseKind
  /** Index of the stretch between edges that holds it: 0 before the first edge. */
  readonly stretch: number
  readonly seconds: number
  /** Energies in J in the order of ACCOUNT_KEYS; metering and work NaN where not separable. */
  readonly energiesJ: Float64Array
}

const WIDTH = ACCOUNT_KEYS.length

/**
 * Cuts a recording's account at `edgesS` (rising, elapsed seconds) and hands out the pieces in time. A step that no
 * edge crosses is one piece; of the others the samples are looked at, and one that holds across an edge is divided there.
 */
export function eachPiece(
  account: Account,
  trace: Pick<Trace, 'timeS' | 'holdS'>,
  edgesS: readonly number[],
  visit: (piece: Piece) => void,
): void {
  const { steps, energiesJ } = account
  const [timeS, holdS] = [readerOf(trace.timeS), readerOf(trace.holdS)]
  let stretch = 0
  const passed = (atS: number) => {
    while (stretch < edgesS.length && edgesS[stretch] <= atS) stretch++
  }
  steps.forEach(({ kind, from, to, durationS }, k) => {
    passed(timeS.at(from))
    const endS = timeS.at(to - 1) + holdS.at(to - 1)
    if (!(edgesS[stretch] < endS)) {
      visit({ kind, stretch, seconds: durationS, energiesJ: energiesJ.subarray(k * WIDTH, (k + 1) * WIDTH) })
      return
    }
    let seconds = 0
    const parts = new Float64Array(WIDTH)
    const close = () => {
      if (seconds > 0) visit({ kind, stretch, seconds, energiesJ: parts })
      seconds = 0
      parts.fill(0)
    }
    const block = accountArrays(Math.min(BLOCK_SAMPLES, to - from))
    for (let first = from; first < to; first += BLOCK_SAMPLES) {
      const last = Math.min(first + BLOCK_SAMPLES, to)
      account.fill(first, last, block)
      for (let i = first; i < last; i++) {
        const beginS = timeS.at(i)
        const sampleEndS = beginS + holdS.at(i)
        for (let atS = beginS; atS < sampleEndS; ) {
          if (edgesS[stretch] <= atS) {
            close()
            passed(atS)
          }
          const untilS = Math.min(sampleEndS, edgesS[stretch] ?? sampleEndS)
          for (let key = 0; key < WIDTH; key++)
            parts[key] += block[ACCOUNT_KEYS[key]][i - first] * (untilS - atS)
          seconds += untilS - atS
          atS = untilS
        }
      }
    }
    close()
  })
}
