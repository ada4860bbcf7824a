import { describe, expect, it } from 'vitest'
import { circuitAt, slipForPower, slipForTorque } from '@/app/_plant/circuit'
import { makeMotor } from '@/app/_plant/make-motor'
import { seededRandom } from '@/lib/numeric/random'

/** IEC 60034-30-1, 4-pole 50 Hz, nominal efficiency in %: IE1 and IE4. */
const CLASSES: ReadonlyArray<readonly [number, number, number]> = [
  [5.5, 84.7, 91.9],
  [7.5, 86.0, 92.6],
  [11, 87.6, 93.3],
  [15, 88.7, 93.9],
  [22, 89.9, 94.5],
  [30, 90.7, 94.9],
  [45, 91.7, 95.4],
  [55, 92.1, 95.7],
  [75, 92.7, 96.0],
]

/** US DOE, Determining Electric Motor Load and Efficiency, part-load efficiency over its maximum (digitised). */
const PART_LOAD = [
  { ratedKW: 15, loads: [0.3, 0.4, 0.6, 0.8], shares: [0.937, 0.98, 1, 1] },
  { ratedKW: 30, loads: [0.3, 0.4, 0.6, 0.8], shares: [0.957, 1, 1, 1] },
  { ratedKW: 75, loads: [0.3, 0.4, 0.6, 0.8], shares: [0.987, 1, 1, 1] },
]

const copies = [1, 2, 3, 4, 5]

describe('plates of the invented motors', () => {
  it.each(CLASSES)('%f kW: efficiency between classes IE1 and IE4', (kW, low, high) => {
    for (const copy of copies) {
      const { nameplate } = makeMotor(kW, 50, seededRandom(copy * 97))
      expect(nameplate.ratedEfficiency * 100).toBeGreaterThan(low - 0.8)
      expect(nameplate.ratedEfficiency * 100).toBeLessThan(high)
    }
  })

  it('power factor at full, ¾ and ½ load near the published ones, no-load current 28 to 65 % of rated', () => {
    // 4-pole, full/¾/½ load: 5–20 hp .86 .84 .74, 20–100 hp .89 .86 .79 (secondary page); spread of makers ±.08.
    for (const [kW, published] of [
      [11, [0.86, 0.84, 0.74]],
      [45, [0.89, 0.86, 0.79]],
    ] as const) {
      for (const copy of copies) {
        const { circuit, nameplate } = makeMotor(kW, 50, seededRandom(copy * 31))
        const at = (share: number) =>
          circuitAt(circuit, 400, slipForPower(circuit, 400, share * kW * 1000)).powerFactor
        for (const [index, share] of [1, 0.75, 0.5].entries()) {
          expect(Math.abs(at(share) - published[index])).toBeLessThan(0.08)
        }
        const share = (nameplate.noLoadCurrentA ?? 0) / nameplate.ratedCurrentA
        expect(share).toBeGreaterThan(0.28)
        expect(share).toBeLessThan(0.65)
      }
    }
  })

  it('efficiency falls off at part load as the published curves do, within 4 points', () => {
    for (const { ratedKW, loads, shares } of PART_LOAD) {
      const { circuit } = makeMotor(ratedKW, 50, seededRandom(5))
      const efficiency = (load: number) => {
        const point = circuitAt(circuit, 400, slipForPower(circuit, 400, load * ratedKW * 1000))
        return point.shaftW / point.inputW
      }
      const best = Math.max(...[0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1].map(efficiency))
      loads.forEach((load, index) => {
        expect(Math.abs(efficiency(load) / best - shares[index])).toBeLessThan(0.04)
      })
    }
  })

  it('runs up with four to eight times rated current, as motors do (common practice, no source)', () => {
    for (const [kW] of CLASSES) {
      const { circuit, nameplate } = makeMotor(kW, 50, seededRandom(3))
      const ratio = circuitAt(circuit, 400, 1).currentA / nameplate.ratedCurrentA
      expect(ratio).toBeGreaterThan(4)
      expect(ratio).toBeLessThan(8)
    }
  })

  it('the plate is the rated point of the circuit, rounded', () => {
    const { circuit, nameplate } = makeMotor(22, 50, seededRandom(8))
    const { ratedPowerKW, ratedVoltageV, ratedCurrentA, ratedPowerFactor, ratedEfficiency } = nameplate
    const fromPlate = Math.sqrt(3) * ratedVoltageV * ratedCurrentA * ratedPowerFactor * ratedEfficiency
    expect(fromPlate / 1000 / ratedPowerKW).toBeCloseTo(1, 1)
    const idle = circuitAt(circuit, 400, slipForTorque(circuit, 400, 0, 0.001))
    expect(idle.currentA).toBeCloseTo(nameplate.noLoadCurrentA ?? 0, 0)
  })
})
