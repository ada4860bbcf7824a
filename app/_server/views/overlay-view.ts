import type { Database } from '@/db/client'
import type { Phase, Result } from '@/lib/contract/result'
import { LEAST_COMPARED, MOST_COMPARED } from './compared'
import { machineView } from './machine-view'

/** One of the machines laid over one another: what its latest log says, without its phases' list. */
export interface OverlaidMachine {
  readonly id: string
  readonly name: string
  readonly line: string | null
  readonly logId: string
  readonly startedAt: string | null
  readonly durationS: number
  readonly phases: readonly Phase[]
  /** Channel of the pump pressure; null where none was logged. */
  readonly pressure: string | null
  readonly result: Pick<
    Result,
    | 'cycles'
    | 'ledgerKWh'
    | 'ledgerByPhase'
    | 'meterSharesKWh'
    | 'options'
    | 'reliefFit'
    | 'model'
    | 'ranking'
  >
}

export interface OverlayView {
  readonly machines: readonly OverlaidMachine[]
  readonly currency: string
  readonly timeZone: string
  /** Asked for and not there, or without a result. */
  readonly missing: readonly string[]
}

/** Ids of an address, each once; null where they are too few or too many. */
export function idsToCompare(text: string | undefined): string[] | null {
  const ids = [...new Set((text ?? '').split(',').filter(Boolean))]
  return ids.length < LEAST_COMPARED || ids.length > MOST_COMPARED ? null : ids
}

/** Two to four machines with what their latest logs say. */
export async function overlayView(db: Database, ids: readonly string[]): Promise<OverlayView> {
  const machines: OverlaidMachine[] = []
  const missing: string[] = []
  let [currency, timeZone] = ['', 'UTC']
  for (const id of ids) {
    const view = await machineView(db, id, undefined)
    if (!view?.result || !view.chosen) {
      missing.push(view?.name ?? id)
      continue
    }
    const { result, chosen, channels, name, line, site } = view
    ;[currency, timeZone] = [site.currency, site.timeZone]
    const { cycles, ledgerKWh, ledgerByPhase, meterSharesKWh, options, reliefFit, model, ranking } = result
    const pressure = channels.find(
      ({ quantity, location }) => quantity === 'pressure' && location === 'pump-outlet',
    )
    machines.push({
      id,
      name,
      line,
      logId: chosen.id,
      startedAt: result.log.startedAt,
      durationS: result.log.durationS,
      phases: result.phases,
      pressure: pressure?.name ?? null,
      result: { cycles, ledgerKWh, ledgerByPhase, meterSharesKWh, options, reliefFit, model, ranking },
    })
  }
  return { machines, currency, timeZone, missing }
}
