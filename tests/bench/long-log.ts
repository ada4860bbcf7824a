import { once } from 'node:events'
import { createWriteStream } from 'node:fs'
import { fleet } from '@/app/_plant/fleet'
import { writeCsv } from '@/app/_plant/habits'
import { simulate } from '@/app/_plant/simulate'
import { seededRandom } from '@/lib/numeric/random'

/** A log of five values beside the time, and the machine it is of. */
export const NAME = 'broach-early-relief'
const MACHINE = 'broach-1'
const ROUND_S = 1200
const MS_PER_S = 1000
const BATCH = 20_000

/** No two rounds of a machine are alike: its readings lie this far higher or lower, with noise of their own. */
const ROUND_SHARE = 0.03
const NOISE_SHARE = 0.002

/** A round of the invented shear as the sample log has it, logged at another rate. */
function oneRound(hz: number): string {
  const spec = fleet().find(({ id }) => id === MACHINE)?.spec
  if (!spec) throw new Error(MACHINE)
  const visit = { seed: 12, durationS: ROUND_S, rateHz: hz, fineHz: Math.max(100, hz) }
  return writeCsv(simulate(spec, visit).recording, 'comma-iso', '2026-09-16T09:00:00')
}

/** A long recording: round after round, never the same, with stamps that go on. */
export async function writeLong(path: string, rows: number, hz: number): Promise<void> {
  const [header, ...lines] = oneRound(hz).trimEnd().split('\n')
  const random = seededRandom(1)
  const readings = lines.map((line) => line.split(',').slice(1).map(Number))
  let round: number[] = []
  const cellsOf = (row: number) => {
    const at = row % readings.length
    if (at === 0) round = readings[0].map(() => 1 + ROUND_SHARE * (2 * random() - 1))
    const cells = readings[at].map((reading, column) =>
      (reading * (round[column] + NOISE_SHARE * (2 * random() - 1))).toFixed(2),
    )
    return `,${cells.join(',')}`
  }
  const startMs = Date.UTC(2026, 2, 1)
  const out = createWriteStream(path)
  out.write(`${header}\n`)
  for (let from = 0; from < rows; from += BATCH) {
    const count = Math.min(BATCH, rows - from)
    const made = Array.from({ length: count }, (_, i) => {
      const stamp = new Date(startMs + ((from + i) * MS_PER_S) / hz).toISOString().slice(0, -1)
      return `${stamp}${cellsOf(from + i)}\n`
    })
    if (!out.write(made.join(''))) await once(out, 'drain')
  }
  out.end()
  await once(out, 'finish')
}
