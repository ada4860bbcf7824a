import { renderToStaticMarkup } from 'react-dom/server'
import { beforeAll, describe, expect, it } from 'vitest'
import type { LoggingPlanView } from '@/app/_server/views/logging-plan-view'
import { CheckLists } from '@/app/_ui/logging-plan/check-lists'
import { FurtherSensors } from '@/app/_ui/logging-plan/further-sensors'
import { HowLong } from '@/app/_ui/logging-plan/how-long'
import { reasonLines } from '@/app/_ui/logging-plan/plan-words'
import { EvidenceSheet, SensorsSheet } from '@/app/_ui/logging-plan/sensors-sheet'
import { Summary } from '@/app/_ui/logging-plan/summary'
import { ToNote } from '@/app/_ui/logging-plan/to-note'
import { VisitsSheet } from '@/app/_ui/logging-plan/visits-sheet'
import { readWishes } from '@/app/_ui/logging-plan/wishes'
import { type Machine, machineSchema } from '@/lib/contract/machine'
import { siteSchema } from '@/lib/contract/site'
import { finished, loggingPlan } from '@/lib/logging-plan/plan'
import { hoursByShift } from '@/lib/logging-plan/shift-cover'
import { HAND_MACHINE } from '../../../laws/hand-machine'

const site = siteSchema.parse({ plannedHoursLimitShare: 0.02 })

function viewOf(machine: Machine, asked: Parameters<typeof readWishes>[0] = {}): LoggingPlanView {
  const { wishes } = readWishes(asked, site)
  return {
    id: 'hand',
    name: machine.name,
    machine,
    site,
    plan: finished(loggingPlan({ machine, site, logs: [], dayOf: String, wishes })),
    logCount: 0,
    lastStations: null,
    shifts: hoursByShift([], () => 0),
  }
}

let view: LoggingPlanView
beforeAll(() => {
  view = viewOf(HAND_MACHINE)
}, 60_000)

describe('the plan of the hand-worked machine', () => {
  it('says why a sensor is there in the engine’s own terms', () => {
    const load = view.plan.stations.find(({ id }) => id === 'pressure:load')
    const lines = reasonLines('pressure:load', load?.worth ?? null).join(' ')
    expect(lines).toContain('Determines metering, work: not told without it.')
    expect(lines).toContain('10 % of the running time would pass for “idle, loaded” and is “work, holding”')
    expect(lines).toMatch(/Cannot be judged without it: .*load-sensing pump/)
  })
  it('shows ranges that open to their formula', () => {
    const html = renderToStaticMarkup(<SensorsSheet view={view} />)
    // 1.5 × 160 bar = 240 bar, so 250; 1.25 × 90 L/min, so 150; 1.6 × 32.5 kW, so 60.
    for (const text of [
      '0 to 250 bar',
      '0 to 150 L/min',
      '0 to 60 kW',
      '1.5 × relief setting',
      'at least 240 bar',
    ]) {
      expect(html).toContain(text)
    }
    expect(html).toContain('Q_system (measured)')
  })
  it('offers what more would add, and names what would not', () => {
    const html = renderToStaticMarkup(<FurtherSensors view={view} />)
    expect(html).toMatch(/Relief return flow.*over relief/s)
    expect(html).toMatch(/Next to nothing beside these sensors.*signal: idle/s)
  })
  it('marks an assumed scatter as assumed', () => {
    const html = renderToStaticMarkup(<HowLong view={view} />)
    expect(html).toContain('assumption')
    expect(html).toContain('Nothing was logged on this machine yet')
    expect(html).toMatch(/What no time removes/)
  })
  it('has a line for every visit, the first one cold', () => {
    const html = renderToStaticMarkup(<VisitsSheet view={view} />)
    expect(html.match(/<tr>/g)).toHaveLength(1 + (view.plan.visits?.count ?? 0))
    expect(html).toContain('cold start')
  })
  it('leaves room for serial number, certificate and zeros of every sensor', () => {
    const html = renderToStaticMarkup(<EvidenceSheet view={view} />)
    expect(html.match(/class="blank"/g)).toHaveLength(5 * view.plan.wishes.stations.length)
    expect(html).toContain('Zero at rest, before')
  })
  it('warns where the sensor in use is too short', () => {
    const accuracy = { percentOfFullScale: 0.5, fullScale: 200 }
    const channels = [{ column: 'p', quantity: 'pressure', location: 'pump-outlet', unit: 'bar', accuracy }]
    const short = viewOf(machineSchema.parse({ ...HAND_MACHINE, channels }))
    const html = renderToStaticMarkup(<SensorsSheet view={short} />)
    expect(html).toContain('The sensor in the set-up ends at 200 bar, below the 240 bar asked for')
  })
})

describe('plans that cannot be all', () => {
  it('without data of the motor: says what is missing, what is assumed and what it would narrow', () => {
    const {
      ratedCurrentA: _,
      ratedPowerFactor: __,
      ratedEfficiency: ___,
      noLoadCurrentA: ____,
      ...motor
    } = HAND_MACHINE.motor
    const sensor = ['pressure:pump-outlet', 'flow:system-line', 'current:motor-supply']
    const bare = viewOf({ ...HAND_MACHINE, motor }, { sensor })
    const html = renderToStaticMarkup(<ToNote view={bare} />)
    for (const text of ['Motor, rated current', 'Motor, no-load current', 'is assumed', 'motor plate']) {
      expect(html).toContain(text)
    }
    expect(html).toMatch(/waste ±.* → ±/)
    expect(renderToStaticMarkup(<SensorsSheet view={bare} />)).toContain('not on the plate: stated default')
  })
  it('without the pump pressure: says that there is no account', () => {
    const blind = viewOf(HAND_MACHINE, { sensor: 'flow:system-line' })
    expect(renderToStaticMarkup(<SensorsSheet view={blind} />)).toContain('there is no account')
    expect(renderToStaticMarkup(<HowLong view={blind} />)).toContain('no length of logging gives the waste')
    const html = renderToStaticMarkup(<Summary view={blind} />)
    expect(html).toContain('no data')
    expect(html).not.toMatch(/NaN|undefined|null/)
  })
  it('where hours alone are wider than wanted: no length is enough', () => {
    const asked = viewOf(HAND_MACHINE, { within: '3' })
    const wide = { ...asked, plan: viewAt(0.05).plan }
    expect(renderToStaticMarkup(<Summary view={wide} />)).toContain('no length is enough')
  })
})

/** The plan wanted within ± 3 % at a site whose hours are that uncertain. */
function viewAt(plannedHoursLimitShare: number): LoggingPlanView {
  const other = siteSchema.parse({ plannedHoursLimitShare })
  const { wishes } = readWishes({ within: '3' }, other)
  return {
    ...view,
    plan: finished(loggingPlan({ machine: HAND_MACHINE, site: other, logs: [], dayOf: String, wishes })),
  }
}

describe('safe fitting', () => {
  it('names what hurts and who decides', () => {
    const html = renderToStaticMarkup(<CheckLists />)
    for (const text of [
      'Local codes, the machine’s manual and a qualified person decide',
      'locked out and tagged',
      'Accumulators discharged',
      'Never loosen or tighten a fitting under pressure',
      'injected with hydraulic oil',
      'rated above the relief setting',
      'hot oil scalds',
      'qualified',
      'measurement category',
    ]) {
      expect(html).toContain(text)
    }
  })
})
