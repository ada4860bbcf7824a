import type { Machine } from '@/lib/contract/machine'
import type { Note, OptionId, PhaseKind } from '@/lib/contract/result'
import type { Ledger } from '@/lib/ledger/ledger'
import { PA_PER_BAR } from '@/lib/units'
import { note } from './option'

/** Options that lower a pressure wherever they are carried out. */
const LOWER_A_PRESSURE: ReadonlySet<OptionId> = new Set([
  'vent-relief-at-idle',
  'open-centre-unloading',
  'second-relief-setting',
  'lower-relief-setting',
  'high-low-pumps',
  'pressure-compensated-pump',
  'load-sensing-pump',
  'accumulator-charging',
])

/** A drive keeps the relief shut: it lowers the pressure of every step in which the log has it open. */
const RELIEF_OPEN: ReadonlySet<string> = new Set(['work-metering', 'work-holding', 'idle-loaded'])

const WORK: ReadonlySet<string> = new Set(['work-moving', 'work-metering', 'work-holding'])

/** Whether an option lowers a pressure on a recording with these steps or phases. */
export const lowersPressure = (id: OptionId, steps: readonly { readonly kind: PhaseKind }[]) =>
  LOWER_A_PRESSURE.has(id) ||
  (id === 'variable-speed-drive' && steps.some(({ kind }) => RELIEF_OPEN.has(kind)))

type Steps = Ledger['segmentation']['steps']

/** By the steps of a recording: each of its options asks. */
const highestLoads = new WeakMap<Steps, number>()

/** Highest load pressure that a working step of the log reached, bar; null without a sensor or work. */
function highestLoggedLoadBar(steps: Steps): number | null {
  let highestPa = highestLoads.get(steps)
  if (highestPa === undefined) {
    highestPa = Number.NaN
    for (const { kind, peakLoadPa } of steps) {
      if (!(peakLoadPa <= highestPa) && !Number.isNaN(peakLoadPa) && WORK.has(kind)) highestPa = peakLoadPa
    }
    highestLoads.set(steps, highestPa)
  }
  return Number.isNaN(highestPa) ? null : highestPa / PA_PER_BAR
}

/** The least pressure that a setting may leave, Pa: what the log needs, or the confirmed highest load where that is more. */
export function leastPressurePa({ confirmed }: Pick<Machine, 'confirmed'>, loggedPa: number): number {
  // Where nothing was logged, or no sensor tells, a person's word alone makes no setting.
  return confirmed && loggedPa > 0 ? Math.max(loggedPa, confirmed.highestLoadBar * PA_PER_BAR) : loggedPa
}

export interface Confirmation {
  readonly needsConfirmation: boolean
  readonly toConfirm: Note[]
}

/**
 * What a person has to confirm before an option is carried out: nothing where it lowers no pressure; else the loads
 * that were not logged and what hangs on that pressure, until the machine file says both; then that each thing that
 * hangs on it keeps what it needs.
 */
export function confirmationOf(
  id: OptionId,
  ledger: Pick<Ledger, 'segmentation'> & { readonly machine: Pick<Machine, 'confirmed'> },
): Confirmation {
  if (!lowersPressure(id, ledger.segmentation.steps)) return { needsConfirmation: false, toConfirm: [] }
  const { confirmed } = ledger.machine
  const toConfirm = confirmed
    ? confirmed.hangsOnPressure.map((thing) => note(`keeps-${thing}`))
    : [
        note('confirm-highest-load', { loggedBar: highestLoggedLoadBar(ledger.segmentation.steps) }),
        note('confirm-what-hangs'),
      ]
  return { needsConfirmation: toConfirm.length > 0, toConfirm }
}
