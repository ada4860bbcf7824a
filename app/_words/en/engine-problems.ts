import type { LevelName } from '@/lib/contract/levels'
import type { EngineProblemCode } from '../codes'
import type { Dictionary } from '../dictionary'
import { levels } from './names'

const levelName = (code: string) => (Object.hasOwn(levels, code) ? levels[code as LevelName] : code)

export const engineProblems: Pick<Dictionary['problems'], EngineProblemCode> = {
  'current-clamped-to-no-load': (said) =>
    `${said.things('sample was', 'samples were')} between half of and the full no-load current${said.part('noLoadCurrentA', (a) => ` of ${a} A`)} and counted as no load${said.percent('share', (share) => `, ${share} of the running time`)}${said.part('lowestA', (a) => `; the lowest was ${a} A`)}. A motor draws no less: check the clamp and the no-load current.`,
  'motor-overload': (said) =>
    `${said.things('sample lies', 'samples lie')} above the motor’s rating${said.percent('share', (share) => `, ${share} of the running time`)}. Short overloads are normal; long ones overheat the motor.`,
  'default-no-load-current': (said) =>
    `The motor’s no-load current is not given; a default${said.part('noLoadCurrentA', (a) => ` of ${a} A`)} stands in. It is the first thing to find out: idle power hangs on it.`,
  'assumed-efficiency': (said) =>
    `The motor’s efficiency is not given; that of an ${said.value('efficiencyClass')} motor of its size stands in${said.percent('efficiency', (share) => `: ${share}`)}${said.percent('low', (low) => `, between ${low}`)}${said.percent('high', (high) => ` and ${high}`)}. Read it, or the efficiency class, off the plate.`,
  'assumed-efficiency-of-class': (said) =>
    `The motor’s efficiency is that of its class ${said.value('efficiencyClass')}${said.percent('efficiency', (share) => `: ${share}`)}${said.percent('low', (low) => `, between ${low}`)}${said.percent('high', (high) => ` and ${high}`)}. The plate’s own figure is better.`,
  'assumed-efficiency-from-current': (said) =>
    `The motor’s efficiency is not given; rated output, voltage, current and power factor make it ${said.percent('efficiency', (share) => share)}${said.percent('low', (low) => `, between ${low}`)}${said.percent('high', (high) => ` and ${high}`)}.`,
  'assumed-power-factor': (said) =>
    `The motor’s power factor is not given; ${said.value('powerFactor')} is usual for its size and poles${said.part('low', (low) => `, between ${low}`)}${said.part('high', (high) => ` and ${high}`)}.`,
  'assumed-power-factor-from-current': (said) =>
    `The motor’s power factor is not given; rated output, voltage, current and efficiency make it ${said.value('powerFactor')}.`,
  'assumed-rated-current': (said) =>
    `The motor’s rated current is not given; rated output, voltage, power factor and efficiency make it ${said.value('currentA')} A.`,
  'motor-plate-contradicts': (said) =>
    `The motor’s plate contradicts itself: its rated current is entered as ${said.value('currentA')} A, its output, voltage, power factor and efficiency make ${said.value('impliedA')} A. Check star or delta connection and each entry.`,
  'part-load-efficiencies-not-used': (said) =>
    `The efficiencies at ¾ and ½ load do not fit the rated one${said.percent('impliedShare', (share) => `: ${share} of the rated loss would be there without load`)}. They were not used${said.percent('usedShare', (share) => `; ${share} stands in`)}.`,
  'part-load-power-factors-not-used': (said) =>
    `The power factors at ¾ and ½ load ask for a no-load current of ${said.value('impliedA')} A. They were not used; ${said.value('usedA')} A was.`,
  'drive-without-speed': () =>
    'The motor has a drive, but no speed was logged: it is taken to turn at the speed of the mains. Log the speed; without it flows and losses are those of full speed.',
  'current-before-drive': () =>
    'The current was measured before the drive. It is the rectifier’s and does not tell the motor’s torque; the pump’s model gives the power. Log real power before the drive, or current behind it.',
  'readings-contradict': (said) =>
    `${said.things('sample holds readings', 'samples hold readings')} that contradict one another${said.percent('share', (share) => `, ${share} of the running time`)}; what they leave over stands as unaccounted${said.part('columns', (columns) => `. Concerned: ${columns}`)}. Check places, units and scale of the sensors.`,
  'work-is-upper-bound': (said) =>
    `${said.value('loads')} load pressures were logged, but not the flow to each: work is the highest of them times the whole flow, the most it can be. Log the flow to each actuator to know it.`,
  'no-electric-channel': () =>
    'Neither power nor current was logged: the electric input comes from the pump’s and the motor’s models. Log one of them to measure it.',
  'auxiliaries-contradicted': (said) =>
    `With the motor stopped the meter does not read what the auxiliaries entered as always on take${said.part('foundKW', (kW) => `: ${kW} kW`)}${said.part('foundA', (a) => `: ${a} A`)}${said.part('declaredKW', (kW) => `, where ${kW} kW were entered`)}${said.part('declaredA', (a) => `, where ${a} A follow from what was entered`)}. Check what else hangs on this meter, and whether they really run all the time.`,
  'sets-not-all-running': (said) =>
    `The meter shows too little for all motors of the machine${said.part('seconds', (s) => `, for ${s} s`)}. The account takes all of them to run: one meter cannot tell which do. Log each set’s current, or enter only those that ran.`,
  'pair-state-unsure': (said) =>
    `The pressure lay near the one at which a pump goes to tank${said.part('unloadsAboveBar', (bar) => ` (${bar} bar)`)}${said.part('seconds', (s) => `, for ${s} s`)}${said.percent('share', (share) => `, ${share} of the running time`)}, and nothing that was logged tells whether it fed the line. The account takes the likelier, the intervals hold both. Log the line’s flow, or power.`,
  'hold-or-wait-unsure': (said) =>
    `Before the pump is unloaded it stands at the relief’s pressure${said.part('seconds', (s) => `, for ${s} s in all`)}. Pump pressure and flow do not tell whether a load is held or nothing happens${said.part('takenFor', (kind) => `; by its lengths it was taken for ${kind}`)}. The interval of the idle energy holds both. A pressure sensor at the load, or a signal of the cycle, would tell.`,
  'early-relief-taken': (said) =>
    `Well below the relief’s setting there are pressures that come back alike in every cycle while the loads differ${said.part('seconds', (s) => `, for ${s} s in all`)}: they were taken for a relief that opens early and passes a part of the flow. A load that is always the same would look alike, and the intervals hold that too. A flow meter in the system line or in the relief’s return line would tell.`,
  'worn-pump-unsure': (said) =>
    `At the relief’s pressure the return line never gets all that a sound pump gives${said.part('seconds', (s) => `, for ${s} s in all`)}: the pump is worn, or the machine always takes a little there${said.part('takenFor', (taken) => `; of wear and feed the account takes ${taken}`)}. The intervals hold both. A flow meter at the pump’s outlet or in the system line would tell.`,
  'input-from-alike': (said) =>
    `${said.things('sample has', 'samples have')} no reading of power or current${said.part('seconds', (s) => ` (${s} s)`)}, and no model tells the input either, for no meter reads the pump’s flow. The mean of the other phases of the same kind, or of all while running where there are none, stands in, and the intervals hold how much those differ. Check the meter and its channel.`,
  'unknown-option-cost': (said) =>
    `The site’s costs name “${said.value('option')}”, which is no option; this cost was not used. Check the spelling.`,
  'sensors-silent': (said) =>
    `Pressure, current and power are all missing at ${said.things('sample', 'samples')}${said.part('seconds', (s) => ` (${s} s)`)}. They count as stopped and add nothing: the real input was higher if the motor ran.`,
  'sensor-spike': (said) =>
    `${said.things('reading jumps', 'readings jump')} away and back within one sample while nothing else moves; the reading before stands in${said.part('startS', (s) => `. The first lies at ${s} s`)}${said.part('endS', (s) => `, the last before ${s} s`)}. Check cable and plug.`,
  'sensor-stuck': (said) =>
    `${said.things('sample shows', 'samples show')} one and the same number while other sensors move, and were taken as missing${said.part('startS', (s) => `: from ${s} s`)}${said.part('endS', (s) => ` to ${s} s`)}. Check the sensor and its channel.`,
  'sensor-slow': (said) =>
    `Follows the pressure late${said.part('timeConstantS', (s) => `, with a time constant of ${s} s`)}: phases begin by the quick sensors, and its means over a phase are freed of the lag. Take damping out of the meter or the logger.`,
  'load-at-rest': (said) =>
    `Still reads a load pressure with the pump at rest${said.part('restBar', (bar) => `: ${bar} bar`)}${said.part('limitBar', (bar) => `, where its accuracy allows ${bar} bar of offset`)}. It was taken as a pressure that the load holds, and the sensor’s zero was not compared with the other load sensors’. Check its zero with the line open to tank, with the load secured and the pressure let off first.`,
  'tank-line-high': (said) =>
    `The pressure in the tank line stands at ${said.value('medianBar')} bar${said.part('seconds', (s) => ` for ${s} s`)}${said.percent('share', (share) => `, ${share} of the time the pump turns`)}${said.part('highestBar', (bar) => ` (up to ${bar} bar)`)}; more than ${said.value('usualUpToBar')} bar is unusual. Whatever returns loses that too. Check the return filter and its indicator, the cooler, the oil’s temperature and the width of the line.`,
  'pressure-spike': (said) =>
    `${said.things('reading lies', 'readings lie')} far above what the relief lets through${said.part('limitBar', (bar) => ` (over ${bar} bar)`)} and were taken as missing. Check sensor and cable.`,
  'level-above-dead-head': (said) =>
    `The machine’s data give the level${said.part('level', (name) => ` “${levelName(name)}”`)}${said.part('given', (bar) => ` as ${bar} bar`)}, above the pressure with the whole flow over the relief${said.part('deadHeadBar', (bar) => ` (${bar} bar)`)}: no phase reaches it. Correct it, or leave it out to have it found.`,
}
