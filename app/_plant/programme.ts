import { PA_PER_BAR } from '@/lib/units'
import type { Segment } from './duty'
import type { Change, MachineSpec } from './spec'

/** A segment of the demand with what the supply does meanwhile. */
export interface Run extends Segment {
  readonly mode: 'off' | 'starting' | 'running'
  readonly settingPa: number
  readonly crackPa: number
  readonly centreOpen: boolean
  /** Zero stroke (on a drive: least speed) at this pressure; infinite for a fixed pump. */
  readonly compensatorPa: number
  /** A load-sensing pump stays this much above the load, below its compensator's pressure; null for others. */
  readonly marginPa: number | null
  /** Least share of full speed on a drive; null without one. */
  readonly leastSpeed: number | null
  /** Which segment of the demand it is (a part of). */
  readonly segmentAt: number
}

/** A vented spool starts to lift at about this share of its full-flow pressure. */
const VENT_CRACK_RATIO = 0.7
/** A relief beside a compensated pump is set this far above it, so that it stays shut. */
const RELIEF_ABOVE_COMPENSATOR_PA = 20 * PA_PER_BAR
/** Compensators and drives work this much below the relief. */
const BELOW_RELIEF_PA = 10 * PA_PER_BAR
const RESTART_S = 0.5

/** What the supply does in each segment: as the machine is, or changed. The demand is left as it is. */
export function programme(
  spec: MachineSpec,
  demand: readonly Segment[],
  change?: Change,
  changedFromS = 0,
): Run[] {
  const relief = spec.relief
  const usual: Pick<Run, 'settingPa' | 'crackPa'> = {
    settingPa: relief.settingPa,
    crackPa: relief.settingPa * relief.crackRatio,
  }
  const at = (pressurePa: number, ratio = relief.crackRatio) => ({
    settingPa: pressurePa,
    crackPa: pressurePa * ratio,
  })
  const unloadPa = spec.unloading.pressureBar * PA_PER_BAR
  const runs: Run[] = []
  for (const [segmentAt, segment] of demand.entries()) {
    const unloads = segment.kind === 'idle-unloaded' || segment.kind === 'starting'
    // A star-delta start has a third of the torque: such machines come up unloaded.
    const easy = segment.kind === 'starting' && spec.starter === 'star-delta'
    const vented = (unloads && spec.unloading.kind === 'vented-relief') || easy
    const mode = segment.kind === 'stopped' ? 'off' : segment.kind === 'starting' ? 'starting' : 'running'
    const run: Run = {
      ...segment,
      mode,
      ...(vented ? at(unloadPa, VENT_CRACK_RATIO) : usual),
      centreOpen: unloads && spec.unloading.kind === 'open-centre',
      compensatorPa: Number.POSITIVE_INFINITY,
      marginPa: null,
      leastSpeed: null,
      segmentAt,
    }
    runs.push(...changed(spec, run, vented, segment.startS >= changedFromS ? change : undefined))
  }
  return runs
}

function changed(spec: MachineSpec, run: Run, vented: boolean, change?: Change): Run[] {
  if (!change) return [run]
  const idle = run.kind === 'idle-loaded' || run.kind === 'idle-unloaded'
  const ratio = spec.relief.crackRatio
  const set = (pressurePa: number): Run => ({
    ...run,
    settingPa: pressurePa,
    crackPa: pressurePa * ratio,
  })
  switch (change.id) {
    case 'vent-relief-at-idle': {
      if (run.kind !== 'idle-loaded') return [run]
      const ventPa = change.ventBar * PA_PER_BAR
      const fromS = run.startS + change.delayS
      if (fromS >= run.endS) return [run]
      const vent = { settingPa: ventPa, crackPa: ventPa * VENT_CRACK_RATIO }
      return [
        { ...run, endS: fromS },
        { ...run, startS: fromS, ...vent },
      ]
    }
    case 'second-relief-setting': {
      const work = run.kind.startsWith('work-')
      const onPump = run.kind === 'work-holding' && !run.locked
      const highest = onPump ? 1 : Math.max(run.loadFrom, run.loadTo)
      const lowPa = change.lowSettingBar * PA_PER_BAR
      const fits = highest * spec.relief.settingPa <= lowPa - change.marginBar * PA_PER_BAR
      return work && fits ? [set(lowPa)] : [run]
    }
    case 'lower-relief-setting':
      return vented ? [run] : [set(change.settingBar * PA_PER_BAR)]
    case 'stop-motor-at-idle': {
      const restartS = run.endS - RESTART_S
      if (!idle || run.startS + change.waitS >= restartS) return [run]
      return [
        { ...run, endS: run.startS + change.waitS },
        { ...run, startS: run.startS + change.waitS, endS: restartS, mode: 'off' },
        { ...run, startS: restartS, mode: 'starting' },
      ]
    }
    case 'pressure-compensated-pump': {
      const compensatorPa = change.compensatorBar * PA_PER_BAR
      const relief = vented ? run : set(compensatorPa / ratio + RELIEF_ABOVE_COMPENSATOR_PA)
      return [{ ...relief, compensatorPa }]
    }
    case 'load-sensing-pump': {
      if (run.kind === 'starting' || run.kind === 'stopped') return [run]
      const compensatorPa = spec.relief.settingPa - BELOW_RELIEF_PA
      const closed = set(compensatorPa / ratio + RELIEF_ABOVE_COMPENSATOR_PA)
      return [{ ...closed, centreOpen: false, compensatorPa, marginPa: change.marginBar * PA_PER_BAR }]
    }
    case 'variable-speed-drive': {
      if (run.kind === 'starting' || run.kind === 'stopped') return [run]
      // Idling, the drive is told to turn slowly; working, it keeps the pressure just below the relief.
      const crackPa = spec.relief.settingPa * ratio
      const compensatorPa = idle ? 0 : Math.min(crackPa, spec.relief.settingPa - BELOW_RELIEF_PA)
      return [{ ...run, compensatorPa, leastSpeed: change.minimumSpeedShare }]
    }
    default:
      return [run]
  }
}
