import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { checkMachine, draftOf, jsonOf } from '@/app/_ui/setup/draft'
import { givenLevelsSchema, LEVEL_NAMES } from '@/lib/contract/levels'
import { machineSchema } from '@/lib/contract/machine'
import { machineJson } from './fixture'

const machine = machineSchema.parse(machineJson)

describe('the form of a machine', () => {
  it('gives back the JSON it was filled from, unchanged', () => {
    expect(checkMachine(jsonOf(draftOf(machine))).machine).toEqual(machine)
  })

  it('does so for every sample machine', () => {
    const files = readdirSync('sample-logs').filter((name) => name.endsWith('.machine.json'))
    expect(files.length).toBeGreaterThan(0)
    for (const file of files) {
      const sample = machineSchema.parse(JSON.parse(readFileSync(`sample-logs/${file}`, 'utf8')))
      expect(checkMachine(jsonOf(draftOf(sample))).machine, file).toEqual(sample)
    }
  })

  it('keeps what little a plate says, and a drive', () => {
    const { ratedCurrentA: _, ratedEfficiency: __, ...motor } = machine.motor
    const sparse = machineSchema.parse({
      ...machine,
      motor: { ...motor, efficiencyClass: 'IE3', powerFactorAt50: 0.74, drive: { meter: 'after-drive' } },
    })
    expect(checkMachine(jsonOf(draftOf(sparse))).machine).toEqual(sparse)
    expect(checkMachine(jsonOf(draftOf(machine))).machine?.motor).not.toHaveProperty('drive')
  })

  it('keeps what a person confirmed and what cools the oil; empty stays absent', () => {
    const confirmed = { highestLoadBar: 150, by: 'A. Fitter', on: '2026-03-02', hangsOnPressure: ['clamps'] }
    for (const more of [{}, { hangsOnPressure: [] }, { note: 'asked the shift' }]) {
      const said = { ...machine, confirmed: { ...confirmed, ...more }, cooling: { electricPerHeat: 0 } }
      const told = machineSchema.parse(said)
      expect(checkMachine(jsonOf(draftOf(told))).machine).toEqual(told)
    }
    expect(jsonOf(draftOf(machine))).not.toHaveProperty('confirmed')
    expect(jsonOf(draftOf(machine))).not.toHaveProperty('cooling')
  })

  it('says beside each entry what a confirmation lacks', () => {
    const draft = draftOf(machine)
    const typed = { ...draft.text, 'confirmed.highestLoadBar': 'high', 'confirmed.on': '2 March' }
    const { errors } = checkMachine(jsonOf({ ...draft, text: typed }))
    expect(errors).toEqual({
      'confirmed.highestLoadBar': 'Enter a number.',
      'confirmed.by': 'Enter who confirmed it.',
      'confirmed.on': 'Enter the day, as in 2026-03-31.',
    })
    // Ticked alone it is a confirmation as well, and lacks all else.
    const ticked = checkMachine(jsonOf({ ...draft, hangs: ['brakes'] }))
    expect(Object.keys(ticked.errors)).toEqual(['confirmed.highestLoadBar', 'confirmed.by', 'confirmed.on'])
    const cooling = { ...draft.text, 'cooling.electricPerHeat': '3' }
    expect(checkMachine(jsonOf({ ...draft, text: cooling })).errors).toEqual({
      'cooling.electricPerHeat': 'Must be at most 2.',
    })
  })

  it('keeps further pumps, sets and auxiliaries', () => {
    const { kind: _, ...rating } = machine.pump
    const several = machineSchema.parse({
      ...machine,
      furtherPumps: [
        { ...rating, unloadsAboveBar: 80 },
        { ...rating, displacementCm3: 8, outlet: { pressureBar: 25 } },
      ],
      furtherSets: [{ count: 2 }, { motor: machine.motor, pump: rating, count: 1 }],
      auxiliaries: [
        { name: 'Filter loop', powerKW: 0.75 },
        { name: 'Cooler 2', powerKW: 1.5, when: 'motor-running', accuracyPercent: 20, powerFactor: 0.7 },
      ],
    })
    expect(checkMachine(jsonOf(draftOf(several))).machine).toEqual(several)
  })

  it('says beside which entry something is wrong', () => {
    const draft = draftOf(machine)
    const text = {
      ...draft.text,
      'motor.ratedPowerKW': '',
      'motor.ratedEfficiency': '92',
      'motor.poles': '3',
    }
    const { machine: none, errors } = checkMachine(jsonOf({ ...draft, name: ' ', text }))
    expect(none).toBeNull()
    expect(errors).toEqual({
      name: 'Enter a name.',
      'motor.ratedPowerKW': 'Enter a number.',
      'motor.ratedEfficiency': 'Must be at most 1.',
      'motor.poles': 'Must be a multiple of 2.',
    })
  })

  it('reads a decimal comma, and leaves optional entries out when empty', () => {
    const draft = draftOf(machine)
    const text = {
      ...draft.text,
      'motor.ratedPowerFactor': '0,86',
      'motor.noLoadCurrentA': '',
      longestHoldS: '',
    }
    const read = checkMachine(jsonOf({ ...draft, text })).machine
    expect(read?.motor.ratedPowerFactor).toBe(0.86)
    expect(read?.motor).not.toHaveProperty('noLoadCurrentA')
    expect(read).not.toHaveProperty('longestHoldS')
  })

  it('gives a level typed to MACHINE.json and back, and leaves every other to be found', () => {
    const draft = draftOf(machine)
    expect(jsonOf(draft)).not.toHaveProperty('levels')
    const text = { ...draft.text, 'levels.unloadedBelowBar': '22,5', 'levels.noFlowShare': '0.08' }
    const read = checkMachine(jsonOf({ ...draft, text })).machine
    expect(read).toEqual({ ...machine, levels: { unloadedBelowBar: 22.5, noFlowShare: 0.08 } })
    const again = draftOf(read)
    expect(again.text['levels.unloadedBelowBar']).toBe('22.5')
    expect(again.text['levels.deadHeadBar']).toBe('')
    expect(checkMachine(jsonOf(again)).machine).toEqual(read)
    // Emptied, the block is gone, not there without entries.
    const emptied = { ...again.text, 'levels.unloadedBelowBar': ' ', 'levels.noFlowShare': '' }
    expect(checkMachine(jsonOf({ ...again, text: emptied })).machine).toEqual(machine)
  })

  it('has an entry for every level there is', () => {
    const all = Object.fromEntries(LEVEL_NAMES.map((name, k) => [name, (k + 1) / 10]))
    const levels = givenLevelsSchema.parse({ ...all, noFlowShare: 0.1, fullFlowShare: 0.9 })
    expect(checkMachine(jsonOf(draftOf({ ...machine, levels }))).machine?.levels).toEqual(levels)
  })

  it('says beside a level what is wrong with it, and calls the others what the form calls them', () => {
    const draft = draftOf(machine)
    const wrong = (typed: Record<string, string>) =>
      checkMachine(jsonOf({ ...draft, text: { ...draft.text, ...typed } })).errors
    expect(wrong({ 'levels.deadHeadBar': 'high', 'levels.noFlowShare': '8' })).toEqual({
      'levels.deadHeadBar': 'Enter a number.',
      'levels.noFlowShare': 'Must be at most 1.',
    })
    expect(wrong({ 'levels.runningPowerKW': '-2' })).toEqual({ 'levels.runningPowerKW': 'Must be above 0.' })
    expect(wrong({ 'levels.unloadedBelowBar': '60', 'levels.deadHeadBar': '50' })).toEqual({
      'levels.unloadedBelowBar': 'Must be below “Whole flow over the relief at”.',
    })
    expect(wrong({ 'levels.deadHeadFromBar': '60', 'levels.deadHeadBar': '50' })).toEqual({
      'levels.deadHeadFromBar': 'Must not exceed “Whole flow over the relief at”.',
    })
    expect(wrong({ 'levels.unloadedBelowBar': String(machine.relief.settingBar) })).toEqual({
      'levels.unloadedBelowBar': 'Must be below “Setting” under Relief valve.',
    })
  })

  it('starts empty and refuses to be saved so', () => {
    const { machine: none, errors } = checkMachine(jsonOf(draftOf(null)))
    expect(none).toBeNull()
    expect(Object.keys(errors)).toContain('pump.displacementCm3')
  })
})
