import Link from 'next/link'
import { DutyOverlay } from '@/app/_charts/duty-overlay'
import type { OverlayView } from '@/app/_server/views/overlay-view'
import { BasisLegend } from '../estimate-cell'
import { HowList } from '../explain/how-list'
import { dateOnly, duration } from '../format'
import { SafetyNote } from '../safety-note'
import { DESTINATIONS, METER_SHARES } from '../streams'
import { OverlayAccount } from './overlay-account'
import { OverlayOptions } from './overlay-options'
import { OverlayPhases } from './overlay-phases'

/** Machines laid over one another, from duty to options; each figure opens beneath. */
export function Overlay({ view }: { view: OverlayView }) {
  const { machines, timeZone } = view
  const undrawn = machines.filter(({ pressure }) => pressure === null)
  return (
    <>
      <p className="soft">
        Figures of each machine’s latest log:{' '}
        {machines
          .map(
            ({ name, startedAt, durationS }) =>
              `${name}, ${startedAt ? dateOnly(startedAt, timeZone) : 'no date'}, ${duration(durationS)}`,
          )
          .join('; ')}
        .
      </p>
      <section className="sheet" aria-labelledby="duty">
        <h2 id="duty">Duty in the pressure–flow plane</h2>
        <DutyOverlay
          machines={machines.flatMap(({ name, logId, pressure, phases, durationS }) =>
            pressure === null ? [] : [{ name, logId, pressure, phases, durationS }],
          )}
        />
        {undrawn.length ? (
          <p className="nodata">
            No pump pressure was logged, so not drawn: {undrawn.map(({ name }) => name).join(', ')}.
          </p>
        ) : null}
      </section>
      <section className="sheet" aria-labelledby="phases">
        <h2 id="phases">Time by phase</h2>
        <OverlayPhases machines={machines} />
      </section>
      <section className="sheet" aria-labelledby="account">
        <h2 id="account">Where each kWh goes</h2>
        <OverlayAccount machines={machines} />
        <BasisLegend />
      </section>
      <section className="sheet" aria-labelledby="options">
        <h2 id="options">Options</h2>
        <OverlayOptions machines={machines} currency={view.currency} />
        <BasisLegend />
        <SafetyNote />
      </section>
      <section className="sheet" aria-labelledby="reached">
        <h2 id="reached">How the figures are reached</h2>
        {machines.map(({ id, name, logId, result }) => (
          <details key={id} className="twin">
            <summary>{name}</summary>
            <HowList
              logId={logId}
              label={`Figures of ${name}`}
              rows={[
                {
                  name: 'Electric input',
                  figure: 'ledgerKWh.electricIn',
                  unit: 'kWh',
                  estimate: result.ledgerKWh.electricIn,
                },
                {
                  name: 'Energy per cycle',
                  figure: 'cycles.kWhPerCycle',
                  unit: 'kWh',
                  estimate: result.cycles.kWhPerCycle,
                },
                ...METER_SHARES.map((key) => ({
                  name: `${DESTINATIONS[key].label}, at the meter`,
                  figure: `meterSharesKWh.${key}`,
                  unit: 'kWh',
                  estimate: result.meterSharesKWh[key],
                })),
              ]}
            />
            <p>
              <Link href={`/machines/${id}#options`}>Options of {name}</Link>, with search, settings and what
              to confirm.
            </p>
          </details>
        ))}
      </section>
    </>
  )
}
