import { describe, expect, it } from 'vitest'
import { fleet } from '@/app/_plant/fleet'
import { PLANT_SITE, plannedVisits, plantLogs, plantMachines } from '@/app/_plant/plant'
import { machineSchema } from '@/lib/contract/machine'

describe('invented plant', () => {
  const machines = plantMachines()
  const visits = plannedVisits()

  it('has eight machines of different trades, 5 to 55 kW, valid by the contract', () => {
    expect(machines).toHaveLength(8)
    expect(new Set(machines.map(({ trade }) => trade)).size).toBe(8)
    for (const { machine } of machines) {
      expect(() => machineSchema.parse(machine)).not.toThrow()
      expect(machine.motor.ratedPowerKW).toBeGreaterThanOrEqual(5)
      expect(machine.motor.ratedPowerKW).toBeLessThanOrEqual(55)
    }
    expect(PLANT_SITE.name).toContain('invented')
  })

  it('plans about one visit a week for three months, one month of one machine thin', () => {
    const perMonth = (id: string, month: string) =>
      visits.filter((v) => v.machine.id === id && v.startedAt.startsWith(month)).length
    for (const { id } of machines) {
      for (const month of ['2026-08', '2026-09', '2026-10']) {
        expect(perMonth(id, month)).toBeGreaterThanOrEqual(id === 'lift-3' && month === '2026-09' ? 1 : 3)
      }
    }
    expect(perMonth('lift-3', '2026-09')).toBeLessThanOrEqual(2)
    expect(visits.every((v) => v.startedAt >= '2026-08-01' && v.startedAt < '2026-11-01')).toBe(true)
    const rows = visits.reduce((sum, { visit }) => sum + visit.durationS * visit.rateHz, 0)
    expect(rows).toBeGreaterThan(1e6)
    expect(rows).toBeLessThan(1.5e6)
  })

  it('no two visits of a machine overlap and none crosses midnight', () => {
    for (const { machine, startedAt, visit } of visits) {
      const start = Date.parse(`${startedAt}Z`)
      const end = start + visit.durationS * 1000
      expect(new Date(end).toISOString().slice(0, 10)).toBe(startedAt.slice(0, 10))
      const others = visits.filter((v) => v.machine.id === machine.id && v.startedAt !== startedAt)
      expect(others.some((v) => v.startedAt.slice(0, 10) === startedAt.slice(0, 10))).toBe(false)
    }
  })

  it('one relief cracks early for its kind, one machine is vented, one pump idles at weekends', () => {
    const early = fleet().filter(
      ({ spec }) => spec.plates.relief.kind === 'pilot-operated' && spec.relief.crackRatio < 0.9,
    )
    expect(early.map(({ id }) => id)).toEqual(['broach-1'])
    expect(machines.find(({ id }) => id === 'fixtures-5')?.machine.unloading.kind).toBe('vented-relief')
    const weekends = visits.filter(({ weekend }) => weekend)
    expect(weekends.length).toBeGreaterThanOrEqual(4)
    for (const { startedAt } of weekends) expect([0, 6]).toContain(new Date(`${startedAt}Z`).getUTCDay())
  })

  it('writes the first logs the same every time', () => {
    const take = () => {
      const logs = []
      for (const log of plantLogs()) {
        logs.push(log)
        if (logs.length === 2) break
      }
      return logs
    }
    const [first, second] = take()
    expect(take()).toEqual([first, second])
    expect(first.csv.split('\n').length).toBeGreaterThan(2000)
    expect(first.machineId).not.toBe(second.machineId)
  })
})
