import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { checkMachine, draftOf, jsonOf } from '@/app/_ui/setup/draft'
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

  it('starts empty and refuses to be saved so', () => {
    const { machine: none, errors } = checkMachine(jsonOf(draftOf(null)))
    expect(none).toBeNull()
    expect(Object.keys(errors)).toContain('pump.displacementCm3')
  })
})
